"""A neck from above."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from .._native import Neck
from .axes import THICK, THIN, lengths, made, title
from .silhouette import boxes, stations

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def plan(neck: Neck, *, axes: Axes | None = None) -> Axes:
    """Draws a neck from above, its treble side up where it is right-handed: outline, frets, strings, posts.

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
    axes = made(axes, (12, 3))
    x = stations(neck)
    box = boxes(neck, x)
    axes.plot(np.concatenate([x, x[::-1], x[:1]]), np.concatenate([box[:, 1], box[::-1, 0], box[:1, 1]]), "k-", lw=THICK)
    for fret in neck.frets():
        (x0, y0), (x1, y1) = fret.slot_ends_mm
        axes.plot([x0, x1], [y0, y1], "k-", lw=THIN)
        if fret.number in (1, 3, 5, 7, 9, 12, 15, 17, 19, 21):
            axes.annotate(
                str(fret.number), ((x0 + x1) / 2, min(y0, y1)), xytext=(0, -3), textcoords="offset points", ha="center", va="top", fontsize=8
            )
    end = neck.layout().board().end_mm
    for k, (string, path) in enumerate(zip(neck.strings(), neck.string_paths(), strict=True)):
        x0, y0 = string.nut_mm
        at = neck.hand_sign() * neck.layout().string_y_mm(end, string=k)
        axes.plot([path.post_mm[0], x0, end], [path.post_mm[1], y0, at], color="0.45", lw=THIN)
        if k in (0, len(neck.strings()) - 1):
            axes.annotate(
                "bass" if k == 0 else "treble", (end, at), xytext=(6, 0), textcoords="offset points", va="center", fontsize=9
            )
    for post in neck.headstock().posts:
        axes.plot([post.x_mm], [post.y_mm], "ko", mfc="white", ms=5)
    low, high = float(np.nanmin(box[:, 0])), float(np.nanmax(box[:, 1]))
    axes.set_ylim(low - 10, high + 6)
    axes.set_xlim(float(x[0]) - 10, float(x[-1]) + 45)
    lengths(axes, "from the nut", "from the centreline")
    title(axes, "Plan", neck.hand_sign() < 0)
    return axes
