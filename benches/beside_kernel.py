"""Neck beside kernel: what the library takes for a neck's solids, beside what Open CASCADE takes, in one process.

    cargo build --release -p neckwright-benches --lib
    pip install cadquery-ocp-novtk
    python benches/beside_kernel.py [target/release]

The kernel lofts neck wood and fretboard of the same neck through 17 sections each, which is less than the library builds: no
channel, no tuner holes, no slots, and near the neck between its sections only. Each time is the least of several.
"""

import ctypes
import math
import sys
import tempfile

from OCP.BRep import BRep_Tool
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepGProp import BRepGProp
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections
from OCP.collections import Array1_gp_Pnt
from OCP.GC import GC_MakeArcOfCircle
from OCP.Geom import Geom_BezierCurve
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.Message import Message, Message_Gravity
from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS

from beside import least_s, library

SECTIONS = 17
CHORD_MM = 0.02
LIBRARY = library(sys.argv[1] if len(sys.argv) > 1 else "target/release")
assert LIBRARY is not None, "cargo build --release -p neckwright-benches --lib comes first"
for name, given, told in [
    ("station", [ctypes.c_uint32, ctypes.c_double], ctypes.c_double),
    ("outline", [ctypes.c_uint32, ctypes.c_double, ctypes.c_uint32], ctypes.c_double),
    ("step", [ctypes.c_uint32], ctypes.c_size_t),
    ("sections", [ctypes.c_uint32], ctypes.c_double),
    ("mesh", [ctypes.c_double], ctypes.c_size_t),
]:
    function = getattr(LIBRARY, f"beside_{name}")
    function.argtypes, function.restype = given, told

for printer in Message.DefaultMessenger_s().Printers():
    printer.SetTraceLevel(Message_Gravity.Message_Fail)


def numbers(board, x):
    """The start of a part's outline, and its segments."""
    all_of_it = []
    while not math.isnan(number := LIBRARY.beside_outline(board, x, len(all_of_it))):
        all_of_it.append(number)
    return all_of_it[:2], [all_of_it[i : i + 7] for i in range(2, len(all_of_it), 7)]


def wire(x, start, segments):
    """An outline as the kernel's wire; lines of no length, which some sections have, are left out."""
    made = BRepBuilderAPI_MakeWire()
    at = start
    for kind, *rest in segments:
        a, b, end = rest[:2], rest[2:4], rest[4:]
        if math.dist(at, end) > 1e-6:
            points = [gp_Pnt(x, *p) for p in (at, a, b, end)]
            if kind == 1:
                edge = BRepBuilderAPI_MakeEdge(points[0], points[3]).Edge()
            elif kind == 2:
                poles = Array1_gp_Pnt(1, 4)
                for i, p in enumerate(points):
                    poles.SetValue(i + 1, p)
                edge = BRepBuilderAPI_MakeEdge(Geom_BezierCurve(poles)).Edge()
            else:
                edge = BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(points[0], points[1], points[3]).Value()).Edge()
            made.Add(edge)
        at = end
    return made.Wire()


def wires(board):
    # A little within the ends, where a part begins and ends at once.
    stations = [LIBRARY.beside_station(board, 1e-6 + (1.0 - 2e-6) * i / (SECTIONS - 1)) for i in range(SECTIONS)]
    return [wire(x, *numbers(board, x)) for x in stations]


def loft(both):
    shapes = []
    for sections in both:
        through = BRepOffsetAPI_ThruSections(True, False, 1e-6)
        for section in sections:
            through.AddWire(section)
        through.Build()
        shapes.append(through.Shape())
    return shapes


def written(shapes, path):
    writer = STEPControl_Writer()
    for shape in shapes:
        writer.Transfer(shape, STEPControl_AsIs)
    writer.Write(path)


def areas(shapes, x):
    face = BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(x, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0)), -100.0, 100.0, -100.0, 100.0)
    total = 0.0
    for shape in shapes:
        properties = GProp_GProps()
        BRepGProp.SurfaceProperties_s(BRepAlgoAPI_Common(face.Face(), shape).Shape(), properties)
        total += properties.Mass()
    return total


def meshed(shapes):
    """Triangles of fresh copies of the shapes, since a mesh stays with its shape."""
    count = 0
    for shape in shapes:
        # As fine in angle as it takes for the chord alone to count.
        BRepMesh_IncrementalMesh(shape, CHORD_MM, False, 0.5, False)
        explorer = TopExp_Explorer(shape, TopAbs_FACE)
        while explorer.More():
            count += BRep_Tool.Triangulation_s(TopoDS.Face(explorer.Current()), TopLoc_Location()).NbTriangles()
            explorer.Next()
    return count


def main():
    both = [wires(0), wires(1)]
    shapes = loft(both)
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        kernel, _ = least_s(lambda: written(loft(both), f"{folder}/loft.step"), 5)
    for slots, what in ((0, "solids and STEP"), (1, "solids with slots and STEP")):
        own, _ = least_s(lambda: LIBRARY.beside_step(slots), 20)
        rows.append((what, own, kernel, 5 if slots == 0 else None))
    own, own_triangles = least_s(lambda: LIBRARY.beside_mesh(CHORD_MM), 20)
    kernel, triangles = math.inf, 0
    for _ in range(3):
        fresh = loft(both)
        once, triangles = least_s(lambda: meshed(fresh), 1)
        kernel = min(kernel, once)
    rows.append((f"mesh at {CHORD_MM} mm", own, kernel, 200))
    print(f"{own_triangles:,} triangles, the kernel's {triangles:,} of the loft")
    count, station = 20_000, LIBRARY.beside_station(1, 0.5)
    own, total = least_s(lambda: LIBRARY.beside_sections(count), 5)
    kernel, area = least_s(lambda: areas(shapes, station), 5)
    rows.append(("section with area", own / count, kernel, 1000))
    print(f"mean section {total / count:.1f} mm², the loft's at the board's middle {area:.1f} mm²")
    print(f"{'':28}{'library':>12}{'kernel':>12}{'ratio':>10}{'wanted':>8}")
    for what, own, kernel, wanted in rows:
        told = f"{wanted:,}" if wanted else ""
        print(f"{what:28}{1e3 * own:9.4f} ms{1e3 * kernel:9.2f} ms{kernel / own:10,.1f}{told:>8}")


if __name__ == "__main__":
    main()
