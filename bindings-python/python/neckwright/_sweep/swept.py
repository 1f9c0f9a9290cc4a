"""The outcome of a sweep."""

from __future__ import annotations

import json
import pickle
import zlib
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .._errors import Fault
from .._native import Neck
from .variations import Product, Row, column_of
from .work import Done, fitting, neck_of


# Columns that a line names.
_SHOWN = 6


class Faults(Mapping[int, tuple[Fault, ...]]):
    """All the faults of a sweep by the numbers of their rows, kept packed until they are asked for."""

    def __init__(self, parts: list[tuple[NDArray[np.int64], bytes]]) -> None:
        self._parts = parts
        self._open: tuple[int, dict[int, tuple[Fault, ...]]] = (-1, {})

    def __getitem__(self, row: int) -> tuple[Fault, ...]:
        for i, (rows, _) in enumerate(self._parts):
            if rows[0] <= row <= rows[-1]:
                return self._part(i)[row]
        raise KeyError(row)

    def __iter__(self) -> Iterator[int]:
        for rows, _ in self._parts:
            yield from rows.tolist()

    def __len__(self) -> int:
        return sum(len(rows) for rows, _ in self._parts)

    def __repr__(self) -> str:
        return f"<Faults of {len(self)} rows>"

    def _part(self, i: int) -> dict[int, tuple[Fault, ...]]:
        if self._open[0] != i:
            self._open = (i, dict(pickle.loads(zlib.decompress(self._parts[i][1]))))
        return self._open[1]


