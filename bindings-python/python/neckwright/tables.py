"""Tables of results: columns that go to pandas or polars, neither of which is needed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from ._native import CarvingPlan, Copied, Inspection, Mending, Neck, Readings, Stage

if TYPE_CHECKING:
    import pandas
    import polars

_UNIT = re.compile(r"_?(per_mm|mm[234]?|deg|kg|cents|um)$")
# NIST Handbook 44 (2024), appendix C: an inch is 25.4 mm exactly.
_MM_PER_INCH = 25.4
# A number of a document.
_NUMBER = re.compile(r"-?[0-9.]+(e-?[0-9]+)?")
# Which power of a length each unit is, and how the records that name one beside their numbers write it.
_POWERS = {"mm": 1, "mm2": 2, "mm3": 3, "mm4": 4, "per_mm": -1, "1/mm": -1}
_BESIDE = frozenset(("value", "uncertainty", "by", "proven", "lowest", "highest"))
# Documents have no units in their names.
_IN_DOCUMENTS = {"Reading": frozenset(("value", "across", "uncertainty"))}
_STEP = re.compile(r"([^.\[\]]+)|\[(\d+)\]")


def inches(value: float, power: int = 1) -> float:
    """A length in inches, or a power of one: mm² with 2, 1/mm with −1."""
    return value / _MM_PER_INCH**power


class Table:
    """Columns of equal length, each named with its unit.

    Made by :func:`table`. A notebook shows it as it is. It never changes: tables of equal columns are equal, and pickle.

    Notes
    -----
    Python's own; the rows are records of the library.
    """

    __slots__ = ("_columns",)

    def __init__(self, columns: dict[str, tuple[Any, ...]]) -> None:
        self._columns = columns

    @property
    def columns(self) -> dict[str, tuple[Any, ...]]:
        """The columns by their names, in order."""
        return dict(self._columns)

    def to_pandas(self) -> pandas.DataFrame:
        """The table as a pandas data frame.

        Returns
        -------
        pandas.DataFrame

        Raises
        ------
        ImportError
            pandas is not installed.
        """
        try:
            import pandas
        except ImportError as error:
            raise ImportError("pandas is not installed: pip install pandas") from error
        return pandas.DataFrame({name: list(values) for name, values in self._columns.items()})

    def to_polars(self) -> polars.DataFrame:
        """The table as a polars data frame.

        Returns
        -------
        polars.DataFrame

        Raises
        ------
        ImportError
            polars is not installed.
        """
        try:
            import polars
        except ImportError as error:
            raise ImportError("polars is not installed: pip install polars") from error
        return polars.DataFrame({name: list(values) for name, values in self._columns.items()}, strict=False)

    def rows(self) -> Iterator[tuple[Any, ...]]:
        """The rows, each a tuple of the columns' values."""
        return zip(*self._columns.values(), strict=True)

    def __len__(self) -> int:
        return len(next(iter(self._columns.values()), ()))

    def __repr__(self) -> str:
        return f"<Table: {len(self)} rows, {len(self._columns)} columns>"

    def __eq__(self, other: object) -> bool:
        return self._told() == other._told() if isinstance(other, Table) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._told())

    def _told(self) -> tuple[tuple[str, tuple[Any, ...]], ...]:
        # What is not a number is not even equal to itself.
        return tuple((name, tuple("nan" if value != value else value for value in values)) for name, values in self._columns.items())

    def _repr_html_(self) -> str:
        from .display.page import page, table_html

        return page(table_html(self))


def _join(outer: str, inner: str) -> str:
    """A name for what a record holds: the unit at its end."""
    return f"{_UNIT.sub('', outer)}_{inner}" if _UNIT.search(inner) else _with_unit(outer, inner)


def _with_unit(outer: str, inner: str) -> str:
    unit = _UNIT.search(outer)
    return f"{outer}_{inner}" if unit is None else f"{outer[: unit.start()]}_{inner}_{unit[1]}"


def _is_record(value: Any) -> bool:
    return isinstance(value, tuple) and hasattr(value, "_fields")


def _flat(record: Any, unit: str) -> Iterator[tuple[str, Any]]:
    """The numbers and words of a record by the names of columns; what has its unit beside it in that unit, all else in mm."""
    power = _POWERS.get(getattr(record, "unit", "")) if unit == "in" else None
    in_document = _IN_DOCUMENTS.get(type(record).__name__, ())
    for name, value in zip(record._fields, record, strict=True):
        if name in in_document:
            name = f"{name}_mm"
        if _is_record(value):
            yield from ((_join(name, inner), of) for inner, of in _flat(value, unit))
        elif isinstance(value, tuple):
            # Rows within a row are a table of their own.
            if not any(isinstance(one, tuple) for one in value):
                yield from ((_with_unit(name, str(i)), one) for i, one in enumerate(value, 1))
        elif name == "at":
            # A station in words, or a length.
            yield "at", value if isinstance(value, str) else None
            yield "at_mm", None if isinstance(value, str) else value
        elif power is not None and name in _BESIDE:
            yield name, inches(value, power) if isinstance(value, float) else value
        elif power is not None and name == "default" and _NUMBER.fullmatch(value):
            yield name, f"{inches(float(value), power):.6f}"
        elif power is not None and name == "unit":
            yield name, value.replace("mm", "in")
        elif not isinstance(value, dict):
            yield name.rstrip("_"), value


