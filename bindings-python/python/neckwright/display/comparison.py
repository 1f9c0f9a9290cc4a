"""A comparison of two necks, shown by fret."""

from ..records import Comparison
from .page import heading, page, paragraph, rows_html, signed


def html(comparison: Comparison) -> str:
    """The greatest difference in words, then those at the frets, each with its sign."""
    greatest = comparison.greatest
    rows = (
        (
            "nut" if row.fret == 0 else row.fret, row.x_mm, signed(row.greatest.difference_mm), row.greatest.surface.replace("_", " "),
            signed(row.thickness_mm), signed(row.width_mm), signed(row.girth_mm),
        )
        for row in comparison.rows
    )  # fmt: skip
    return page(
        heading("Two necks compared"),
        paragraph(
            f"Greatest difference {signed(greatest.difference_mm)} mm, {greatest.x_mm:.1f} mm from the nut, "
            f"{greatest.surface.replace('_', ' ')}. A plus: the neck that was asked has more wood."
        ),
        rows_html(("fret", "from nut, mm", "greatest, mm", "on", "thickness, mm", "width, mm", "girth, mm"), rows),
    )
