"""Who does the work of a sweep."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from typing import Any

from .work import Done, Task, run

Call = tuple[int, "int | list[dict[str, Any]]"]


class Here:
    """This process, one part after the other."""

    def __init__(self, task: Task) -> None:
        self._task = task

    def run(self, calls: Iterator[Call]) -> Iterator[Done]:
        """Each part's outcome, in order."""
        for call in calls:
            yield run(self._task, *call)


class Elsewhere:
    """An executor: some parts are under way at a time, so that rows and results never pile up."""

    def __init__(self, packed: bytes, submit: Callable[..., Any], ahead: int) -> None:
        self._packed, self._submit, self._ahead = packed, submit, ahead

    def run(self, calls: Iterator[Call]) -> Iterator[Done]:
        """Each part's outcome, in order."""
        under_way: deque[Any] = deque()
        try:
            for call in calls:
                under_way.append(self._submit(run, self._packed, *call))
                if len(under_way) >= self._ahead:
                    yield under_way.popleft().result()
            while under_way:
                yield under_way.popleft().result()
        finally:
            for future in under_way:
                future.cancel()


def count_of(executor: Any) -> int:
    """How many work at the same time, as far as it says."""
    if hasattr(executor, "ncores"):
        return int(sum(executor.ncores().values())) or 1
    return int(getattr(executor, "_max_workers", None) or 4)
