"""What is read off each neck."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from difflib import get_close_matches
from typing import Any, TypeAlias

import numpy as np

from .._errors import NeckwrightError
from .._native import Neck

Reader: TypeAlias = Callable[[Neck], Any]
Read: TypeAlias = str | Sequence[str] | Mapping[str, "str | Reader"] | Reader

_WORDS = " at "


class Name:
    """A number by its name: ``mass_kg.neck_wood_kg``, ``least_rod_wall.proven``, ``thickness_mm at fret 5``."""

    def __init__(self, text: str) -> None:
        self.text = text
        name, _, station = text.partition(_WORDS)
        first, *self._fields = name.strip().split(".")
        self._first = first
        self._at: tuple[Any, ...] = ()
        if station:
            try:
                self._at = (float(station),)
            except ValueError:
                self._at = (station.strip(),)
        if first.startswith("_") or not callable(getattr(Neck, first, None)):
            known = [name for name in dir(Neck) if not name.startswith("_")]
            raise AttributeError(f"read: a neck has no {first!r}{_nearest(first, known)}")

    def __call__(self, neck: Neck) -> Any:
        try:
            value = getattr(neck, self._first)(*self._at)
        except TypeError as error:
            remedy = "leave the station out" if self._at else f"write it with its station, as '{self._first} at fret 5'"
            raise TypeError(f"read: {self.text!r}: {error}; {remedy}") from error
        for field in self._fields:
            if value is None:
                return None
            if not hasattr(value, field) or field.startswith("_"):
                fields = getattr(value, "_fields", ())
                known = ", ".join(fields) or "nothing further"
                raise AttributeError(f"read: {self.text!r} is not there; {self._first} has {known}{_nearest(field, fields)}")
            value = getattr(value, field)
            value = value() if callable(value) else value
        return value


def _nearest(name: str, known: Iterable[str]) -> str:
    near = get_close_matches(name, known, 1)
    return f"; did you mean {near[0]!r}?" if near else ""


class Reading:
    """What is read off each neck, flattened into columns."""

    def __init__(self, read: Read) -> None:
        self._whole: Reader | None = None
        self._named: list[tuple[str, Reader]] = []
        if isinstance(read, str):
            self._named.append((read, Name(read)))
        elif isinstance(read, Mapping):
            self._named.extend((name, Name(of) if isinstance(of, str) else of) for name, of in read.items())
        elif callable(read):
            self._whole = read
        else:
            self._named.extend((name, Name(name)) for name in read)

    @property
    def names(self) -> list[str]:
        """The names that were asked for."""
        return [name for name, _ in self._named]

    def check(self, neck: Neck) -> None:
        """Reads a neck by every name: one that is none is told before any work. Functions are not called."""
        for name, of in self._named:
            if not isinstance(of, Name):
                continue
            try:
                dict(_flat(name, of(neck)))
            except NeckwrightError as error:
                # A station that only other necks have is none of the caller's mistakes.
                if error.kind == "unreadable":
                    raise

    def __call__(self, neck: Neck) -> Iterator[tuple[str, Any]]:
        """Columns and values of a neck."""
        if self._whole is None:
            for name, of in self._named:
                yield from _flat(name, of(neck))
            return
        value = self._whole(neck)
        if isinstance(value, Mapping) or hasattr(value, "_fields"):
            yield from _flat("", value)
        else:
            yield from _flat("value", value)


def _flat(name: str, value: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(value, Mapping):
        parts: Any = value.items()
    elif hasattr(value, "_fields"):
        # A record's words, such as the unit of its numbers, are the same for every neck.
        parts = ((key, part) for key, part in zip(value._fields, value, strict=True) if not isinstance(part, str))
    elif value is None:
        yield name, np.nan
        return
    elif isinstance(value, (float, int, np.number, np.bool_)):
        yield name, float(value)
        return
    else:
        try:
            array = np.asarray(value)
        except ValueError:
            array = np.asarray(None)
        if array.dtype.kind not in "fiub":
            raise TypeError(f"read: {name} is {value!r:.60}, which is no number; read numbers of it, each by its name")
        yield name, array.astype(np.float64)
        return
    for key, part in parts:
        yield from _flat(f"{name}.{key}" if name else str(key), part)
