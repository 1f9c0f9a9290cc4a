"""Sections of a neck over each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .._native import Neck
from .axes import DASHES, lengths, made, title

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def sections(neck: Neck, at: float | str | Sequence[float | str] = ("fret 1", "fret 5", "fret 9", "fret 12"), *, axes: Axes | None = None) -> Axes:
    """Draws sections over each other, each with a line of its own.

    Parameters
    ----------
    neck : Neck
        The neck.
    at : float, str or sequence of them
        Stations, mm from the nut, or texts such as ``"fret 5"``; 6 at most.
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
        More stations than there are kinds of lines.
    """
    if isinstance(at, (int, float, str)):
        at = (at,)
    if len(at) > len(DASHES):
        raise ValueError(f"at has {len(at)} stations: give {len(DASHES)} or fewer")
    axes = made(axes, (8, 5))
    for station, dash in zip(at, DASHES, strict=False):
        section = neck.section(station)
        y, z = section.polyline_mm(0.01).T
        name = station if isinstance(station, str) else f"{station:g} mm"
        axes.plot([*y, y[0]], [*z, z[0]], color="k", linestyle=dash, lw=1.2, label=f"{name}: {-z.min():.2f} mm deep")
    lengths(axes, "from the centreline, treble side of a right-handed neck positive", "from the crown")
    axes.legend(loc="upper center", bbox_to_anchor=(0.5, -0.22), ncols=2, fontsize=9, handlelength=5, frameon=False)
    title(axes, "Sections", neck.hand_sign() < 0)
    return axes
