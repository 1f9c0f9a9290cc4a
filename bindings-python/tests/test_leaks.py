"""Nothing that is called over and over keeps memory: every function and every attribute of every class, refusals too."""

from __future__ import annotations

import ctypes
import gc
import inspect
import pickle
import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

import neckwright
from everything import everything, scan
from neckwright import Neck, NeckwrightError, Readings, _native
from test_documentation import PLACES

ONE = everything()
NECK, READ, LOW = ONE["neck"], ONE["readings"], ONE["low readings"]
SOLIDS = NECK.solids(slots=False)
SPLINE = next(face for face in SOLIDS[0].faces if face.surface == "spline")
CURVE = next(edge for edge in SOLIDS[0].edges if edge.curve == "spline")
X = np.linspace(0.0, 300.0, 40)
OUT = np.empty_like(X)
GIRTHS = np.full(10, 60.0)
SAME: Neck = Neck(NECK.to_json())
POINTS = scan()[::4].copy()
SHEETS = [ONE["sheet"]]
INDICES = np.empty((len(ONE["mesh"].triangles), 3), np.uint32)
VERTICES = [np.empty((len(ONE["mesh"].positions_mm), width)) for width in (3, 3, 2)]

OBJECTS = {
    "CarvingPlan": ONE["plan"],
    "Copied": ONE["copied"],
    "Edge": CURVE,
    "Face": SPLINE,
    "Inspection": ONE["inspection"],
    "Layout": ONE["layout"],
    "Mending": ONE["mending"],
    "Mesh": ONE["mesh"],
    "Neck": NECK,
    "Readings": READ,
    "Section": ONE["section"],
    "Sheet": ONE["sheet"],
    "Solid": SOLIDS[1],
    "Stage": ONE["stage"],
    "Wood": ONE["wood"],
}

