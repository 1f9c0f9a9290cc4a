"""Readings, shown as a table."""

from .._native import Readings
from ..tables import table
from .page import heading, page, table_html


def html(readings: Readings) -> str:
    """A reading a line, in mm and in inches."""
    return page(
        heading(readings.name() or "Readings"),
        table_html(table(readings), words=True),
        heading("The same in inches", 4),
        table_html(table(readings, unit="in"), words=True),
    )