class Swept(Mapping[str, NDArray[Any]]):
    """What a sweep found: columns of numpy arrays, a row for each specification, in the order of the variations.

    As a mapping it has the varied fields first, by their paths, then what was read, by its name. Made by :func:`sweep`.

    It never changes. Two are equal where base, variations, columns and faults are, bit for bit; a pickle has all of it.

    Examples
    --------
    >>> from neckwright import Neck, sweep
    >>> swept = sweep(Neck(), {"nut.width": [42, 430]}, "width_mm at 0")
    >>> swept["width_mm at 0"]
    array([42., nan])
    >>> swept.faults[1][0].path
    'nut.width'
    """

    def __init__(self, base: str, source: Product | list[Row], names: list[str], done: list[Done]) -> None:
        self._base, self._source = base, source
        self._code: NDArray[np.int32] = (
            np.concatenate([part.code for part in done]) if done else np.zeros(0, dtype=np.int32)
        )
        self._varied = source.columns() if isinstance(source, Product) else _varied(source)
        self._read = _joined(done)
        for name in names:
            # Of a record that no row has nobody knows the fields.
            if not any(column == name or column.startswith(f"{name}.") for column in self._read):
                self._read[name] = np.full(self.rows, np.nan)
        parts, start = [], 0
        for part in done:
            if part.faults:
                parts.append((start + np.flatnonzero(part.code), part.faults))
            start += part.size
        self._faults = Faults(parts)
        self._freeze()

    def _freeze(self) -> None:
        for column in (self._code, *self._varied.values(), *self._read.values()):
            column.flags.writeable = False

    @property
    def rows(self) -> int:
        """How many specifications there were."""
        return len(self._code)

    @property
    def varied(self) -> Mapping[str, NDArray[Any]]:
        """What stood at each varied path, of shape ``(rows,)``: float64, or objects where not all are numbers."""
        return MappingProxyType(self._varied)

    @property
    def read(self) -> Mapping[str, NDArray[np.float64]]:
        """What was read, float64 of shape ``(rows,)``, or ``(rows, n)`` of readings that are arrays.

        NaN where the row has faults or the neck has nothing of the sort.
        """
        return MappingProxyType(self._read)

    @property
    def code(self) -> NDArray[np.int32]:
        """The code of each row's first fault, of shape ``(rows,)``; 0 where it has none."""
        return self._code

    @property
    def faults(self) -> Mapping[int, tuple[Fault, ...]]:
        """All faults of each row that has some, by the row's number from 0."""
        return self._faults

    def __getitem__(self, name: str) -> NDArray[Any]:
        return self._varied[name] if name in self._varied else self._read[name]

    def __iter__(self) -> Iterator[str]:
        yield from self._varied
        yield from (name for name in self._read if name not in self._varied)

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Swept):
            return NotImplemented
        kept = self._base == other._base and list(self._varied) == list(other._varied) and list(self._read) == list(other._read)
        return kept and all(map(_same, self._columns(), other._columns())) and self._faults == other._faults

    def __hash__(self) -> int:
        # Columns of objects may have lists in them; the rest tells enough.
        values = (column.tobytes() for column in self._columns() if column.dtype != object)
        return hash((self._base, *self, *values))

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.__dict__.update(state)
        self._freeze()

    def __repr__(self) -> str:
        names = list(self)
        told = ", ".join(names[:_SHOWN]) + (f" and {len(names) - _SHOWN} more columns" if len(names) > _SHOWN else "")
        return f"<Swept: {self.rows} necks, {len(self._faults)} of them refused; {told}>"

    def _columns(self) -> list[NDArray[Any]]:
        return [self._code, *self._varied.values(), *self._read.values()]

    def row(self, number: int) -> dict[str, Any]:
        """What stood at the varied paths in a row, from 0.

        Parameters
        ----------
        number : int
            The row.

        Returns
        -------
        dict
        """
        if not 0 <= number < self.rows:
            raise IndexError(f"row = {number}: there are {self.rows}, from 0")
        return self._source.row(number) if isinstance(self._source, Product) else dict(self._source[number])

    def neck(self, number: int) -> Neck:
        """The neck of a row, made again.

        Parameters
        ----------
        number : int
            The row, from 0.

        Returns
        -------
        Neck

        Raises
        ------
        NeckwrightError
            The row's faults.
        """
        return neck_of(json.loads(self._base), self.row(number))

    def table(self) -> dict[str, Any]:
        """One column for each number, and the first fault of each row: what a data frame is made of.

        Returns
        -------
        dict of str to ndarray or list
            Readings that are arrays as ``name[0]``, ``name[1]`` and so on; then ``code``, ``path`` and ``message``, which of rows
            without faults are 0 and empty.
        """
        table: dict[str, Any] = {}
        for name, column in self.items():
            if column.ndim == 1:
                table[name] = column
            else:
                for place in np.ndindex(column.shape[1:]):
                    at = (slice(None), *place)
                    table[f"{name}[{', '.join(map(str, place))}]"] = column[at]
        path, message = [""] * self.rows, [""] * self.rows
        for number, faults in self.faults.items():
            path[number], message[number] = faults[0].path, str(faults[0])
        return table | {"code": self.code, "path": path, "message": message}

    def to_pandas(self) -> Any:
        """:meth:`table` as a pandas data frame.

        Returns
        -------
        pandas.DataFrame

        Raises
        ------
        ImportError
            pandas is not installed.
        """
        import pandas

        return pandas.DataFrame(self.table())

    def to_polars(self) -> Any:
        """:meth:`table` as a polars data frame.

        Returns
        -------
        polars.DataFrame

        Raises
        ------
        ImportError
            polars is not installed.
        """
        import polars

        table = {name: c.tolist() if isinstance(c, np.ndarray) and c.dtype == object else c for name, c in self.table().items()}
        return polars.DataFrame(table, strict=False)


def _same(a: NDArray[Any], b: NDArray[Any]) -> bool:
    """Whether two columns have the same bits; of objects, whether each is equal."""
    if a.dtype != b.dtype or a.shape != b.shape:
        return False
    return a.tolist() == b.tolist() if a.dtype == object else a.tobytes() == b.tobytes()


def _varied(rows: list[Row]) -> dict[str, NDArray[Any]]:
    paths = dict.fromkeys(path for row in rows for path in row)
    return {path: column_of([row.get(path) for row in rows]) for path in paths}


def _joined(done: list[Done]) -> dict[str, NDArray[np.float64]]:
    joined: dict[str, NDArray[np.float64]] = {}
    for name in dict.fromkeys(name for part in done for name in part.columns):
        shapes = {part.columns[name].shape[1:] for part in done if name in part.columns}
        column = np.full((sum(part.size for part in done), *max(shapes, key=len)), np.nan)
        start = 0
        for part in done:
            if name in part.columns:
                # Taken out, so that a column is not there twice for longer than it has to.
                taken = part.columns.pop(name)
                if taken.shape[1:] != column.shape[1:]:
                    taken = fitting(taken, column[0], name)
                column[start : start + part.size] = taken
            start += part.size
        joined[name] = column
    return joined