WITH_ARGUMENTS: dict[str, Callable[[], object]] = {
    "CarvingPlan.stage": lambda: ONE["plan"].stage("contour"),
    "Copied.number": lambda: ONE["copied"].number("nothing"),
    "Copied.sharpest_next": lambda: ONE["copied"].sharpest_next(1),
    "Copied.thickness_uncertainty_mm": lambda: ONE["copied"].thickness_uncertainty_mm([100.0, "fret 5"]),
    "Edge.at": lambda: CURVE.at(CURVE.knots[0]),
    "Face.at": lambda: SPLINE.at(SPLINE.knots[0][0], SPLINE.knots[1][0]),
    "Inspection.low_readings": lambda: ONE["inspection"].low_readings(READ),
    "Layout.gap_mm": lambda: ONE["layout"].gap_mm(X, string=0),
    "Layout.hump": lambda: ONE["layout"].hump(0, "nut", "fret 12"),
    "Layout.margins_mm": lambda: ONE["layout"].margins_mm(X),
    "Layout.spacing_mm": lambda: ONE["layout"].spacing_mm(X, string=0, out=OUT),
    "Layout.string_y_mm": lambda: ONE["layout"].string_y_mm(100, string=0),
    "Mesh.indices_into": lambda: ONE["mesh"].indices_into(INDICES),
    "Mesh.vertices_into": lambda: ONE["mesh"].vertices_into(*VERTICES),
    "Neck.back_grid": lambda: NECK.back_grid(X, 5),
    "Neck.carve_line_mm": lambda: NECK.carve_line_mm(X, side="bass"),
    "Neck.compare": lambda: NECK.compare(NECK),
    "Neck.copy_cloud": lambda: NECK.copy_cloud(POINTS, hand="as base"),
    "Neck.copy_neck": lambda: NECK.copy_neck(READ),
    "Neck.fret_at": lambda: NECK.fret_at(X),
    "Neck.girth_mm": lambda: NECK.girth_mm(X),
    "Neck.inspect": lambda: NECK.inspect(READ),
    "Neck.mend": lambda: NECK.mend(LOW),
    "Neck.place_cloud": lambda: NECK.place_cloud(POINTS, hand="as base"),
    "Neck.rod_wall_mm": lambda: NECK.rod_wall_mm(list(X)),
    "Neck.section": lambda: NECK.section("fret 5"),
    "Neck.section_moments": lambda: NECK.section_moments(X),
    "Neck.section_sheet": lambda: NECK.section_sheet([10, 200]),
    "Neck.sheet": lambda: NECK.sheet("plan"),
    "Neck.station_mm": lambda: NECK.station_mm("fret 5"),
    "Neck.thickness_mm": lambda: NECK.thickness_mm(X, out=OUT),
    "Neck.width_mm": lambda: NECK.width_mm(range(10)),
    "Neck.within": lambda: NECK.within(SAME, tolerance_mm="0.1 mm"),
    "Neck.with_": lambda: NECK.with_(nut={"width": "44 mm"}),
    "Readings.check_on": lambda: READ.check_on(NECK),
    "Readings.from_csv": lambda: Readings.from_csv("at,quantity,value\nfret 5,thickness,22.3\n"),
    "Readings.from_json": lambda: Readings.from_json('{"readings": []}'),
    "Readings.number": lambda: READ.number(1),
    "Section.control_points_mm": lambda: ONE["section"].control_points_mm(side="treble"),
    "Wood.area_mm2": lambda: ONE["wood"].area_mm2([100.0]),
    "Wood.contains_mm": lambda: ONE["wood"].contains_mm([[100, 0, -3]]),
    "Wood.depth_mm": lambda: ONE["wood"].depth_mm(100),
    "Wood.polyline_mm": lambda: ONE["wood"].polyline_mm(100),
    "angle_deg": lambda: neckwright.angle_deg("1 in 6"),
    "bounds": lambda: neckwright.bounds("stock"),
    "dxf": lambda: neckwright.dxf(SHEETS),
    "fret_positions_mm": lambda: neckwright.fret_positions_mm("640 mm", 24),
    "fret_positions_of_cents_mm": lambda: neckwright.fret_positions_of_cents_mm([700, 1200], 640, 2),
    "fret_positions_of_ratios_mm": lambda: neckwright.fret_positions_of_ratios_mm([1.5, 2], 640, 2),
    "gltf": lambda: neckwright.gltf([ONE["mesh"]]),
    "length_mm": lambda: neckwright.length_mm("25 1/2 in"),
    "pdf": lambda: neckwright.pdf(SHEETS),
    "rounded_positions": lambda: neckwright.rounded_positions(640, 12, 0.1),
    "sagitta_mm": lambda: neckwright.sagitta_mm(400, X[:10]),
    "scarf": lambda: neckwright.scarf(13, 20),
    "schema": lambda: neckwright.schema("stock"),
    "sixtyfourths": lambda: neckwright.sixtyfourths(43),
    "step": lambda: neckwright.step([SOLIDS[1]]),
    "stl": lambda: neckwright.stl([ONE["mesh"]]),
    "threemf": lambda: neckwright.threemf([ONE["mesh"]]),
    "usual_gauges_mm": lambda: neckwright.usual_gauges_mm(6),
}

OTHERS: dict[str, Callable[[], object]] = {
    "a station off the neck": lambda: _refused(lambda: NECK.thickness_mm([1.0, -1e9])),
    "a wrong type": lambda: _refused(lambda: NECK.thickness_mm(None)),
    "a wrong argument": lambda: _refused(lambda: NECK.compare(5)),
    "a wrong document": lambda: _refused(lambda: Neck(nut={"width": float("nan")}, neck=1)),  # type: ignore[call-arg]
    "a key given twice": lambda: _refused(lambda: Neck('{"nut": 1, "nut": 2}', hand="left")),
    "a scan that shows too little": lambda: _refused(lambda: NECK.copy_cloud(POINTS[:50])),
    "arrays that share memory": lambda: _refused(lambda: ONE["mesh"].vertices_into(VERTICES[0], VERTICES[0], VERTICES[2])),
    "in place": lambda: NECK.girth_mm(GIRTHS, out=GIRTHS),
    "comparing": lambda: (NECK == SAME, hash(READ), READ == LOW),
    "a pickle": lambda: pickle.loads(pickle.dumps(ONE["section"])),
}


