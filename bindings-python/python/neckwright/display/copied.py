"""A copied neck, shown: every number with its uncertainty, and what to measure next."""

from .._native import Copied
from .page import heading, items, page, paragraph, rows_html


def html(copied: Copied) -> str:
    """The numbers and the suggestions."""
    rows = ((one.path, one.value, f"{2 * one.uncertainty:.2f}", one.unit, one.readings) for one in copied.numbers)
    return page(
        heading("Copied neck"),
        paragraph("± is twice the standard uncertainty."),
        rows_html(("number", "value", "±", "unit", "readings"), rows),
        heading("To know it better", 4),
        items(one.sentence for one in copied.sharpest_next(3)),
    )
