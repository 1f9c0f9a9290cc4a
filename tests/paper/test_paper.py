"""Sheets as other programs read them: DXF by ezdxf, PDF by MuPDF, SVG by its numbers and as resvg draws it.

The files and ``expected.json`` are those that ``cargo run --bin paper`` writes to the folder that
``NECKWRIGHT_PAPER`` names.
"""

import json
import math
import os
import pathlib
import re
import xml.etree.ElementTree as ElementTree
from collections import defaultdict

import ezdxf
import numpy
import pymupdf
import pytest
import resvg_py
from ezdxf.lldxf.encoding import decode_dxf_unicode

FOLDER = pathlib.Path(os.environ["NECKWRIGHT_PAPER"])
EXPECTED = json.loads((FOLDER / "expected.json").read_text(encoding="utf-8"))
MM = 72 / 25.4
BARS_MM = [100.0, 101.6]
# At this resolution each millimetre has ten pixels, and pages are whole ones wide.
DPI, PER_MM = 254, 10
# ISO 216 and ANSI/ASME Y14.1.
PAPERS_MM = {"a4.pdf": (210, 297), "letter.pdf": (215.9, 279.4), "letter_wide.pdf": (215.9, 279.4)}


def files(suffix):
    return sorted(name for name in EXPECTED if name.endswith(suffix))


# ---- lengths -----------------------------------------------------------------------------------------------------------

NODES, WEIGHTS = numpy.polynomial.legendre.leggauss(24)


def cubic_length(p, depth=0):
    """Length of a cubic Bézier: 24 places by Gauss's rule, halved until the halves agree (random ones have near cusps)."""
    p = numpy.asarray(p, dtype=float)

    def rule(p):
        sides = 3 * numpy.diff(p, axis=0)
        t = (NODES[:, None] + 1) / 2
        return float(numpy.linalg.norm((1 - t) ** 2 * sides[0] + 2 * t * (1 - t) * sides[1] + t**2 * sides[2], axis=1) @ WEIGHTS) / 2

    first = (p[:-1] + p[1:]) / 2
    second = (first[:-1] + first[1:]) / 2
    middle = (second[0] + second[1]) / 2
    halves = (numpy.array([p[0], first[0], second[0], middle]), numpy.array([middle, second[1], first[2], p[3]]))
    if abs(rule(p) - rule(halves[0]) - rule(halves[1])) <= 1e-11 or depth == 40:
        return rule(halves[0]) + rule(halves[1])
    return sum(cubic_length(half, depth + 1) for half in halves)


def spline_length(entity):
    """Of the Béziers into which the reader takes the B-spline apart."""
    beziers = entity.construction_tool().bezier_decomposition()
    return sum(cubic_length([point.vec2 for point in bezier]) for bezier in beziers)


def polyline_length(entity):
    points = list(entity.get_points("xyb"))
    if entity.closed:
        points.append(points[0])
    total = 0.0
    for (x, y, bulge), (to_x, to_y, _) in zip(points, points[1:]):
        chord = math.hypot(to_x - x, to_y - y)
        # A bulge is the tangent of a quarter of the turn.
        turn = 4 * math.atan(abs(bulge))
        total += chord if bulge == 0 else chord * turn / (2 * math.sin(turn / 2))
    return total


def entity_length(entity):
    dxf = entity.dxf
    match entity.dxftype():
        case "LINE":
            return dxf.start.distance(dxf.end)
        case "CIRCLE":
            return math.tau * dxf.radius
        case "ARC":
            return math.radians((dxf.end_angle - dxf.start_angle) % 360) * dxf.radius
        case "LWPOLYLINE":
            return polyline_length(entity)
        case "SPLINE":
            return spline_length(entity)
        case "TEXT":
            return 0.0
    raise AssertionError(f"an entity nobody asked for: {entity}")


def shown(words):
    """What a drawing shows of an encoded text: `^ ` is `^`, and two halves of a letter beyond 16 bits are one."""
    return decode_dxf_unicode(words).replace("^ ", "^").encode("utf-16", "surrogatepass").decode("utf-16")


