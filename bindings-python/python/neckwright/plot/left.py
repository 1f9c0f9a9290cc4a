"""What is left to take, along and around."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .._native import Inspection
from .axes import made

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def left(inspection: Inspection, *, axes: Axes | None = None) -> Axes:
    """Draws what is left to take: numbers with their sign and ± below, a triangle up where wood is on, down where it is too low.

    Where twice the standard uncertainty reaches over the number there is a ring: no sign can be told.

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
    shape = (len(of.x_mm), len(of.around))
    values = np.array([cell.left_mm for cell in of.cells]).reshape(shape)
    unsure = 2 * np.array([cell.uncertainty_mm for cell in of.cells]).reshape(shape)
    marks = {"still on": "k^", "too low": "kv", "can't be told": "wo"}
    for i in range(0, shape[0], max(1, shape[0] // 12)):
        for j, around in enumerate(of.around):
            value, doubt = float(values[i, j]), float(unsure[i, j])
            what = "can't be told" if abs(value) <= doubt else "still on" if value > 0 else "too low"
            axes.plot([of.x_mm[i]], [around], marks[what], mec="k", ms=6)
            axes.annotate(
                f"{value:+.2f}\n±{doubt:.2f}", (of.x_mm[i], around), xytext=(6, 0), textcoords="offset points", va="center", fontsize=7.5,
                fontweight="normal" if what == "can't be told" else "bold",
            )  # fmt: skip
    for what, mark in marks.items():
        axes.plot([], [], mark, mec="k", ms=6, label=what)
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=3, frameon=False)
    axes.set_ylim(-1.15, 1.15)
    axes.set_xlim(of.x_mm[0] - 8, of.x_mm[-1] + 30)
    axes.set_yticks([-1, 0, 1], ["bass edge", "spine", "treble edge"])
    axes.set_xlabel("from the nut, mm")
    frets = [row for row in inspection.neck.caliper_card() if of.x_mm[0] <= row.x_mm <= of.x_mm[-1]]
    above = axes.secondary_xaxis("top")
    above.set_xticks([row.x_mm for row in frets], ["nut" if row.fret == 0 else str(row.fret) for row in frets])
    above.set_xlabel("fret")
    axes.set_title("What is left to take, mm square to the surface (± is twice the standard uncertainty)", loc="left", fontsize=11)
    return axes
