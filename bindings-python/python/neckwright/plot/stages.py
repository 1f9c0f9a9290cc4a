"""The wood after each stage of a carving plan, in one section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .._errors import refused
from .._made import maker
from .._native import CarvingPlan, Neck
from .axes import DASHES, lengths, made

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def stages(neck: Neck, plan: CarvingPlan, at: float | str = "fret 7", *, axes: Axes | None = None) -> Axes:
    """Draws the wood after each stage that changes the section, over each other.

    Parameters
    ----------
    neck : Neck
        The neck that the plan is of.
    plan : CarvingPlan
        Its plan.
    at : float or str
        The station, mm from the nut, or a text such as ``"fret 7"``.
    axes : matplotlib.axes.Axes, optional
        Where to draw; without it in a new figure.

    Returns
    -------
    matplotlib.axes.Axes

    Raises
    ------
    ImportError
        matplotlib is not installed.
    NeckwrightError
        A plan of another neck; a station off the neck.
    """
    if maker(plan) != neck:
        raise refused("conflict", "plan", "", "it is of another neck", "give the plan of this one: neck.carving_plan()")
    axes = made(axes, (9, 6.5))
    x = neck.section(at).x_mm()
    before, drawn = -1.0, 0
    for stage in plan.stages():
        area = stage.wood.area_mm2(x)
        if area == before:
            continue
        y, z = stage.wood.polyline_mm(x, 0.01).T
        axes.plot(
            [*y, y[0]], [*z, z[0]], color="k" if drawn < len(DASHES) else "0.5", linestyle=DASHES[drawn % len(DASHES)], lw=1.2,
            label=f"{stage.index + 1} {stage.name}: {area:.0f} mm²",
        )  # fmt: skip
        before, drawn = area, drawn + 1
    lengths(axes, "from the centreline", "from the crown")
    axes.legend(loc="upper left", bbox_to_anchor=(1.02, 1), fontsize=9, handlelength=5, frameon=False, title="after stage")
    axes.set_title(f"Stages at {at if isinstance(at, str) else f'{at:g} mm'}, {x:.1f} mm from the nut", loc="left", fontsize=11)
    return axes
