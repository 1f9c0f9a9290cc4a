"""The part of a sweep that one process does at a time."""

from __future__ import annotations

import json
import pickle
import time
import zlib
from collections.abc import Iterable
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from .._errors import Fault, NeckwrightError
from .._native import Neck
from .path import Path, Put, close, undo
from .reading import Read, Reading
from .variations import Product, Row


class Task(NamedTuple):
    """What is the same for all rows."""

    base: str
    read: Read
    product: Product | None

    def packed(self) -> bytes:
        """As bytes, by cloudpickle where it is there: that takes functions of a notebook and lambdas too."""
        try:
            import cloudpickle
        except ImportError:
            cloudpickle = pickle
        try:
            packed: bytes = cloudpickle.dumps(tuple(self))
        except Exception as error:
            reason = "what is read can't be sent to another process"
            remedy = "give a function that stands at the top of a module, or install cloudpickle"
            raise TypeError(f"{reason} ({error}); {remedy}") from error
        return packed


class Done(NamedTuple):
    """What came of some rows."""

    size: int
    columns: dict[str, NDArray[np.float64]]
    code: NDArray[np.int32]
    faults: bytes
    seconds: float


def neck_of(document: dict[str, Any], row: Row) -> Neck:
    """The neck of a row; the document is left as it was."""
    done: list[Put] = []
    try:
        for path, value in row.items():
            done.append(_path(path).put(document, value))
        close(done)
        return Neck(document)
    finally:
        undo(done)


def run(packed: bytes | Task, start: int, rows: int | list[Row]) -> Done:
    """Makes and reads the necks of some rows: of a product by their count, else as they are given."""
    task, reading = _unpacked(packed) if isinstance(packed, bytes) else (packed, Reading(packed.read))
    product = task.product
    # Each call its own, as threads may share the process.
    document = json.loads(task.base)
    begun = time.perf_counter()
    given: Iterable[Row]
    if isinstance(rows, int):
        assert product is not None
        size, given = rows, product.rows(start, start + rows)
    else:
        size, given = len(rows), rows
    columns: dict[str, NDArray[np.float64]] = {}
    code = np.zeros(size, dtype=np.int32)
    faults: list[tuple[int, tuple[Fault, ...]]] = []
    for i, row in enumerate(given):
        try:
            for name, value in reading(neck_of(document, row)):
                column = columns.get(name)
                if column is None:
                    column = columns[name] = np.full((size, *np.shape(value)), np.nan)
                elif column.shape[1:] != np.shape(value):
                    column = columns[name] = fitting(column, value, name)
                column[i] = value
        except NeckwrightError as error:
            code[i] = error.code
            faults.append((start + i, error.faults))
            for column in columns.values():
                column[i] = np.nan
        except Exception as error:
            told = ", ".join(f"{path} = {value}" for path, value in row.items())
            raise RuntimeError(f"row {start + i} ({told}): {type(error).__name__}: {error}") from error
    blob = zlib.compress(pickle.dumps(faults), 1) if faults else b""
    return Done(size, columns, code, blob, time.perf_counter() - begun)


def fitting(column: NDArray[np.float64], value: Any, name: str) -> NDArray[np.float64]:
    """The column for a value of another shape than its rows have, where either is only a NaN for nothing."""
    shape = np.shape(value)
    if shape == () and np.isnan(value):
        return column
    if column.ndim == 1 and np.isnan(column).all():
        return np.full((len(column), *shape), np.nan)
    raise ValueError(f"read: {name} has the shape {shape} here and {column.shape[1:]} in other rows")


@lru_cache(maxsize=4)
def _unpacked(packed: bytes) -> tuple[Task, Reading]:
    task = Task(*pickle.loads(packed))
    return task, Reading(task.read)


@lru_cache(maxsize=1024)
def _path(text: str) -> Path:
    return Path(text)
