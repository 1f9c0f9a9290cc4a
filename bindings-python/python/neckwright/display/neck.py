"""A neck, shown: its caliper card, what is known of it as a whole, its side and plan."""

from .._native import Neck
from .page import heading, in_both_units, inches, items, page, paragraph, place
from .sheet import box

CARD = (
    "fret", "from nut, mm", "width, mm", "thickness, mm", "girth, mm", "carve line bass, mm", "carve line treble, mm", "rod wall, mm",
)  # fmt: skip


def svg(neck: Neck) -> str | None:
    """Its side at full size."""
    sheet = neck.sheet("side")
    return None if sheet is None else sheet.to_svg()


def card(neck: Neck) -> str:
    """The caliper card, in mm and in inches."""
    rows = (
        (
            "nut" if row.fret == 0 else row.fret, row.x_mm, row.width_mm, row.thickness_mm, row.girth_mm, row.carve_line_mm.bass,
            row.carve_line_mm.treble, row.rod_wall_mm,
        )
        for row in neck.caliper_card()
    )  # fmt: skip
    return in_both_units(CARD, rows)


def _facts(neck: Neck) -> str:
    hand = "left-handed" if neck.hand_sign() < 0 else "right-handed"
    least, wall = neck.least_thickness(), neck.least_rod_wall()
    scale = neck.layout().scale_mm()
    words = f"Scale {scale:g} mm ({inches(scale)} in), {len(neck.frets())} frets, {len(neck.strings())} strings, {hand}. "
    words += f"Least thickness {least.value:.2f} mm ({inches(least.value)} in), {place(neck, least.x_mm)}."
    if wall is not None:
        words += f" Least wood around the rod {wall.value:.2f} mm ({inches(wall.value)} in), {place(neck, wall.x_mm)}."
    return words


def html(neck: Neck) -> str:
    """All of it."""
    return page(
        heading(str(neck.specification().get("name") or "A neck without a name")),
        paragraph(_facts(neck)),
        items(f"{warning.path}: {warning.message}" for warning in neck.warnings()),
        heading("Caliper card", 4),
        card(neck),
        heading("Side and plan, full size", 4),
        box(neck.sheet("side")),
        box(neck.sheet("plan")),
    )
