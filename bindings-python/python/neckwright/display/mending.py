"""A mending, shown: what comes off where, or what forbids it."""

from .._native import Mending
from ..records import Mended
from .page import heading, in_both_units, inches, items, page, paragraph

CAUTION = (
    "Read the low places once more before any wood goes: what is off stays off. Blades and wood dust injure: the tools' manuals, "
    "local rules and qualified practice come first."
)
NAMES = ("at", "from nut, mm", "take off at the spine, mm", "most, mm", "thickness then, mm", "width then, mm", "girth then, mm")


def html(mending: Mending) -> str:
    """The table of what comes off, or the limits in words."""
    result = mending.result
    if not isinstance(result, Mended):
        return page(heading("Can't be mended within the limits"), items(limit.sentence for limit in result))
    rows = (
        (
            "–" if row.fret is None else "nut" if row.fret == 0 else f"fret {row.fret}", row.x_mm, row.take_off_mm, row.most_mm,
            row.thickness_mm, row.width_mm, row.girth_mm,
        )
        for row in result.rows
    )  # fmt: skip
    return page(
        heading("Mended"),
        paragraph(f"{result.removed_mm3:.0f} mm³ ({inches(result.removed_mm3, 3)} in³) of wood come off."),
        paragraph(CAUTION),
        items(result.notes),
        in_both_units(NAMES, rows),
    )
