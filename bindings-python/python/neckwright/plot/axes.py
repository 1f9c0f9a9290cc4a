"""The axes that figures are drawn on."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.axes import Axes

THICK, THIN = 1.8, 0.7
DASHES = ("-", "--", "-.", ":", (0, (8, 2)), (0, (5, 1, 1, 1, 1, 1)))


def made(axes: Axes | None, size: tuple[float, float]) -> Axes:
    """The axes given, or new ones of a size in inches."""
    if axes is not None:
        return axes
    try:
        from matplotlib import pyplot
    except ImportError as error:
        raise ImportError("matplotlib is not installed: pip install 'neckwright[plot]'") from error
    return pyplot.subplots(figsize=size, layout="constrained")[1]


def lengths(axes: Axes, along: str, across: str) -> None:
    """Both axes in mm, equally scaled."""
    axes.set_aspect("equal")
    axes.set_xlabel(f"{along}, mm")
    axes.set_ylabel(f"{across}, mm")
    axes.grid(True, color="0.88", linewidth=0.5)
    axes.set_axisbelow(True)


def title(axes: Axes, words: str, left_handed: bool) -> None:
    """What is drawn, and of which hand."""
    axes.set_title(f"{words} ({'left' if left_handed else 'right'}-handed)", loc="left", fontsize=11)
