"""A sheet, shown."""

from .._native import Sheet
from .page import drawing


def svg(sheet: Sheet) -> str:
    """The drawing itself."""
    return sheet.to_svg()


def box(sheet: Sheet | None) -> str:
    """The drawing in a page; nothing where there is none."""
    return "" if sheet is None else drawing(sheet.to_svg(), sheet.title)
