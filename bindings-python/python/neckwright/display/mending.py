"""A mending, shown: what comes off where, or what forbids it."""

from .._native import Mending
from ..records import Mended
from .page import heading, in_both_units, inches, items, page, paragraph

NAMES = ("at", "from nut, mm", "off the design at the spine, mm", "most around, mm", "thickness then, mm", "width then, mm", "girth then, mm")


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
        paragraph(
            f"{result.removed_mm3:.0f} mm³ ({inches(result.removed_mm3, 3)} in³) less than the design. What comes off is told from the "
            "design; where the wood is still thicker, that comes off besides. Stop where the caliper reads the thickness then."
        ),
        heading("Cautions", 4) if result.cautions else "",
        items(f"{caution.topic.replace('_', ' ')}: {caution.words}" for caution in result.cautions),
        items(result.notes),
        in_both_units(NAMES, rows),
    )
