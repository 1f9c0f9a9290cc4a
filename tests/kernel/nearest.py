"""How far a point lies from a solid's surface, by the kernel's faces and surfaces."""

import math

from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Tool
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.IntTools import IntTools_FClass2d
from OCP.gp import gp_Pnt, gp_Pnt2d, gp_Vec
from OCP.ShapeAnalysis import ShapeAnalysis_Surface
from OCP.TopAbs import TopAbs_FACE, TopAbs_OUT
from OCP.TopoDS import TopoDS

from kernel import each

# What is nearer than this needs no second opinion, and nearer than that no further step.
CLOSE_MM = 1e-9
THERE_MM = 1e-12


def closest(surface, point, u, v):
    """The nearest place of a surface and how far it is, from a place near it on."""
    p, du, dv = gp_Pnt(), gp_Vec(), gp_Vec()
    surface.D0(u, v, p)
    best = p.Distance(point), u, v
    for _ in range(8):
        if best[0] <= THERE_MM:
            break
        surface.D1(u, v, p, du, dv)
        off = gp_Vec(p, point)
        # Gauss and Newton's step of least squares.
        a, b, c = du.Dot(du), du.Dot(dv), dv.Dot(dv)
        e, f = du.Dot(off), dv.Dot(off)
        size = a * c - b * b
        if size <= 0.0:
            break
        u, v = u + (c * e - b * f) / size, v + (a * f - b * e) / size
        surface.D0(u, v, p)
        distance = p.Distance(point)
        if distance >= best[0]:
            break
        best = distance, u, v
    return best


class Face:
    def __init__(self, shape):
        face = self.shape = TopoDS.Face(shape)
        self.surface = BRep_Tool.Surface_s(face)
        self.analysis = ShapeAnalysis_Surface(self.surface)
        self.within = IntTools_FClass2d(face, 1e-9)
        self.box = Bnd_Box()
        # Not the least box, which takes a hundred times as long.
        BRepBndLib.Add_s(face, self.box, False)
        self.box.Enlarge(0.01)

    def distance_mm(self, point):
        """To the nearest place of the surface, where that lies on the face; else infinite."""
        guess = self.analysis.ValueOfUV(point, 1e-9)
        distance, u, v = closest(self.surface, point, guess.X(), guess.Y())
        outside = self.within.Perform(gp_Pnt2d(u, v)) == TopAbs_OUT
        return math.inf if outside else distance


class Nearest:
    """The faces of one solid."""

    def __init__(self, solid):
        self.faces = [Face(f) for f in each(solid, TopAbs_FACE)]

    def distance_mm(self, x, y, z):
        point = gp_Pnt(x, y, z)
        near = [f for f in self.faces if not f.box.IsOut(point)]
        distance = min((f.distance_mm(point) for f in near), default=math.inf)
        if distance <= CLOSE_MM:
            return distance
        # Nearest to an edge, or off the solid: the kernel's own search, which is slow, has the last word.
        vertex = BRepBuilderAPI_MakeVertex(point).Vertex()
        return min(BRepExtrema_DistShapeShape(vertex, f.shape).Value() for f in self.faces)
