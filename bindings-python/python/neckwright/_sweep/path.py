"""Paths of fields in a document, such as ``shaft.thickness[0].thickness``."""

from __future__ import annotations

import re
from typing import Any, TypeAlias

from .._errors import NeckwrightError, refused

_STEP = re.compile(r"(?:^|\.)([^.\[\]]+)|\[(\d+)\]")
_ABSENT = object()

# Where something was put, at which key or number, and what was there.
Put: TypeAlias = tuple[Any, Any, Any]


class Path:
    """Where a field lies in a document."""

    __slots__ = ("steps", "text")

    def __init__(self, text: str) -> None:
        self.text = text
        self.steps: list[str | int] = []
        end = 0
        for step in _STEP.finditer(text):
            if step.start() != end:
                break
            key, index = step.groups()
            self.steps.append(int(index) if index is not None else key)
            end = step.end()
        if not self.steps or end != len(text) or not isinstance(self.steps[0], str):
            remedy = "write it as nut.width or shaft.thickness[0].thickness"
            raise refused("unreadable", "variations", repr(text), "not the path of a field", remedy)

    def put(self, document: dict[str, Any], value: Any) -> Put:
        """Puts a value there, ``None`` takes away what is there; tells how to undo it.

        An entry of a list that is taken away leaves its place, so that others keep their numbers: :func:`close` closes it.
        """
        at: Any = document
        last = len(self.steps) - 1
        for i, step in enumerate(self.steps):
            if isinstance(step, str):
                if not isinstance(at, dict):
                    raise self._absent(i)
                if i == last:
                    before = at.get(step, _ABSENT)
                    if value is None:
                        at.pop(step, None)
                    else:
                        at[step] = value
                    return at, step, before
                if at.get(step) is None:
                    # A group that the document leaves to its defaults; of a list nobody knows the entries.
                    before = at.get(step, _ABSENT)
                    at[step] = self._made(i + 1, value)
                    return at, step, before
            else:
                if not isinstance(at, list) or step >= len(at):
                    raise self._absent(i)
                if i == last:
                    before = at[step]
                    at[step] = value
                    return at, step, before
            at = at[step]
        raise AssertionError

    def _made(self, begin: int, value: Any) -> Any:
        """Groups around a value, from a step on."""
        for i in range(len(self.steps) - 1, begin - 1, -1):
            if isinstance(self.steps[i], int):
                raise self._absent(i)
            value = {} if value is None else {self.steps[i]: value}
        return value

    def leads_through(self, path: str) -> bool:
        """Whether a field of this path, as the library writes it, holds the field of this one."""
        return len(self.text) > len(path) and self.text.startswith(path) and self.text[len(path)] in ".["

    def _absent(self, steps: int) -> NeckwrightError:
        reason = f"the base has no {self._shown(steps + 1)}"
        return refused("missing", self.text, "", reason, "give it in the base: a neck's `specification()` has every default")

    def _shown(self, steps: int) -> str:
        text = ""
        for step in self.steps[:steps]:
            text += f"[{step}]" if isinstance(step, int) else f".{step}"
        return text[1:]


def close(done: list[Put]) -> None:
    """Closes the places of the entries that were taken out of lists, which is noted as done."""
    gaps = {id(at): at for at, step, _ in done if isinstance(step, int) and at[step] is None}
    for at in gaps.values():
        done.append((at, slice(None), list(at)))
        at[:] = [entry for entry in at if entry is not None]


def undo(done: list[Put]) -> None:
    """Puts back what was there, the last first."""
    for at, step, before in reversed(done):
        if before is _ABSENT:
            at.pop(step, None)
        else:
            at[step] = before
