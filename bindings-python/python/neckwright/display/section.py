"""A section, shown: its outline, four times its size, and its numbers."""

from __future__ import annotations

from typing import Any

from .._native import Section
from .page import drawing, heading, page, rows_html

SCALE = 4.0
MARGIN = 48.0
_PARTS = (("whole", 'stroke-width="2.5"'), ("fretboard", 'stroke-width="1"'), ("channel", 'stroke-width="1" stroke-dasharray="5 3"'))


def _path(points: Any, left: float, top: float) -> str:
    return " ".join(f"{MARGIN + SCALE * (y - left):.2f},{MARGIN + SCALE * (top - z):.2f}" for y, z in points.tolist())


def svg(section: Section) -> str:
    """Its outline with the board and the rod's channel, the middle marked, both sides named."""
    whole = section.polyline_mm(0.01)
    (left, low), (right, top) = whole.min(axis=0).tolist(), whole.max(axis=0).tolist()
    width, height = 2 * MARGIN + SCALE * (right - left), 2 * MARGIN + SCALE * (top - low)
    made = [
        f'<polygon points="{_path(points, left, top)}" {style}/>'
        for part, style in _PARTS
        if len(points := section.polyline_mm(0.01, part=part))  # type: ignore[arg-type]
    ]
    middle = MARGIN - SCALE * left
    made.append(f'<path d="M{middle:.2f} {MARGIN - 10:.2f}V{height - MARGIN + 10:.2f}" stroke-width="0.7" stroke-dasharray="12 3 2 3"/>')
    bar, foot = 10 * SCALE, height - 12
    made.append(f'<path d="M10 {foot - 4}v8M10 {foot}h{bar}M{10 + bar} {foot - 4}v8"/>')
    words = [(16 + bar, foot + 4, "start", "10 mm"), (width / 2, 16, "middle", f"{section.x_mm():.1f} mm from the nut")]
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


def html(section: Section) -> str:
    """The outline and its numbers."""
    y, z = section.centroid_mm()
    rows: list[tuple[str, float | str, str]] = [
        ("area", section.area_mm2(), "mm²"),
        ("girth", section.girth_mm(), "mm"),
        ("centroid from the centreline", y, "mm"),
        ("centroid below the crown", -z, "mm"),
        ("second moment, bending along the neck", section.second_moment_mm4()[0], "mm⁴"),
    ]
    rows += [
        (f"{name}, {bend.side} side", f"{bend.curvature_per_mm:.4f}", "1/mm")
        for name, bend in (("sharpest bend of the back", section.sharpest()), ("flattest", section.flattest()))
        if bend is not None
    ]
    title = f"Section {section.x_mm():.1f} mm from the nut"
    return page(heading(title), drawing(svg(section), title), rows_html(("measure", "value", "unit"), rows))
