"""The wood of a carving plan, stage by stage."""

from __future__ import annotations

from .._native import CarvingPlan
from .scene import Scene


def plan(of: CarvingPlan, *, stage: str | None = None, chord: float | str = 0.1, height: int = 512) -> Scene:
    """The wood after each stage of a plan, to step through. Channel and tuner holes are not shown, as :meth:`Wood.solids` says.

    Parameters
    ----------
    of : CarvingPlan
        The plan.
    stage : str, optional
        The stage that is shown first; without it the first one.
    chord : float or str
        How far the triangles may lie off the surface, mm or with a unit; ``bounds("mesh_options")`` tells its range.
    height : int
        Height of the scene in a notebook, pixels.

    Returns
    -------
    Scene
        Its steps are the plan's stages, by their names.

    Raises
    ------
    NeckwrightError
        The plan has no such stage; a chord out of its range; wood whose faces can't be put together.
    ImportError
        k3d is not installed.

    Notes
    -----
    Before any cut: the stages' cautions, the machines' manuals, local rules and qualified practice come first.
    """
    stages = of.stages()
    first = 0 if stage is None else of.stage(stage).index
    scene = Scene([each.name for each in stages], step=first, height=height)
    for each in stages:
        scene.add_meshes((solid.mesh(chord=chord) for solid in each.wood.solids()), step=each.index)
    return scene.look()
