"""What is wrong with an argument is told under its name, with its range, whatever is given."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

import neckwright
from neckwright import Neck, NeckwrightError, Readings, gltf, pdf, step

NECK = Neck(scale={"length": 640})
LAYOUT, PLAN = NECK.layout(), NECK.carving_plan()
SOLIDS = NECK.solids(slots=False)
MESH, SHEET = SOLIDS[1].mesh(chord=1), NECK.sheet("side")
READINGS = Readings([{"at": 100, "quantity": "thickness", "value": 22.0}])
COPIED = NECK.copy_neck(Readings([{"at": x, "quantity": "thickness", "value": NECK.thickness_mm(x)} for x in (60.0, 200.0)]))
SPLINE = next(face for face in SOLIDS[0].faces if face.surface == "spline")
EDGE = next(edge for edge in SOLIDS[0].edges if edge.curve == "spline")
Call = Callable[[Any], object]

COUNTS: dict[str, tuple[Call, str]] = {
    "fret_count": (lambda n: neckwright.fret_positions_mm(640, n), "fret_count"),
    "divisions": (lambda n: neckwright.fret_positions_mm(640, 12, divisions=n), "divisions"),
    "usual_gauges_mm": (neckwright.usual_gauges_mm, "count"),
    "back_grid": (lambda n: NECK.back_grid([100.0], n), "columns"),
    "spacing_mm": (lambda n: LAYOUT.spacing_mm(0, string=n), "string"),
    "hump": (lambda n: LAYOUT.hump(n, 0, 100), "string"),
    "sharpest_next": (COPIED.sharpest_next, "most"),
    "number": (READINGS.number, "place"),
}


@pytest.mark.parametrize("name", COUNTS)
def test_counts_out_of_every_range(name: str) -> None:
    call, argument = COUNTS[name]
    for count in (-1, -(2**80), 2**80):
        with pytest.raises(NeckwrightError) as caught:
            call(count)
        assert (caught.value.kind, caught.value.path, caught.value.value) == ("out_of_range", argument, str(count))
        assert caught.value.range[0] == 0.0
    for wrong in (True, False, np.True_, 1.5, "1", None):
        with pytest.raises(TypeError, match=rf"^{argument}: a whole number is needed, not "):
            call(wrong)


def test_a_reading_that_is_not_there() -> None:
    assert READINGS.number(0) == 0
    with pytest.raises(NeckwrightError) as caught:
        READINGS.number(1)
    assert (caught.value.path, caught.value.range) == ("place", (0.0, 0.0))


NUMBERS: dict[str, tuple[Call, str]] = {
    "fret_positions_mm": (lambda x: neckwright.fret_positions_mm(x, 12), "scale_mm"),
    "rounded_positions": (lambda x: neckwright.rounded_positions(640, 12, x), "grid_mm"),
    "scarf, angle": (lambda x: neckwright.scarf(x, 20), "angle_deg"),
    "scarf, stock": (lambda x: neckwright.scarf(13, x), "stock_mm"),
    "sixtyfourths": (neckwright.sixtyfourths, "length_mm"),
    "polyline_mm": (NECK.section(100).polyline_mm, "chord_mm"),
    "a polyline of the wood": (lambda x: PLAN.start().polyline_mm(x), "x_mm"),
    "contains_mm": (lambda x: PLAN.start().contains_mm([[0, 0, 0]], within_mm=x), "within_mm"),
    "within": (lambda x: NECK.within(NECK, tolerance_mm=x), "tolerance_mm"),
    "hump": (lambda x: LAYOUT.hump(0, x, 100), "from_mm"),
    "edge": (EDGE.at, "t"),
    "face": (lambda x: SPLINE.at(x, 0), "s"),
}


@pytest.mark.parametrize("name", NUMBERS)
def test_what_is_no_number(name: str) -> None:
    call, argument = NUMBERS[name]
    for wrong in (True, np.True_, None, [], object(), 1j):
        with pytest.raises((TypeError, NeckwrightError), match=rf"^{argument}\b"):
            call(wrong)


WORDS_AND_OBJECTS: dict[str, tuple[Callable[[], object], str]] = {
    "side": (lambda: NECK.carve_line_mm(0, side=5), "side: a text is needed, not int"),  # type: ignore[call-overload]
    "part": (lambda: NECK.section(0).area_mm2() and NECK.section(0).moments(part=None), "part: a text"),  # type: ignore[arg-type]
    "subject": (lambda: neckwright.schema(5), "subject: a text"),  # type: ignore[arg-type]
    "angle": (lambda: neckwright.angle_deg(5), "text: a text"),  # type: ignore[arg-type]
    "compare": (lambda: NECK.compare(5), "other: a Neck is needed, not int"),  # type: ignore[arg-type]
    "inspect": (lambda: NECK.inspect([]), "readings: a Readings is needed, not list"),  # type: ignore[arg-type]
    "stage": (lambda: NECK.inspect(READINGS, stage="contour"), "stage: a Stage is needed, not str"),  # type: ignore[arg-type]
    "templates": (lambda: NECK.templates(5), "plan: a CarvingPlan is needed, not int"),  # type: ignore[arg-type]
    "one solid": (lambda: step(SOLIDS[0]), "solids: a sequence of Solid is needed, not Solid"),  # type: ignore[arg-type]
    "another object": (lambda: step([SOLIDS[0], MESH]), r"solids: a Solid at \[1\] is needed, not Mesh"),  # type: ignore[list-item]
    "colours": (lambda: gltf([MESH], colours="red"), "colours: a sequence of .* is needed, not str"),  # type: ignore[arg-type]
    "good": (lambda: Readings([], good=1), "good: True or False is needed, not int"),  # type: ignore[arg-type]
    "good lines": (lambda: Readings.from_csv("at", good="yes"), "good: True or False"),  # type: ignore[arg-type]
    "out": (lambda: NECK.back_grid([0.0, 1.0], 3, out=5), "out: a tuple of two arrays is needed, not int"),  # type: ignore[call-overload]
    "one sheet": (lambda: pdf(SHEET), "sheets: a sequence of Sheet is needed, not Sheet"),  # type: ignore[arg-type]
}


@pytest.mark.parametrize("name", WORDS_AND_OBJECTS)
def test_what_is_of_another_type(name: str) -> None:
    call, message = WORDS_AND_OBJECTS[name]
    with pytest.raises(TypeError, match=f"^{message}"):
        call()


EMPTY: dict[str, tuple[Call, str]] = {
    "dxf": (neckwright.dxf, "sheets"),
    "pdf": (neckwright.pdf, "sheets"),
    "step": (neckwright.step, "solids"),
    "stl": (neckwright.stl, "meshes"),
    "threemf": (neckwright.threemf, "meshes"),
    "gltf": (neckwright.gltf, "meshes"),
    "section_sheet": (NECK.section_sheet, "x_mm"),
}


@pytest.mark.parametrize("name", EMPTY)
def test_nothing_makes_no_file(name: str) -> None:
    call, argument = EMPTY[name]
    with pytest.raises(NeckwrightError) as caught:
        call([])
    assert (caught.value.kind, caught.value.path) == ("missing", argument) and caught.value.remedy


def test_parameters_off_a_spline() -> None:
    assert EDGE.knots is not None and SPLINE.knots is not None
    along, around = SPLINE.knots
    for t in (math.nan, math.inf, EDGE.knots[0] - 1.0, EDGE.knots[-1] + 1.0):
        with pytest.raises(NeckwrightError) as caught:
            EDGE.at(t)
        assert (caught.value.path, caught.value.range) == ("t", (EDGE.knots[0], EDGE.knots[-1]))
    for s, u, path in ((math.nan, around[0], "s"), (along[0], math.nan, "u"), (along[0] - 1, around[0], "s")):
        with pytest.raises(NeckwrightError) as caught:
            SPLINE.at(s, u)
        assert caught.value.path == path
    assert len(EDGE.at(EDGE.knots[0])) == 3 and len(SPLINE.at(along[-1], around[-1])) == 3


def test_strings_are_carried_on_and_a_point_without_a_place_lies_nowhere() -> None:
    near, far = (LAYOUT.spacing_mm(x, string=0) for x in (0.0, 100.0))
    assert LAYOUT.spacing_mm(-5e9, string=0) == pytest.approx(near - 5e7 * (far - near), rel=1e-6)
    wood = PLAN.start()
    assert wood.contains_mm([[math.nan, 0, 0], [100, math.nan, 0], [100, 0, math.nan]]).tolist() == [False] * 3
    with pytest.raises(NeckwrightError, match="within_mm = NaN mm: not a finite number"):
        wood.contains_mm([[0, 0, 0]], within_mm=math.nan)
    assert not NECK.within(NECK, tolerance_mm=math.nan) and not NECK.within(NECK, tolerance_mm=-1)
