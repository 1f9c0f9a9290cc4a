"""What a CAD plug-in does: makes the host kernel's own solids of neckwright's faces.

    pip install cadquery-ocp-novtk
    python host_solid.py [SPECIFICATION.json]

The host here is Open CASCADE. Nothing goes through a file: poles, knots and weights are handed to the kernel's constructors.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Sequence
from typing import Any, NamedTuple

from OCP.BRep import BRep_Builder, BRep_Tool
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.collections import (
    Array1_double,
    Array1_gp_Pnt,
    Array1_gp_Pnt2d,
    Array1_int,
    Array2_double,
    Array2_gp_Pnt,
)
from OCP.Geom import Geom_BSplineCurve, Geom_BSplineSurface, Geom_Circle, Geom_CylindricalSurface, Geom_Line, Geom_Plane
from OCP.Geom2d import Geom2d_BSplineCurve
from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt, gp_Pnt2d, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.ShapeFix import ShapeFix_Edge, ShapeFix_Wire
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FORWARD, TopAbs_REVERSED, TopAbs_SHELL, TopAbs_WIRE
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Edge, TopoDS_Face, TopoDS_Shell, TopoDS_Solid, TopoDS_Vertex, TopoDS_Wire

from neckwright import Edge, Face, Neck, Solid

PRECISION_MM = 1e-7


class Handed(NamedTuple):
    """A solid in the host's hands."""

    name: str
    shape: Any
    valid: bool
    closed: bool
    volume_mm3: float


def filled(array: Any, values: Sequence[Any]) -> Any:
    """A one-dimensional array of the kernel, which counts from 1."""
    for i, value in enumerate(values, start=1):
        array.SetValue(i, value)
    return array


def doubles(values: Any) -> Any:
    return filled(Array1_double(1, len(values)), values.tolist())


def integers(values: Any) -> Any:
    return filled(Array1_int(1, len(values)), values.tolist())


def points(values: Any) -> Any:
    return filled(Array1_gp_Pnt(1, len(values)), [gp_Pnt(*p) for p in values.tolist()])