def _refused(call: Callable[[], object]) -> None:
    with pytest.raises((NeckwrightError, TypeError)):
        call()


def _calls() -> dict[str, Callable[[], object]]:
    calls = dict(OTHERS)
    for name in PLACES:
        first, _, attribute = name.partition(".")
        if first not in _native.__all__:
            continue
        if name in WITH_ARGUMENTS:
            calls[name] = WITH_ARGUMENTS[name]
        elif attribute:
            one = OBJECTS[first]
            asks = callable(getattr(one, attribute))
            calls[name] = lambda one=one, attribute=attribute, asks=asks: getattr(one, attribute)() if asks else getattr(one, attribute)  # type: ignore[misc]
        elif not inspect.isclass(PLACES[name]):
            calls[name] = PLACES[name]  # type: ignore[assignment]
    return calls


CALLS = _calls()


def test_the_list_is_whole() -> None:
    assert set(WITH_ARGUMENTS) <= set(CALLS), set(WITH_ARGUMENTS) - set(CALLS)
    assert {name for name in _native.__all__ if inspect.isclass(getattr(_native, name))} == set(OBJECTS)


class _Memory(ctypes.Structure):
    """What the C library's own account of its memory looks like."""

    _fields_ = [(name, ctypes.c_size_t) for name in "arena ordblks smblks hblks hblkhd usmblks fsmblks uordblks fordblks keepcost".split()]


def _account() -> Callable[[], tuple[int, int]]:
    """Bytes that are taken from the C library, as Rust takes them, and blocks of Python's own."""
    told = ctypes.CDLL(None).mallinfo2
    told.restype = _Memory

    def taken() -> tuple[int, int]:
        gc.collect()
        memory = told()
        return memory.uordblks + memory.hblkhd, sys.getallocatedblocks()

    return taken


ROUNDS = {"all": 0}


@pytest.mark.skipif(not hasattr(ctypes.CDLL(None), "mallinfo2"), reason="this C library keeps no account")
@pytest.mark.parametrize("name", CALLS)
def test_nothing_is_kept(name: str) -> None:
    call, taken = CALLS[name], _account()
    begun = time.perf_counter()
    for _ in range(3):
        call()
    rounds = max(3, min(1000, int(0.25 / (time.perf_counter() - begun + 1e-9) * 3)))
    for _ in range(rounds // 4):
        call()
    kept = []
    # What the interpreter and numpy keep ready for the next time is full after a while: the least of several counts.
    for _ in range(8):
        before = taken()
        for _ in range(rounds):
            call()
        after = taken()
        ROUNDS["all"] += rounds
        kept.append((after[0] - before[0], after[1] - before[1]))
        if kept[-1][0] < rounds and kept[-1][1] < 16 + rounds // 50:
            return
    raise AssertionError((rounds, kept))


@pytest.mark.skipif(not hasattr(ctypes.CDLL(None), "mallinfo2"), reason="this C library keeps no account")
def test_a_leak_would_be_seen() -> None:
    """The account tells of ten kept bytes a round, Python's of a kept object."""
    taken, kept = _account(), []
    before = taken()
    for _ in range(1000):
        kept.append(bytes(700))
    after = taken()
    assert after[0] - before[0] > 500_000
    before = after
    for number in range(1000):
        kept.append(str(number).encode())
    assert taken()[1] - before[1] > 900


def test_there_were_rounds_enough() -> None:
    assert ROUNDS["all"] == 0 or ROUNDS["all"] > 100_000
