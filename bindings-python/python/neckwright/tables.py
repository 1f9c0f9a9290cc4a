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
MM_PER_INCH = 25.4


class Table:
    """Columns of equal length, each named with its unit.

    Made by :func:`table`. A notebook shows it as it is.

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

    def _repr_html_(self) -> str:
        from .display.page import page, rows_html

        return page(rows_html(tuple(self._columns), self.rows()))


def _join(outer: str, inner: str) -> str:
    """A name for what a record holds: the unit at its end."""
    return f"{_UNIT.sub('', outer)}_{inner}" if _UNIT.search(inner) else _with_unit(outer, inner)


def _with_unit(outer: str, inner: str) -> str:
    unit = _UNIT.search(outer)
    return f"{outer}_{inner}" if unit is None else f"{outer[: unit.start()]}_{inner}_{unit[1]}"


def _is_record(value: Any) -> bool:
    return isinstance(value, tuple) and hasattr(value, "_fields")


def _flat(record: Any) -> Iterator[tuple[str, Any]]:
    for name, value in zip(record._fields, record, strict=True):
        if _is_record(value):
            yield from ((_join(name, inner), of) for inner, of in _flat(value))
        elif isinstance(value, tuple):
            # Rows within a row are a table of their own.
            if not any(isinstance(one, tuple) for one in value):
                yield from ((_with_unit(name, str(i)), one) for i, one in enumerate(value, 1))
        elif not isinstance(value, dict):
            yield name.rstrip("_"), value


def _columns(rows: Sequence[Any], unit: str) -> dict[str, tuple[Any, ...]]:
    flat = [dict(_flat(row)) for row in rows]
    names = dict.fromkeys(name for row in flat for name in row)
    for name in list(names):
        # Nothing but None here, and parts of it in another row: a record that some rows do not have.
        if all(row.get(name) is None for row in flat) and any(other.startswith(_UNIT.sub("", name) + "_") for other in names):
            del names[name]
    made = {name: tuple(row.get(name) for row in flat) for name in names}
    if unit == "mm":
        return made
    return {_inch_name(name): _inches(name, values) for name, values in made.items()}


def _is_length(name: str) -> bool:
    unit = _UNIT.search(name)
    return unit is not None and unit[1] == "mm"


def _inch_name(name: str) -> str:
    return f"{name.removesuffix('mm')}in" if _is_length(name) else name


def _inches(name: str, values: tuple[Any, ...]) -> tuple[Any, ...]:
    if not _is_length(name):
        return values
    return tuple(value / MM_PER_INCH if isinstance(value, float) else value for value in values)


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
    if isinstance(of, Copied):
        return of.numbers
    if isinstance(of, Readings):
        return of.readings()
    if _is_record(of) and type(of).__name__ == "Comparison":
        rows: Sequence[Any] = of.rows
        return rows
    rows = tuple(of) if isinstance(of, Iterable) and not _is_record(of) else (None,)
    if not all(_is_record(row) for row in rows):
        raise TypeError(f"{type(of).__name__} has no table: give a neck, a stage, an inspection or records, such as neck.frets()")
    return rows


def table(of: Any, *, unit: str = "mm") -> Table:
    """A table of something that has rows.

    Parameters
    ----------
    of : Neck, CarvingPlan, Stage, Readings, Inspection, Mending, Copied, records.Comparison or records
        Of a neck its caliper card, of a plan its stages, of a stage its checks, of an inspection its readings, of a mending what
        comes off, of a copy its numbers; of a sequence of records, such as ``neck.frets()``, a row each.
    unit : {"mm", "in"}
        The unit of lengths; areas and volumes stay in mm.

    Returns
    -------
    Table
        Columns end in their unit. Rows within rows are left out: they are tables of their own.

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
    if isinstance(of, CarvingPlan):
        return Table(_stages(of))
    return Table(_columns(_records(of), unit))


def _stages(plan: CarvingPlan) -> dict[str, tuple[Any, ...]]:
    return {
        "stage": tuple(stage.index + 1 for stage in plan.stages()),
        "name": tuple(stage.name for stage in plan.stages()),
        "tool": tuple(stage.tool for stage in plan.stages()),
        "removed_mm3": tuple(stage.removed_mm3 for stage in plan.stages()),
        "left_mm3": tuple(stage.left_mm3 for stage in plan.stages()),
    }
