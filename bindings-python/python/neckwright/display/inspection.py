"""An inspection, shown: what is left to take, with signs and words."""

from __future__ import annotations

from .._native import Inspection
from ..records import Deviation, Row
from .page import heading, inches, items, page, rows_html, signed
from .sheet import box

NAMES = ("reading", "from nut, mm", "measured", "over the finished neck, mm", "in", "±, mm", "that is")


def svg(inspection: Inspection) -> str | None:
    """The map of what is left to take, at full size."""
    sheet = inspection.sheet()
    return None if sheet is None else sheet.to_svg()


def words(mm: float) -> str:
    """A sign in words."""
    return "still on" if mm > 0 else "below the neck" if mm < 0 else "level"


def _measured(row: Row) -> str:
    parts = [row.measured.quantity, row.measured.side, row.place.part if row.measured.quantity == "point" else None]
    return ", ".join(part.replace("_", " ") for part in parts if part)


def _off(off: Deviation | None) -> tuple[str, str, float | None, str]:
    if off is None:
        return ("–", "–", None, "not on this neck")
    return (signed(off.mm), f"{float(inches(off.mm)):+.3f}", 2 * off.uncertainty_mm, words(round(off.mm, 2)))


def html(inspection: Inspection) -> str:
    """The sentences first, then the map, then every reading."""
    rows = ((row.reading + 1, row.x_mm, _measured(row), *_off(row.finished)) for row in inspection.rows)
    return page(
        heading("Inspection"),
        items(inspection.sentences),
        box(inspection.sheet()),
        heading("Readings (± is twice the standard uncertainty)", 4),
        rows_html(NAMES, rows),
    )
