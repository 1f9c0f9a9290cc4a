"""The outcome of a sweep."""

from __future__ import annotations

import json
import pickle
import zlib
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .._errors import Fault
from .._native import Neck
from .variations import Product, Row, column_of
from .work import Done, fitting, neck_of


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

    Attributes
    ----------
    varied : dict of str to ndarray
        What stood at each varied path, of shape ``(rows,)``: float64, or objects where not all are numbers.
    read : dict of str to ndarray
        What was read, float64 of shape ``(rows,)``, or ``(rows, n)`` of readings that are arrays; NaN where the row has faults
        or the neck has nothing of the sort.
    code : ndarray of int32
        The code of each row's first fault, of shape ``(rows,)``; 0 where it has none.
    faults : mapping of int to tuple of Fault
        All faults of each row that has some, by the row's number from 0.

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
        self.code: NDArray[np.int32] = (
            np.concatenate([part.code for part in done]) if done else np.zeros(0, dtype=np.int32)
        )
        self.varied = source.columns() if isinstance(source, Product) else _columns(source)
        self.read = _joined(done)
        for name in names:
            # Of a record that no row has nobody knows the fields.
            if not any(column == name or column.startswith(f"{name}.") for column in self.read):
                self.read[name] = np.full(self.rows, np.nan)
        parts, start = [], 0
        for part in done:
            if part.faults:
                parts.append((start + np.flatnonzero(part.code), part.faults))
            start += part.size
        self.faults = Faults(parts)
        for column in (self.code, *self.varied.values(), *self.read.values()):
            column.flags.writeable = False

    @property
    def rows(self) -> int:
        """How many specifications there were."""
        return len(self.code)

    def __getitem__(self, name: str) -> NDArray[Any]:
        return self.varied[name] if name in self.varied else self.read[name]

    def __iter__(self) -> Iterator[str]:
        yield from self.varied
        yield from (name for name in self.read if name not in self.varied)

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __repr__(self) -> str:
        return f"<Swept: {self.rows} necks, {len(self.faults)} of them refused; {', '.join(self)}>"

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
                    table[f"{name}[{', '.join(map(str, place))}]"] = column[(slice(None), *place)]
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


def _columns(rows: list[Row]) -> dict[str, NDArray[Any]]:
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
