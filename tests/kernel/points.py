"""How far thousands of points of the laws lie from a solid's faces, by the kernel's own surfaces.

`nearest` looks for the nearest place from nothing but the point, which takes too long for so many. Here a place on each face
is guessed from how the surface runs, and from the share of the way around a back that comes with the point; the kernel then
evaluates its surface at that place. A wrong guess can only make a distance greater, never less.
"""

import math

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_Cylinder, GeomAbs_Plane
from OCP.IntTools import IntTools_FClass2d
from OCP.TopAbs import TopAbs_FACE, TopAbs_OUT
from OCP.TopoDS import TopoDS
from OCP.gp import gp_Pnt, gp_Pnt2d

from kernel import each
from nearest import Nearest, closest

# How far a point may be off a surface that is exact, and off one of the family `cubic`, which states that bound.
EXACT_MM = 1e-9
CUBIC_MM = 0.001

# As `export_necks` writes them.
POINT = np.dtype([("kind", "u1"), ("solid", "u1"), ("around", "<f8"), ("at", "<f8", 3)])

# So many of the points that are on no face have the slow search's last word.
MOST_LOST = 50


def triple(a):
    return np.array([a.X(), a.Y(), a.Z()])


class Flat:
    """A plane or a round cylinder: places by its axes."""

    def __init__(self, placement, radius=None):
        self.origin = triple(placement.Location())
        directions = placement.XDirection(), placement.YDirection(), placement.Direction()
        self.axes = np.array([triple(d) for d in directions])
        self.radius = radius

    def places(self, at, _around):
        x, y, z = ((at - self.origin) @ self.axes.T).T
        if self.radius is None:
            return np.abs(z), x, y
        return np.abs(np.hypot(x, y) - self.radius), np.arctan2(y, x) % math.tau, z


class Spline:
    """A spline's surface: along the neck in its first parameter, across or around in its second."""

    def __init__(self, surface):
        self.surface = surface
        self.ends = surface.Bounds()
        count = range(1, surface.NbUPoles() + 1), range(1, surface.NbVPoles() + 1)
        poles = np.array([[triple(surface.Pole(i, j)) for j in count[1]] for i in count[0]])
        # No point of it is outside of the box around its poles.
        self.low, self.high = poles.min(axis=(0, 1)) - 0.01, poles.max(axis=(0, 1)) + 0.01
        self.back = surface.VDegree() == 3
        u0, u1, v0, v1 = self.ends
        corners = [[triple(surface.Value(u, v)) for v in (v0, v1)] for u in (u0, u1)]
        self.stations = corners[0][0][0], corners[1][0][0]
        self.across = corners[0][0], corners[0][1] - corners[0][0]

    def places(self, at, around):
        distance, u, v = np.full(len(at), math.inf), np.zeros(len(at)), np.zeros(len(at))
        near = np.all((at > self.low) & (at < self.high), axis=1) & (np.isfinite(around) == self.back)
        u0, u1, v0, v1 = self.ends
        x0, x1 = self.stations
        start, way = self.across
        u[near] = u0 + (u1 - u0) * (at[near, 0] - x0) / (x1 - x0)
        share = around[near] if self.back else (at[near, 1:] - start[1:]) @ way[1:] / (way[1:] @ way[1:])
        v[near] = v0 + (v1 - v0) * share
        guesses = zip(at[near].tolist(), u[near].tolist(), v[near].tolist())
        found = [closest(self.surface, gp_Pnt(*p), u, v) for p, u, v in guesses]
        if found:
            distance[near], u[near], v[near] = np.array(found).T
        return distance, u, v


class Face:
    def __init__(self, shape):
        face = TopoDS.Face(shape)
        adaptor = BRepAdaptor_Surface(face, True)
        self.inside = IntTools_FClass2d(face, 1e-9)
        self.kind = adaptor.GetType()
        if self.kind == GeomAbs_Plane:
            self.surface = Flat(adaptor.Plane().Position())
        elif self.kind == GeomAbs_Cylinder:
            self.surface = Flat(adaptor.Cylinder().Position(), adaptor.Cylinder().Radius())
        else:
            self.surface = Spline(BRep_Tool.Surface_s(face))

    def distances_mm(self, at, around, within):
        """To the places of the face that were looked at; infinite where they are off it, or farther than asked for."""
        distance, u, v = self.surface.places(at, around)
        near = distance <= within
        places = zip(u[near].tolist(), v[near].tolist())
        out = [self.inside.Perform(gp_Pnt2d(u, v)) == TopAbs_OUT for u, v in places]
        distance[~near] = math.inf
        distance[near] += np.where(out, math.inf, 0.0)
        return distance


def distances_mm(solid, points, within):
    """How far each point is from the solid's surface; of those that are farther than `within` not all may be finite."""
    faces = [Face(f) for f in each(solid, TopAbs_FACE)]
    # The quick ones first.
    faces.sort(key=lambda face: isinstance(face.surface, Spline))
    best = np.full(len(points), math.inf)
    for face in faces:
        left = np.flatnonzero(best > within)
        best[left] = face.distances_mm(points["at"][left], points["around"][left], within)
    lost = np.flatnonzero(best > within)[:MOST_LOST]
    if len(lost):
        nearest = Nearest(solid)
        best[lost] = [nearest.distance_mm(*points["at"][i]) for i in lost]
    return best