# ---- DXF ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", files(".dxf"))
def test_dxf(name):
    facts = EXPECTED[name]
    document = ezdxf.readfile(FOLDER / name)
    audit = document.audit()
    assert not audit.errors and not audit.fixes, (audit.errors, audit.fixes)
    assert document.dxfversion == "AC1015"
    assert document.header["$INSUNITS"] == facts["insunits"]
    assert document.header["$MEASUREMENT"] == (1 if facts["insunits"] == 4 else 0)
    lengths = defaultdict(float)
    for entity in document.modelspace():
        lengths[entity.dxf.layer] += entity_length(entity) * facts["unit_mm"]
    lengths = {layer: length for layer, length in lengths.items() if length > 0}
    assert lengths.keys() == facts["lengths"].keys()
    for layer, length in lengths.items():
        assert abs(length - facts["lengths"][layer]) <= 1e-6, layer
    texts = document.modelspace().query("TEXT")
    assert sorted(shown(text.dxf.text) for text in texts) == sorted(facts["words"])
    assert all(text.dxf.height * facts["unit_mm"] >= 1.5 for text in texts)
    # ASCII only, so that no reader has to guess an encoding.
    (FOLDER / name).read_bytes().decode("ascii")


def test_dxf_layers_are_told_apart_without_colour():
    document = ezdxf.readfile(FOLDER / "class/all.dxf")
    ours = [layer for layer in document.layers if layer.dxf.name not in ("0", "Defpoints")]
    assert len(ours) == 18
    assert {layer.dxf.color for layer in ours} == {7}
    by_name = {layer.dxf.name: layer for layer in ours}
    assert by_name["outline"].dxf.lineweight == 50 and by_name["hidden"].dxf.lineweight == 25
    for name in ("hidden", "finished", "cut-line", "centreline"):
        assert by_name[name].dxf.linetype == name
    pattern = document.linetypes.get("hidden").simplified_line_pattern()
    assert [abs(dash) for dash in pattern] == [3.0, 1.5]


def test_smooth_cubics_are_one_spline_and_straight_through_joints_take_no_needless_knots():
    splines = ezdxf.readfile(FOLDER / "shapes/all.dxf").modelspace().query("SPLINE")
    inner = [numpy.unique(s.knots, return_counts=True)[1][1:-1] for s in splines]
    assert {int(count) for counts in inner for count in counts} == {2, 3}


# ---- the bars in a picture ------------------------------------------------------------------------------------------------


def grey(pixels):
    """Ink from 0 to 1, by rows of pixels from the top."""
    levels = numpy.frombuffer(pixels.samples, dtype=numpy.uint8).reshape(pixels.height, pixels.width, pixels.n)
    assert pixels.colorspace.n == 1 or (levels[:, :, 0] == levels[:, :, 2]).all(), "nothing is coloured"
    return 1.0 - levels[:, :, 0] / 255.0


def bar_in(ink, left, right, y):
    """How long a bar is in a picture, in mm: between the middles of the ink of the strokes at its ends.

    Where those are is known to a pixel, `y` being the bar's line; a stroke is longer than all others between the two. Of so many
    rows the middle is known to a few thousandths of a pixel.
    """
    # Beyond what the shorter strokes reach, above the line and below it, and a millimetre to both sides.
    rows = [round((y + off + k / PER_MM) * PER_MM) for off in (-2.3, 1.7) for k in range(round(0.6 * PER_MM))]
    middles = []
    for x in (left, right):
        columns = numpy.arange(round((x - 1) * PER_MM), round((x + 1) * PER_MM))
        stroke = ink[numpy.ix_(rows, columns)].mean(axis=0)
        assert 0.1 < stroke.sum() / PER_MM < 0.6, "one stroke and nothing else, as wide as lines are"
        middles.append(float(stroke @ (columns + 0.5) / stroke.sum()))
    return (middles[1] - middles[0]) / PER_MM


# ---- PDF ---------------------------------------------------------------------------------------------------------------


