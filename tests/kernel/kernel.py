"""What an independent B-rep kernel, Open CASCADE, finds in a STEP file."""

from OCP.BRep import BRep_Tool
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
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
    BRepGProp.VolumeProperties_s(solid, properties, 1e-10, False, False)
    return properties.Mass()


def area_mm2(shape):
    properties = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, properties, 1e-10)
    return properties.Mass()
