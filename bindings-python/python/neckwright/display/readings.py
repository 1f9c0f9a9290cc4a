"""Readings, shown as a table."""

from .._native import Readings
from ..tables import table
from .page import heading, page, rows_html


def html(readings: Readings) -> str:
    """A reading a line."""
    shown = table(readings)
    return page(heading(readings.name() or "Readings"), rows_html(tuple(shown.columns), shown.rows()))
