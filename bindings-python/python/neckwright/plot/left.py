"""What is left to take, along and around."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .._native import Inspection
from .axes import made

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# Numbers closer together along the neck than this run into each other, mm.
PITCH_MM = 15.0


def _at(x_mm: Sequence[float], frets: Sequence[float]) -> list[int]:
    """The map's stations nearest to nut and frets, and to its ends, as far as their numbers have room."""
    kept: list[int] = []
    for x in sorted({*frets, x_mm[0], x_mm[-1]}):
        nearest = min(range(len(x_mm)), key=lambda i: abs(x_mm[i] - x))
        if not kept or x_mm[nearest] - x_mm[kept[-1]] >= PITCH_MM:
            kept.append(nearest)
    return kept


def left(inspection: Inspection, *, axes: Axes | None = None) -> Axes:
    """Draws what is left to take: numbers with their sign and ± below, a triangle up where wood is on, down where it is too low.

    They stand at nut and frets, as far as there is room. Where twice the standard uncertainty reaches over the number there is a ring: no sign can be told. Where no reading tells, a cross.

    Parameters
    ----------
    inspection : Inspection
        An inspection with a map.
    axes : matplotlib.axes.Axes, optional
        Where to draw; without it in a new figure.

    Returns
    -------
    matplotlib.axes.Axes

    Raises
    ------
    ImportError
        matplotlib is not installed.
    ValueError
        The readings made no map.
    """
    of = inspection.map
    if of is None:
        raise ValueError("the inspection has no map: read a thickness or a point between nut and heel")
    axes = made(axes, (14, 5.5))
    places = len(of.around)
    marks: dict[str, str] = {"still_on": "k^", "too_low": "kv", "unsure": "wo", "unread": "kx"}
    frets = [row for row in inspection.neck.caliper_card() if of.x_mm[0] <= row.x_mm <= of.x_mm[-1]]
    for i in _at(of.x_mm, [row.x_mm for row in frets]):
        for around, cell in zip(of.around, of.cells[i * places : (i + 1) * places], strict=True):
            axes.plot([of.x_mm[i]], [around], marks[cell.verdict], mec="k", ms=6)
            if cell.verdict == "unread":
                continue
            axes.annotate(
                f"{cell.left_mm:+.2f}\n±{2 * cell.uncertainty_mm:.2f}", (of.x_mm[i], around), xytext=(6, 0), textcoords="offset points",
                va="center", fontsize=7.5, fontweight="normal" if cell.verdict == "unsure" else "bold",
            )  # fmt: skip
    for what, mark in marks.items():
        axes.plot([], [], mark, mec="k", ms=6, label=what.replace("_", " "))
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=4, frameon=False)
    axes.set_ylim(-1.15, 1.15)
    axes.set_xlim(of.x_mm[0] - 8, of.x_mm[-1] + 30)
    axes.set_yticks([-1, 0, 1], ["bass edge", "spine", "treble edge"])
    axes.set_xlabel("from the nut, mm")
    above = axes.secondary_xaxis("top")
    above.set_xticks([row.x_mm for row in frets], ["nut" if row.fret == 0 else str(row.fret) for row in frets])
    above.set_xlabel("fret")
    axes.set_title("What is left to take, mm square to the surface (± is twice the standard uncertainty)", loc="left", fontsize=11)
    return axes
