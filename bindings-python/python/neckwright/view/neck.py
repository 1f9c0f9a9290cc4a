"""A finished neck."""

from __future__ import annotations

from .._native import Neck
from .scene import Scene


def neck(of: Neck, *, chord: float | str = 0.05, slots: bool = True, height: int = 512) -> Scene:
    """A neck's solids: neck wood and fretboard.

    Parameters
    ----------
    of : Neck
        The neck.
    chord : float or str
        How far the triangles may lie off the surface, mm or with a unit; ``bounds("mesh_options")`` tells its range.
    slots : bool
        Whether the fret slots are sawn.
    height : int
        Height of the scene in a notebook, pixels.

    Returns
    -------
    Scene

    Raises
    ------
    NeckwrightError
        A chord out of its range.
    ImportError
        k3d is not installed.
    """
    scene = Scene(height=height)
    scene.add_meshes(solid.mesh(chord=chord) for solid in of.solids(slots=slots))
    return scene.look()
