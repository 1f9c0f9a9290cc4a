"""A section, shown: its outline, four times its size, and its numbers."""

from __future__ import annotations

from typing import Any

from .._made import maker
from .._native import Section
from ..records import SegmentCrown
from .page import drawing, heading, inches, page, place, rows_html

_UNITS = {1: "{}", 2: "{}²", 4: "{}⁴", -1: "1/{}"}
SCALE = 4.0
MARGIN = 48.0
# As wide as the words above a narrow section.
WORDS = 330.0
_PARTS = (("whole", 'stroke-width="2.5"'), ("fretboard", 'stroke-width="1"'), ("channel", 'stroke-width="1" stroke-dasharray="5 3"'))


def _path(points: Any, left: float, top: float) -> str:
    return " ".join(f"{SCALE * (y - left):.2f},{SCALE * (top - z):.2f}" for y, z in points.tolist())


def svg(section: Section) -> str:
    """Its outline with the board and the rod's channel, the middle marked, both sides named."""
    whole = section.polyline_mm(0.01)
    (left, low), (right, top) = whole.min(axis=0).tolist(), whole.max(axis=0).tolist()
    width, height = max(2 * MARGIN + SCALE * (right - left), WORDS), 2 * MARGIN + SCALE * (top - low)
    # The paper's corner in the frame of the section.
    left, top = left - (width - SCALE * (right - left)) / 2 / SCALE, top + MARGIN / SCALE
    made = [
        f'<polygon points="{_path(points, left, top)}" {style}/>'
        for part, style in _PARTS
        if len(points := section.polyline_mm(0.01, part=part))  # type: ignore[arg-type]
    ]
    middle = -SCALE * left
    made.append(f'<path d="M{middle:.2f} {MARGIN - 10:.2f}V{height - MARGIN + 10:.2f}" stroke-width="0.7" stroke-dasharray="12 3 2 3"/>')
    bar, foot = 10 * SCALE, height - 12
    made.append(f'<path d="M10 {foot - 4}v8M10 {foot}h{bar}M{10 + bar} {foot - 4}v8"/>')
    words = [(16 + bar, foot + 4, "start", "10 mm"), (width / 2, 16, "middle", place(maker(section), section.x_mm()))]
    back = section.control_points_mm(side="bass")
    if back is not None:
        bass_left = bool(back[0, 0] < back[3, 0])
        words += [(10, 32, "start", "bass" if bass_left else "treble"), (width - 10, 32, "end", "treble" if bass_left else "bass")]
    text = "".join(f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{word}</text>' for x, y, anchor, word in words)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height:.0f}" viewBox="0 0 {width:.2f} {height:.2f}">'
        f'<rect width="100%" height="100%" fill="#fff"/><g fill="none" stroke="#000">{"".join(made)}</g>'
        f'<g font-family="sans-serif" font-size="13">{text}</g></svg>'
    )


def _board(section: Section) -> list[tuple[str, float | str, int]]:
    """The radius of the board's face; nothing where no board lies."""
    outline = section.outline(part="fretboard")
    if outline is None:
        return []
    radii = [of.to_mm.radius_mm for of in outline.segments if isinstance(of.to_mm, SegmentCrown)]
    return [("radius of the board's face", radii[0] if radii else "flat", 1)]


def html(section: Section) -> str:
    """The outline and its numbers."""
    neck, x = maker(section), section.x_mm()
    y, z = section.centroid_mm()
    # Beside each number which power of a length it is.
    numbers: list[tuple[str, float | str, int]] = [
        ("width", neck.width_mm(x), 1),
        ("thickness", neck.thickness_mm(x), 1),
        ("girth", section.girth_mm(), 1),
        *_board(section),
        ("area", section.area_mm2(), 2),
        ("centroid from the centreline", y, 1),
        ("centroid below the crown", -z, 1),
        ("second moment, bending along the neck", section.second_moment_mm4()[0], 4),
    ]
    numbers += [
        (f"{name}, {bend.side} side", bend.curvature_per_mm, -1)
        for name, bend in (("sharpest bend of the back", section.sharpest()), ("flattest", section.flattest()))
        if bend is not None
    ]
    rows: list[tuple[str, float | str, str, str, str]] = []
    for name, value, power in numbers:
        mm, inch = (_UNITS[power].format(unit) for unit in ("mm", "in"))
        if isinstance(value, str):
            rows.append((name, value, "–", value, "–"))
        else:
            rows.append((name, f"{value:.4f}" if power < 0 else value, mm, inches(value, power), inch))
    title = f"Section {place(neck, x)}"
    return page(heading(title), drawing(svg(section), title), rows_html(("measure", "value", "unit", "value", "unit"), rows))
