"""The area of a solid's section by a plane x = const, from the kernel's own faces, edges and curves.

A boolean of the kernel approximates the curve in which a plane meets a spline's surface to within 1e-7 mm, so that its areas
are right to some 1e-9 only (`kernel.common`). Here the section is followed along the kernel's surfaces instead. By
Green's theorem the area is the sum over all faces of the integral of y dz along the face's section, counter-clockwise as seen
from +x; and on each face that is an integral from a common start to where the section leaves the face, less that to where it
enters. Along an edge that the face goes along with +x the section leaves it, since the face lies to the left of its edges.
"""

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.GeomAbs import GeomAbs_BSplineSurface, GeomAbs_Cylinder, GeomAbs_Plane
from OCP.gp import gp_Pnt, gp_Vec
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED
from OCP.TopoDS import TopoDS

from kernel import each

NODES, WEIGHTS = np.polynomial.legendre.leggauss(12)


class Edge:
    """An edge as one face goes along it."""

    def __init__(self, shape, samples):
        edge = TopoDS.Edge(shape)
        self.sign = -1.0 if shape.Orientation() == TopAbs_REVERSED else 1.0
        self.curve = BRepAdaptor_Curve(edge)
        self.first, self.last = self.curve.FirstParameter(), self.curve.LastParameter()
        known = samples.get(edge.TShape())
        if known is None:
            t = np.linspace(self.first, self.last, 33)
            known = (t, np.array([self.curve.Value(s).X() for s in t]))
            samples[edge.TShape()] = known
        self.t, self.x = known

    def crossings(self, x):
        """Where the edge passes a station, each with 1 if the face's way along it goes on toward +x there, else -1."""
        for i in np.flatnonzero((self.x[:-1] < x) != (self.x[1:] < x)):
            low, high = self.t[i], self.t[i + 1]
            rising = self.x[i] < x
            p, v = gp_Pnt(), gp_Vec()
            t = low + (high - low) * (x - self.x[i]) / (self.x[i + 1] - self.x[i])
            for _ in range(60):
                self.curve.D1(t, p, v)
                off = p.X() - x
                if abs(off) < 1e-13 * (1.0 + abs(x)):
                    break
                if (off < 0.0) == rising:
                    low = t
                else:
                    high = t
                step = t - off / v.X() if v.X() else low
                t = step if low < step < high else 0.5 * (low + high)
            yield np.array([p.X(), p.Y(), p.Z()]), self.sign * (1.0 if rising else -1.0)


class Face:
    def __init__(self, shape, samples):
        self.edges = [Edge(e, samples) for e in each(shape, TopAbs_EDGE)]
        self.low = min(e.x.min() for e in self.edges)
        self.high = max(e.x.max() for e in self.edges)
        self.surface = BRepAdaptor_Surface(TopoDS.Face(shape), True)
        self.kind = self.surface.GetType()
        ends = [
            [self.surface.FirstUParameter(), self.surface.LastUParameter()],
            [self.surface.FirstVParameter(), self.surface.LastVParameter()],
        ]
        # The parameter that goes along the neck comes first; a cylinder's is its second one.
        self.round = self.kind == GeomAbs_Cylinder
        self.u, self.knots = reversed(ends) if self.round else ends
        self.knots = np.array(self.knots)
        if self.kind == GeomAbs_BSplineSurface:
            spline = self.surface.BSpline()
            inner = np.array([spline.VKnot(i) for i in range(1, spline.NbVKnots() + 1)])
            between = (inner > self.knots[0]) & (inner < self.knots[1])
            self.knots = np.concatenate([self.knots[:1], inner[between], self.knots[1:]])

    def at(self, u, v):
        p, du, dv = gp_Pnt(), gp_Vec(), gp_Vec()
        if self.round:
            self.surface.D1(v, u, p, dv, du)
        else:
            self.surface.D1(u, v, p, du, dv)
        return [np.array([a.X(), a.Y(), a.Z()]) for a in (p, du, dv)]

    def line_of(self, x):
        """The first parameter of the line on which a spline's surface has a station."""
        v = 0.5 * (self.knots[0] + self.knots[-1])
        ends = [self.at(u, v)[0][0] for u in self.u]
        u = self.u[0] + (self.u[1] - self.u[0]) * (x - ends[0]) / (ends[1] - ends[0])
        for _ in range(20):
            p, du, _ = self.at(u, v)
            if abs(p[0] - x) < 1e-13 * (1.0 + abs(x)):
                break
            u -= (p[0] - x) / du[0]
        return u

    def place_on(self, u, p):
        """The second parameter of a point on such a line."""
        samples = np.linspace(self.knots[0], self.knots[-1], 9)
        v = min(samples, key=lambda v: np.sum((self.at(u, v)[0] - p) ** 2))
        for _ in range(50):
            q, _, dv = self.at(u, v)
            step = np.dot(p - q, dv) / np.dot(dv, dv)
            v = min(max(v + step, self.knots[0]), self.knots[-1])
            if abs(step) < 1e-15 * (self.knots[-1] - self.knots[0]):
                break
        return v

    def share(self, x):
        """What the face has of the integral of y dz."""
        found = [c for e in self.edges for c in e.crossings(x)]
        if not found:
            return 0.0
        assert abs(sum(sign for _, sign in found)) == 0.0, "the section enters a face as often as it leaves it"
        start = found[0][0]
        if self.kind == GeomAbs_Plane:
            return sum(s * 0.5 * (p[1] + start[1]) * (p[2] - start[2]) for p, s in found)
        u = self.line_of(x)
        places = [self.place_on(u, p) for p, _ in found]
        total = 0.0
        for (_, sign), v in zip(found[1:], places[1:]):
            total += sign * self.integral(u, places[0], v, x)
        return total

    def integral(self, u, start, end, x):
        low, high = min(start, end), max(start, end)
        inner = self.knots[(self.knots > low) & (self.knots < high)]
        ends = np.concatenate([[low], inner, [high]])
        total = 0.0
        for a, b in zip(ends, ends[1:]):
            for node, weight in zip(NODES, WEIGHTS):
                p, _, dv = self.at(u, a + 0.5 * (b - a) * (1.0 + node))
                assert abs(p[0] - x) < 1e-11 * (1.0 + abs(x)), "a line of the surface lies in one plane"
                total += 0.5 * (b - a) * weight * p[1] * dv[2]
        return total if end > start else -total


class Sections:
    """All sections of one solid."""

    def __init__(self, solid):
        samples = {}
        self.faces = [Face(f, samples) for f in each(solid, TopAbs_FACE)]

    def area_mm2(self, x):
        return sum(f.share(x) for f in self.faces if f.low < x < f.high)
