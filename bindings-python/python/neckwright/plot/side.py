"""A neck from its side."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .._native import Neck
from .axes import THICK, THIN, lengths, made, title
from .silhouette import boxes, stations

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def side(neck: Neck, *, axes: Axes | None = None) -> Axes:
    """Draws a neck from its side: wood, board, the rod's channel dashed, thicknesses at some frets.

    Parameters
    ----------
    neck : Neck
        The neck.
    axes : matplotlib.axes.Axes, optional
        Where to draw; without it in a new figure.

    Returns
    -------
    matplotlib.axes.Axes

    Raises
    ------
    ImportError
        matplotlib is not installed.
    """
    axes = made(axes, (12, 3.2))
    x = stations(neck)
    box = boxes(neck, x)
    axes.plot(np.concatenate([x, x[::-1], x[:1]]), np.concatenate([box[:, 3], box[::-1, 2], box[:1, 3]]), "k-", lw=THICK)
    board = neck.layout().board()
    axes.plot([board.start_mm, board.end_mm], [-board.thickness_mm] * 2, "k-", lw=THIN, label="glue line of the board")
    for i, cut in enumerate(neck.rod_cuts()):
        law = cut.floor_depth_mm
        floor = [piece[0] for piece in law.coefs] + [law.coefs[-1][-1]]
        # Named once, whatever it is cut in.
        axes.plot(law.breaks_mm, [-depth for depth in floor], "k--", lw=THIN, label="_" * bool(i) + "floor of the rod's channel")
    for row in neck.caliper_card():
        if row.fret in (0, 1, 5, 9, 12, 15):
            label = "thickness, crown to spine" if row.fret == 0 else None
            axes.plot([row.x_mm] * 2, [0, -row.thickness_mm], "k:", lw=THIN, label=label)
            name = "nut" if row.fret == 0 else f"fret {row.fret}"
            axes.annotate(
                f"{name}\n{row.thickness_mm:.2f}", (row.x_mm, 0), xytext=(0, 4), textcoords="offset points",
                ha="right" if row.fret == 0 else "center", fontsize=8,
            )  # fmt: skip
    axes.set_ylim(float(np.nanmin(box[:, 2])) - 6, 26)
    lengths(axes, "from the nut", "from the crown")
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.45), ncols=3, fontsize=9, handlelength=4, frameon=False)
    title(axes, "Side, with thicknesses in mm", neck.hand_sign() < 0)
    return axes
