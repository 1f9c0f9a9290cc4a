"""Readings on the neck that they were held against."""

from __future__ import annotations

import numpy as np

from .._native import Inspection, Neck, Readings
from ..records import Row
from .scene import Scene


_LEGEND = "Readings over the finished neck, mm<br>red: still on<br>blue: below the neck"


def inspection(of: Inspection, readings: Readings, *, chord: float | str = 0.05, height: int = 512) -> Scene:
    """Readings as points about the finished neck, coloured by how far they lie off it: red where wood is left, blue where it is missing.

    A point lies where it was taken; a thickness at the spine of its station and a carve line at the neck's own, as far below it
    as the reading says. Widths, girths and radii have no place of their own and are not shown.

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
    placed = [
        (place, row.finished.mm)
        for row in of.rows
        if row.finished is not None and (place := _place(of.neck, row, readings[row.reading].value)) is not None
    ]
    points = np.array([place for place, _ in placed], dtype=np.float64).reshape(-1, 3)
    scene.add_points(points, np.array([off for _, off in placed], dtype=np.float64), "readings", _LEGEND)
    return scene.look()


def _place(neck: Neck, row: Row, value_mm: float) -> tuple[float, float, float] | None:
    """Where a reading lies in the neck's frame."""
    measured = row.measured
    if measured.across_mm is not None:
        return row.x_mm, measured.across_mm * neck.hand_sign(), -value_mm
    carve_line = row.place.part == "carve_line"
    if row.finished is None or not (carve_line or measured.quantity == "thickness"):
        return None
    # The first control point of a side is its carve line, the last one the spine.
    corners = neck.section(row.x_mm).control_points_mm(side=measured.side or "bass")
    if corners is None:
        return None
    y, z = corners[0 if carve_line else -1].tolist()
    return row.x_mm, y, z - row.finished.mm
