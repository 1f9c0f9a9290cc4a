"""What an independent B-rep kernel, Open CASCADE, finds in a STEP file."""

from OCP.BRep import BRep_Tool
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_RetDone
from OCP.Message import Message, Message_Gravity
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_SHELL, TopAbs_SOLID, TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

for printer in Message.DefaultMessenger_s().Printers():
    printer.SetTraceLevel(Message_Gravity.Message_Fail)


def each(shape, kind):
    """The shape's parts of one kind."""
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def read(path):
    """The solids of a file, in its order."""
    reader = STEPControl_Reader()
    if reader.ReadFile(str(path)) != IFSelect_RetDone:
        raise ValueError(f"{path} could not be read")
    reader.TransferRoots()
    return list(each(reader.OneShape(), TopAbs_SOLID))


def is_valid(solid):
    return BRepCheck_Analyzer(solid).IsValid()


def is_closed(solid):
    """One shell, in which no edge is free."""
    shells = list(each(solid, TopAbs_SHELL))
    return len(shells) == 1 and BRep_Tool.IsClosed_s(shells[0])


def tolerance_mm(solid):
    """The greatest tolerance of any face, edge or vertex."""
    edges = max(BRep_Tool.Tolerance_s(TopoDS.Edge(e)) for e in each(solid, TopAbs_EDGE))
    vertices = max(BRep_Tool.Tolerance_s(TopoDS.Vertex(v)) for v in each(solid, TopAbs_VERTEX))
    faces = max(BRep_Tool.Tolerance_s(TopoDS.Face(f)) for f in each(solid, TopAbs_FACE))
    return max(edges, vertices, faces)


def volume_mm3(solid):
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid, properties, 1e-8, False, False)
    return properties.Mass()


def area_mm2(shape, within=1e-10):
    """The area of all faces, to a relative accuracy."""
    properties = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, properties, within)
    return properties.Mass()


def outline_mm(shape):
    """The length of all edges."""
    properties = GProp_GProps()
    BRepGProp.LinearProperties_s(shape, properties)
    return properties.Mass()


def common(solid, x):
    """What the solid has in common with a plane, by the kernel's boolean."""
    plane = gp_Pln(gp_Pnt(x, 0.0, 0.0), gp_Dir(1.0, 0.0, 0.0))
    face = BRepBuilderAPI_MakeFace(plane, -500.0, 500.0, -500.0, 500.0).Face()
    return BRepAlgoAPI_Common(face, solid).Shape()
