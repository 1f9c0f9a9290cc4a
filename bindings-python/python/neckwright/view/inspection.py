"""Readings on the neck that they were held against."""

from __future__ import annotations

import numpy as np

from .._native import Inspection, Readings
from .scene import Scene

_LEGEND = "Readings over the finished neck, mm<br>red: still on<br>blue: too low<br>grey: unsure"


def inspection(of: Inspection, readings: Readings, *, chord: float | str = 0.05, height: int = 512) -> Scene:
    """Readings as points about the finished neck, coloured by how far they lie off it.

    Red where wood is left, blue where it is missing, grey where no sign can be told.

    A reading lies where it touched the wood (:class:`records.Row`). Widths, girths and radii have no place of their own and are not
    shown.

    Parameters
    ----------
    of : Inspection
        What :meth:`Neck.inspect` found.
    readings : Readings
        The readings that were inspected.
    chord : float or str
        How far the triangles may lie off the surface, mm or with a unit.
    height : int
        Height of the scene in a notebook, pixels.

    Returns
    -------
    Scene

    Raises
    ------
    NeckwrightError
        Other readings than were inspected; a chord out of its range.
    ImportError
        k3d is not installed.
    """
    # An inspection knows the readings that it was made of, and refuses others.
    of.low_readings(readings)
    scene = Scene(height=height)
    scene.add_meshes((solid.mesh(chord=chord) for solid in of.neck.solids(slots=False)), opacity=0.6)
    placed = [(row.touched_mm, 0.0 if row.verdict == "unsure" else row.finished.mm) for row in of.rows if row.finished is not None and row.touched_mm is not None]
    points = np.array([place for place, _ in placed], dtype=np.float64).reshape(-1, 3)
    scene.add_points(points, np.array([off for _, off in placed], dtype=np.float64), "readings", _LEGEND)
    return scene.look()
