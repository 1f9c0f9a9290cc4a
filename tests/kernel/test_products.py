"""Names, colours and the assembly of a STEP file, as the kernel's reader for documents has them."""

import pytest
from OCP.collections import Sequence_TDF_Label
from OCP.Quantity import Quantity_Color
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

import kernel  # noqa: F401 (keeps the kernel's chatter down)

# What `export_necks` colours them.
COLOURS = {"neck wood": [0.6, 0.3, 0.2], "fretboard": [0.2, 0.1, 0.05]}


def linear(c):
    """The kernel keeps colours as light (IEC 61966-2-1)."""
    return c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4


def name(label):
    attribute = TDataStd_Name()
    return attribute.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), attribute) else None


@pytest.mark.parametrize("family", ["plain", "slots", "ap214"])
def test_named_coloured_products_in_one_assembly(exported, family):
    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    XCAFApp_Application.GetApplication_s().NewDocument(TCollection_ExtendedString("MDTV-XCAF"), document)
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    reader.ReadFile(str(exported / family / "000.step"))
    assert reader.Transfer(document)
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    free = Sequence_TDF_Label()
    shapes.GetFreeShapes(free)
    assert free.Length() == 1
    assert (name(free.Value(1)), shapes.IsAssembly_s(free.Value(1))) == ("neck", True)
    parts = Sequence_TDF_Label()
    shapes.GetComponents_s(free.Value(1), parts)
    found = {}
    for i in range(1, parts.Length() + 1):
        product, colour = TDF_Label(), Quantity_Color()
        shapes.GetReferredShape_s(parts.Value(i), product)
        assert colours.GetColor(shapes.GetShape_s(product), XCAFDoc_ColorType.XCAFDoc_ColorSurf, colour)
        found[name(product)] = [colour.Red(), colour.Green(), colour.Blue()]
    assert set(found) == set(COLOURS)
    for part, colour in COLOURS.items():
        assert found[part] == pytest.approx([linear(c) for c in colour], abs=1e-6)