def drawn(page):
    """Lengths and counts on each layer, in mm, and the level lines on the bars' layer: from where to where at what height."""
    lengths, counts, level = defaultdict(float), defaultdict(int), []
    for drawing in page.get_drawings():
        first = None
        counts[drawing["layer"]] += len(drawing["items"])
        for item in drawing["items"]:
            if item[0] in ("re", "qu"):
                # MuPDF sees that four lines are a rectangle.
                corners = item[1].quad if item[0] == "re" else item[1]
                around = [numpy.array(p) / MM for p in (corners.ul, corners.ur, corners.lr, corners.ll, corners.ul)]
                lengths[drawing["layer"]] += sum(float(numpy.linalg.norm(q - p)) for p, q in zip(around, around[1:]))
                continue
            assert item[0] in "lc", item
            points = [numpy.array(p) / MM for p in item[1:]]
            first = points[0] if first is None else first
            if item[0] == "l":
                length = float(numpy.linalg.norm(points[1] - points[0]))
                if drawing["layer"] == "check-bars" and abs(points[1][1] - points[0][1]) < 1e-6:
                    level.append((*sorted((points[0][0], points[1][0])), points[0][1]))
            else:
                length = cubic_length(points)
            lengths[drawing["layer"]] += length
            last = points[-1]
        if drawing["closePath"] and first is not None:
            lengths[drawing["layer"]] += float(numpy.linalg.norm(last - first))
    return lengths, counts, level


def bars_drawn(page, level):
    """How long the bars are in a picture of the page."""
    for x, to_x, y in level:
        # Cut out on whole millimetres, so that pixels begin there.
        corners = [math.floor(x - 3), math.floor(y - 4), math.ceil(to_x + 3), math.ceil(y + 4)]
        clip = pymupdf.Rect(*corners) * pymupdf.Matrix(MM, MM)
        pixels = page.get_pixmap(matrix=pymupdf.Matrix(PER_MM / MM, PER_MM / MM), clip=clip, colorspace=pymupdf.csGRAY, alpha=False)
        ink = grey(pixels)
        left, top = pixels.x / PER_MM, pixels.y / PER_MM
        yield bar_in(ink, x - left, to_x - left, y - top)


@pytest.mark.parametrize("name", files(".pdf"))
def test_pdf(name):
    document = pymupdf.open(FOLDER / name)
    pages = EXPECTED[name]["pages"]
    assert document.page_count == len(pages)
    chapters = [0] + [i for i in range(1, len(pages)) if pages[i]["chapter"] != pages[i - 1]["chapter"]]
    assert [page for _, _, page in document.get_toc()] == [i + 1 for i in chapters]
    assert [title for _, title, _ in document.get_toc()] == EXPECTED[name]["titles"]
    assert "PrintScaling/None" in document.xref_object(document.pdf_catalog(), compressed=True)
    for page, facts in zip(document, pages):
        size = [page.mediabox.width / MM, page.mediabox.height / MM]
        assert size == pytest.approx(facts["size_mm"], abs=1e-3)
        paper = PAPERS_MM.get(name.split("/")[1])
        if paper:
            assert sorted(size) == pytest.approx(sorted(paper), abs=1e-3)
            assert facts["bars"]
        lengths, counts, level = drawn(page)
        if facts["bars"]:
            assert sorted(to_x - x for x, to_x, _ in level) == pytest.approx(BARS_MM, abs=0.01), page
            assert sorted(bars_drawn(page, level)) == pytest.approx(BARS_MM, abs=0.01), page
        assert {l for l, length in lengths.items() if length > 0} == facts["lengths"].keys()
        for layer, length in facts["lengths"].items():
            # Numbers have four decimals, and MuPDF's have 24 bits.
            assert lengths[layer] == pytest.approx(length, rel=2e-5, abs=1e-3 + 1e-4 * counts[layer]), layer


