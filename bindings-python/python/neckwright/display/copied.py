"""A copied neck, shown: every number with its uncertainty, and what to measure next."""

from .._native import Copied
from ..tables import table
from .page import fret_name, heading, inches, items, page, paragraph, rows_html

NAMES = ("number", "at", "from nut, mm", "in", "value", "±", "unit", "value, in", "±, in", "readings")


def html(copied: Copied) -> str:
    """The numbers and the suggestions."""
    neck = copied.neck()
    rows = []
    for one, x in zip(copied.numbers, table(copied).columns["x_mm"], strict=True):
        unsure = 2 * one.uncertainty
        beside = (inches(one.value), inches(unsure)) if one.unit == "mm" else ("–", "–")
        at = "–" if x is None else fret_name(neck, x)
        rows.append((one.path, at, x, inches(x), one.value, f"{unsure:.2f}", one.unit, *beside, one.readings))
    return page(
        heading("Copied neck"),
        paragraph("± is twice the standard uncertainty."),
        rows_html(NAMES, rows),
        heading("To know it better", 4),
        items(one.sentence for one in copied.sharpest_next(3)),
    )