class Maker:
    """One of the library's solids on its way into the host."""

    def __init__(self, solid: Solid) -> None:
        self._builder = BRep_Builder()
        self._solid = solid
        self._at = [gp_Pnt(*p) for p in solid.vertices_mm.tolist()]
        self._vertices = []
        for at in self._at:
            vertex = TopoDS_Vertex()
            self._builder.MakeVertex(vertex, at, PRECISION_MM)
            self._vertices.append(vertex)
        self._edges = [self._edge(edge) for edge in solid.edges]

    def made(self) -> Any:
        """The host's solid."""
        shell = TopoDS_Shell()
        self._builder.MakeShell(shell)
        for face in self._solid.faces:
            self._builder.Add(shell, self._face(face))
        shell.Closed(BRep_Tool.IsClosed_s(shell))
        solid = TopoDS_Solid()
        self._builder.MakeSolid(solid)
        self._builder.Add(solid, shell)
        return solid

    def _edge(self, edge: Edge) -> Any:
        start, end = edge.ends
        curve, first, last = self._curve(edge, self._at[start], self._at[end])
        made = TopoDS_Edge()
        self._builder.MakeEdge(made, curve, PRECISION_MM)
        self._builder.Add(made, self._vertices[start].Oriented(TopAbs_FORWARD))
        self._builder.Add(made, self._vertices[end].Oriented(TopAbs_REVERSED))
        self._builder.Range(made, first, last)
        return made

    def _curve(self, edge: Edge, start: Any, end: Any) -> tuple[Any, float, float]:
        """The curve with its first and last parameter."""
        if edge.curve == "line":
            return Geom_Line(start, gp_Dir(gp_Vec(start, end))), 0.0, start.Distance(end)
        if edge.curve == "arc":
            assert edge.centre_mm and edge.axis and edge.radius_mm
            centre, axis = gp_Pnt(*edge.centre_mm), gp_Dir(*edge.axis)
            a, b = gp_Dir(gp_Vec(centre, start)), gp_Dir(gp_Vec(centre, end))
            turn = a.AngleWithRef(b, axis)
            return Geom_Circle(gp_Ax2(centre, axis, a), edge.radius_mm), 0.0, turn if turn > 0 else turn + 2 * math.pi
        assert edge.knots is not None and edge.multiplicities is not None
        of = (doubles(edge.knots), integers(edge.multiplicities), edge.degree)
        weights = () if edge.weights is None else (doubles(edge.weights),)
        return Geom_BSplineCurve(points(edge.poles_mm), *weights, *of), float(edge.knots[0]), float(edge.knots[-1])

    def _surface(self, face: Face) -> Any:
        if face.surface != "spline":
            assert face.point_mm and face.axis and face.across
            axes = gp_Ax3(gp_Pnt(*face.point_mm), gp_Dir(*face.axis), gp_Dir(*face.across))
            return Geom_Plane(axes) if face.surface == "plane" else Geom_CylindricalSurface(axes, face.radius_mm)
        assert face.poles_mm is not None and face.knots is not None and face.multiplicities is not None
        rows, columns, _ = face.poles_mm.shape
        poles = Array2_gp_Pnt(1, rows, 1, columns)
        for r, row in enumerate(face.poles_mm.tolist(), start=1):
            for c, pole in enumerate(row, start=1):
                poles.SetValue(r, c, gp_Pnt(*pole))
        knots = [doubles(knots) for knots in face.knots] + [integers(counts) for counts in face.multiplicities]
        if face.weights is None:
            return Geom_BSplineSurface(poles, *knots, *face.degree)  # type: ignore[misc]
        weights = Array2_double(1, rows, 1, columns)
        for r, row in enumerate(face.weights.tolist(), start=1):
            for c, weight in enumerate(row, start=1):
                weights.SetValue(r, c, weight)
        return Geom_BSplineSurface(poles, weights, *knots, *face.degree)  # type: ignore[misc]

    def _face(self, face: Face) -> Any:
        surface = self._surface(face)
        made = TopoDS_Face()
        self._builder.MakeFace(made, surface, PRECISION_MM)
        # Where an edge is no isoline the library has its curve in the surface's parameters.
        for edge, degree, knots, multiplicities, poles in face.traces:
            places = filled(Array1_gp_Pnt2d(1, len(poles)), [gp_Pnt2d(*p) for p in poles.tolist()])
            trace = Geom2d_BSplineCurve(places, doubles(knots), integers(multiplicities), degree)
            self._builder.UpdateEdge(self._edges[edge], trace, surface, TopLoc_Location(), PRECISION_MM)
        for loop in face.loops:
            wire = TopoDS_Wire()
            self._builder.MakeWire(wire)
            for edge, forward in loop:
                self._builder.Add(wire, self._edges[edge].Oriented(TopAbs_FORWARD if forward else TopAbs_REVERSED))
            wire.Closed(True)
            # Loops are counter-clockwise as seen from outside; the host counts them about its surface's normal.
            if not face.outward:
                wire.Reverse()
            self._builder.Add(made, wire)
        # The host's own tool for the other edges' curves in the surface's parameters.
        for edge_shape in parts(made, TopAbs_EDGE):
            ShapeFix_Edge().FixAddPCurve(TopoDS.Edge(edge_shape), made, False, PRECISION_MM)
        # On a cylinder those may lie whole turns apart.
        for wire in parts(made, TopAbs_WIRE):
            ShapeFix_Wire(TopoDS.Wire(wire), made, PRECISION_MM).FixShifted()
        if not face.outward:
            made.Reverse()
        return made


def parts(shape: Any, kind: Any) -> list[Any]:
    """What of a kind is in a shape."""
    found, explorer = [], TopExp_Explorer(shape, kind)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def handed(solid: Solid) -> Handed:
    """A solid, made in the host, and what the host finds of it."""
    shape = Maker(solid).made()
    shells = parts(shape, TopAbs_SHELL)
    properties = GProp_GProps()
    # Gauss points enough for the surfaces' degrees.
    BRepGProp.VolumeProperties_s(shape, properties, 1e-11, True)
    closed = len(shells) == 1 and BRep_Tool.IsClosed_s(shells[0])
    return Handed(solid.name, shape, BRepCheck_Analyzer(shape).IsValid(), closed, properties.Mass())


def main() -> int:
    """Hands both solids of a neck over; 0 where all is well."""
    neck = Neck(sys.argv[1]) if len(sys.argv) > 1 else Neck(scale={"length": 640})
    volumes = neck.volume_mm3()
    good = True
    # Without the slots, whose volume the neck's own does not count off.
    for solid, ours in zip(neck.solids(slots=False), (volumes.neck_wood_mm3, volumes.fretboard_mm3), strict=True):
        host = handed(solid)
        apart = abs(host.volume_mm3 / ours - 1)
        valid, closed = "valid" if host.valid else "NOT VALID", "closed" if host.closed else "NOT CLOSED"
        print(f"{host.name}: {valid}, {closed}, volume {host.volume_mm3:.6f} mm3, ours {ours:.6f} mm3, apart by {apart:.1e}")
        good = good and host.valid and host.closed and apart <= 1e-9
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
