"""Which specifications a sweep goes through."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence, Sized
from itertools import islice
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from .._errors import Fault, NeckwrightError, refused
from .._native import Neck
from .path import Path, Put, undo

Row: TypeAlias = dict[str, Any]
Grid: TypeAlias = Mapping[Any, Iterable[Any]]


class Product:
    """All combinations of the values of some axes; the last axis changes fastest."""

    def __init__(self, axes: Grid) -> None:
        self.axes: list[tuple[tuple[str, ...], list[Any]]] = []
        for key, values in axes.items():
            paths = (key,) if isinstance(key, str) else tuple(key)
            if isinstance(values, (str, bytes)) or not isinstance(values, Iterable):
                raise TypeError(f"{key}: the values of a variation are a list, a range or an array, not one {type(values).__name__}")
            all_values = [plain(value) for value in values]
            if not all_values:
                raise refused("missing", f"variations[{key!r}]", "", "no values", "give one at least")
            for value in all_values if len(paths) > 1 else ():
                if not isinstance(value, (list, tuple)) or len(value) != len(paths):
                    reason = f"{len(paths)} paths that vary together need as many values"
                    raise refused("wrong_type", f"variations[{key!r}]", repr(value), reason, "")
            self.axes.append((paths, all_values))
        names = [path for paths, _ in self.axes for path in paths]
        for name in names:
            if names.count(name) > 1:
                raise refused("conflict", f"variations[{name!r}]", "", "the path is varied twice", "vary it once")
        self._paths = [Path(name) for name in names]
        self.size = math.prod(len(values) for _, values in self.axes)

    def check(self, base: str) -> None:
        """Refuses paths that lead nowhere in a document."""
        for path in self._paths:
            path.put(json.loads(base), {})
        _refuse_misspelt(self._paths, base)

    def rows(self, start: int, stop: int) -> Iterator[Row]:
        """The rows of these numbers."""
        for number in range(start, stop):
            yield self.row(number)

    def row(self, number: int) -> Row:
        """What stands at each path in a row."""
        picked = []
        for paths, values in reversed(self.axes):
            number, place = divmod(number, len(values))
            picked.append((paths, values[place]))
        row: Row = {}
        for paths, value in reversed(picked):
            row.update(((paths[0], value),) if len(paths) == 1 else zip(paths, value, strict=True))
        return row

    def columns(self) -> dict[str, NDArray[Any]]:
        """What stands at each path, over all rows."""
        columns = {}
        inner = self.size
        for paths, values in self.axes:
            inner //= len(values)
            outer = self.size // (inner * len(values))
            for i, path in enumerate(paths):
                column = column_of(values if len(paths) == 1 else [value[i] for value in values])
                columns[path] = np.tile(np.repeat(column, inner), outer)
        return columns


class Listed:
    """Rows that are given one by one; they are asked for only as the sweep comes to them."""

    def __init__(self, rows: Iterable[Mapping[str, Any]]) -> None:
        self.size = len(rows) if isinstance(rows, Sized) else None
        self._ahead = rows if isinstance(rows, Sequence) else ()
        self._rows = iter(rows)

    def check(self, base: str) -> None:
        """Refuses misspelt paths of rows that are all there already; where rows come by and by they are faults of theirs."""
        _refuse_misspelt([Path(text) for text in dict.fromkeys(path for row in self._ahead for path in row)], base)

    def take(self, count: int) -> list[Row]:
        """The next rows; fewer at the end."""
        return [{path: plain(value) for path, value in row.items()} for row in islice(self._rows, count)]


def _refuse_misspelt(paths: Iterable[Path], base: str) -> None:
    """Refuses paths of fields that no document has, whatever stands there; the library knows what was meant."""
    document = json.loads(base)
    wrong: list[Fault] = []
    for path in paths:
        done: list[Put] = []
        try:
            done.append(path.put(document, {}))
            Neck(document)
        except NeckwrightError as error:
            wrong += (fault for fault in error.faults if fault.kind == "unknown_key" or path.leads_through(fault.path))
        finally:
            undo(done)
    if wrong:
        raise NeckwrightError("\n".join(fault.message for fault in wrong), tuple(wrong))


def plain(value: Any) -> Any:
    """Numbers of numpy as Python's own, which a document takes."""
    return value.tolist() if isinstance(value, (np.generic, np.ndarray)) else value


def column_of(values: list[Any]) -> NDArray[Any]:
    """Numbers as float64, with NaN for none; anything else as objects."""
    if all(value is None or (isinstance(value, (int, float)) and not isinstance(value, bool)) for value in values):
        return np.array(values, dtype=np.float64)
    column = np.empty(len(values), dtype=object)
    column[:] = values
    return column