def _in(name: str, value: Any, unit: str) -> tuple[str, Any]:
    """A column's name and value in a unit."""
    of = _UNIT.search(name)
    power = None if of is None else _POWERS.get(of[1])
    if unit == "mm" or of is None or power is None:
        return name, value
    return f"{name[: of.start(1)]}{of[1].replace('mm', 'in')}", inches(value, power) if isinstance(value, float) else value


def _columns(rows: Iterable[Iterable[tuple[str, Any]]], unit: str) -> dict[str, tuple[Any, ...]]:
    flat = [dict(_in(name, value, unit) for name, value in row) for row in rows]
    names = dict.fromkeys(name for row in flat for name in row)
    for name in list(names):
        if any(row.get(name) is not None for row in flat):
            continue
        # Nothing but None here, and parts of it in another row: a record that some rows do not have.
        parted = any(other.startswith(_UNIT.sub("", name) + "_") for other in names if other != name)
        if parted or name in ("at_mm", "at_in"):
            del names[name]
    return {name: tuple(row.get(name) for row in flat) for name in names}


def _records(of: Any) -> Sequence[Any]:
    if isinstance(of, Neck):
        return of.caliper_card()
    if isinstance(of, Stage):
        return of.checks
    if isinstance(of, Inspection):
        return of.rows
    if isinstance(of, Mending):
        result: Any = of.result
        return getattr(result, "rows", result)  # type: ignore[no-any-return]
    if isinstance(of, Readings):
        return of.readings()
    if _is_record(of) and type(of).__name__ == "Comparison":
        rows: Sequence[Any] = of.rows
        return rows
    rows = tuple(of) if isinstance(of, Iterable) and not _is_record(of) else (None,)
    if not all(_is_record(row) for row in rows):
        raise TypeError(f"{type(of).__name__} has no table: give a neck, a stage, an inspection or records, such as neck.frets()")
    return rows


def _copied(copied: Copied, unit: str) -> Iterator[list[tuple[str, Any]]]:
    """Its numbers, each with the station of the entry that it is of."""
    neck = copied.neck()
    for number in copied.numbers:
        at = _station(copied.specification, number.path)
        x = None if at is None else neck.section(at).x_mm()
        (path, value), *rest = _flat(number, unit)
        yield [(path, value), ("fret", None if x is None else fret_of(neck, x)), ("x_mm", x), *rest]


def _station(document: dict[str, Any], path: str) -> float | str | None:
    """The station of the entry of a list in which a field lies, as its document has it."""
    of: Any = document
    at = None
    for key, number in _STEP.findall(path):
        of = of[int(number)] if number else of.get(key)
        if not isinstance(of, (dict, list)):
            break
        at = of.get("at", at) if isinstance(of, dict) else at
    return at


def fret_of(neck: Neck, x_mm: float) -> int | None:
    """The fret whose line crosses the centreline at a station, 0 for the nut; ``None`` between frets."""
    if not 0 <= x_mm <= neck.layout().board().end_mm:
        return None
    number = float(neck.fret_at(x_mm))
    # Stations are good to 1e-11 mm; nobody marks a fret to a ten-thousandth of one.
    return round(number) if abs(number - round(number)) < 1e-4 else None


def table(of: Any, *, unit: str = "mm") -> Table:
    """A table of something that has rows.

    Parameters
    ----------
    of : Neck, CarvingPlan, Stage, Readings, Inspection, Mending, Copied, records.Comparison or records
        Of a neck its caliper card, of a plan its stages, of a stage its checks, of an inspection its readings, of a mending what
        comes off, of a copy its numbers with the stations they are of; of a sequence of records, such as ``neck.frets()``, a row each.
    unit : {"mm", "in"}
        The unit of lengths, and of areas, volumes and curvatures: names of columns end in it.

    Returns
    -------
    Table
        Columns end in their unit; numbers of a record that names their unit have it in the column ``unit``. Rows within rows are
        left out: they are tables of their own. A station given in words stands in ``at``, one given as a length in ``at_mm``.

    Raises
    ------
    TypeError
        Something without rows.
    ValueError
        Another unit.

    Examples
    --------
    >>> from neckwright import Neck, table
    >>> table(Neck()).columns["fret"][:3]
    (0, 1, 2)

    Notes
    -----
    Python's own; the rows are records of the library.
    """
    if unit not in ("mm", "in"):
        raise ValueError(f"unit is {unit!r}: give 'mm' or 'in'")
    rows: Iterable[Iterable[tuple[str, Any]]]
    if isinstance(of, CarvingPlan):
        rows = map(_stage, of.stages())
    elif isinstance(of, Copied):
        rows = _copied(of, unit)
    else:
        rows = (_flat(row, unit) for row in _records(of))
    return Table(_columns(rows, unit))


def _stage(stage: Stage) -> Iterator[tuple[str, Any]]:
    yield "stage", stage.index + 1
    yield from ((name, getattr(stage, name)) for name in ("name", "tool", "removed_mm3", "left_mm3"))
