"""An inspection, shown: what is left to take, with signs and words."""

from __future__ import annotations

from .._native import Inspection
from ..records import Deviation, Row
from .page import fret_name, heading, inches, items, page, rows_html, signed
from .sheet import box

NAMES = ("reading", "at", "from nut, mm", "in", "measured", "over the finished neck, mm", "in", "±, mm", "in", "that is")


def svg(inspection: Inspection) -> str | None:
    """The map of what is left to take, at full size."""
    sheet = inspection.sheet()
    return None if sheet is None else sheet.to_svg()


def words(mm: float, unsure_mm: float) -> str:
    """A sign in words; none where the reading is no surer than that."""
    if abs(mm) <= unsure_mm:
        return "no difference that it can tell"
    return "still on" if mm > 0 else "below the neck"


def _measured(row: Row) -> str:
    parts = [row.measured.quantity, row.measured.side, row.place.part if row.measured.quantity == "point" else None]
    return ", ".join(part.replace("_", " ") for part in parts if part)


def _off(off: Deviation | None) -> tuple[str, str, float | None, str, str]:
    if off is None:
        return ("–", "–", None, "–", "not on this neck")
    unsure = 2 * off.uncertainty_mm
    return (signed(off.mm), f"{float(inches(off.mm)):+.3f}", unsure, inches(unsure), words(off.mm, unsure))


def html(inspection: Inspection) -> str:
    """The sentences first, then the map, then every reading."""
    neck = inspection.neck
    rows = (
        (row.reading + 1, fret_name(neck, row.x_mm), row.x_mm, inches(row.x_mm), _measured(row), *_off(row.finished))
        for row in inspection.rows
    )
    return page(
        heading("Inspection"),
        items(inspection.sentences),
        box(inspection.sheet()),
        heading("Readings (± is twice the standard uncertainty)", 4),
        rows_html(NAMES, rows),
    )