@pytest.mark.parametrize("name", files(".pdf"))
def test_pdf_words_stay_on_the_page_and_are_found(name):
    document = pymupdf.open(FOLDER / name)
    for page, facts in zip(document, EXPECTED[name]["pages"]):
        free = page.mediabox + (1, 1, -1, -1)
        words = ""
        for block in page.get_text("rawdict")["blocks"]:
            for line in block["lines"]:
                assert pymupdf.Rect(line["bbox"]) in free, line
                words += "".join(c["c"] for span in line["spans"] for c in span["chars"]) + "\n"
        # Each letter where it is expected, the order of lines being the reader's.
        squeezed = sorted(re.sub(r"\s", "", words))
        spelled = re.sub(r"\s", "", "".join(facts["words"]))
        assert squeezed == sorted(spelled)


def test_pdf_layers():
    document = pymupdf.open(FOLDER / "class/a4.pdf")
    names = {layer["name"] for layer in document.get_ocgs().values()}
    assert {"outline", "fret-slots", "check-bars", "words", "page-marks", "seams"} <= names
    # Switched off, a layer is not drawn.
    config = {layer["name"]: xref for xref, layer in document.get_ocgs().items()}
    before = document[0].get_pixmap(dpi=60).samples
    document.set_layer(-1, off=[config["outline"]])
    document = pymupdf.open("pdf", document.tobytes())
    assert document[0].get_pixmap(dpi=60).samples != before


@pytest.mark.parametrize("name", files(".pdf"))
def test_nothing_is_drawn_on_the_edge_that_printers_do_not_reach(name):
    paper = PAPERS_MM.get(name.split("/")[1])
    if paper is None:
        return
    document = pymupdf.open(FOLDER / name)
    for page in document:
        pixels = page.get_pixmap(dpi=50, colorspace=pymupdf.csGRAY, alpha=False)
        image = numpy.frombuffer(pixels.samples, dtype=numpy.uint8).reshape(pixels.height, pixels.width)
        edge = int(9.0 / 25.4 * 50)
        inner = image[edge:-edge, edge:-edge]
        assert inner.min() < 128
        assert (image < 255).sum() == (inner < 255).sum(), page


# ---- SVG ---------------------------------------------------------------------------------------------------------------


def svg_bars(name):
    """The level lines on the bars' layer: where each begins and ends, and its height on the page, in mm."""
    space = "{http://www.w3.org/2000/svg}"
    root = ElementTree.parse(FOLDER / name).getroot()
    bars = next(g for g in root.iter(f"{space}g") if g.get("id") == "check-bars")
    for path in bars.findall(f"{space}path"):
        x, y, to_x, to_y = map(float, re.fullmatch(r"M(\S+) (\S+)L(\S+) (\S+)", path.get("d")).groups())
        if y == to_y:
            yield x, to_x, y


@pytest.mark.parametrize("name", files(".svg"))
def test_svg(name):
    facts = EXPECTED[name]
    root = ElementTree.parse(FOLDER / name).getroot()
    width, height = (root.get(side) for side in ("width", "height"))
    assert root.get("viewBox") == f"0 0 {width.removesuffix('mm')} {height.removesuffix('mm')}"
    assert [float(width.removesuffix("mm")), float(height.removesuffix("mm"))] == facts["size_mm"]
    assert sorted(to_x - x for x, to_x, _ in svg_bars(name)) == pytest.approx(BARS_MM, abs=0.01)


@pytest.mark.parametrize("name", [n for n in files(".svg") if n.endswith("/a4_A1.svg")] + ["class/letter_A1.svg"])
def test_svg_bars_as_drawn_by_a_program(name):
    png = resvg_py.svg_to_bytes(svg_path=str(FOLDER / name), dpi=DPI, skip_system_fonts=True)
    ink = grey(pymupdf.Pixmap(png))
    wide, high = EXPECTED[name]["size_mm"]
    assert ink.shape == (round(high * PER_MM), round(wide * PER_MM))
    measured = [bar_in(ink, x, to_x, y) for x, to_x, y in svg_bars(name)]
    assert sorted(measured) == pytest.approx(BARS_MM, abs=0.01)
