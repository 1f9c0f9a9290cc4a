"""Every kind of fault the library has, as an exception: its code, path, value, unit, range and remedy."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

import neckwright
from neckwright import Neck, NeckwrightError, Readings, _native

NECK = Neck(scale={"length": 640})

WALK: dict[str, Callable[[], object]] = {
    "syntax": lambda: Neck("{"),
    "unknown_key": lambda: Neck(nut={"widht": 43}),
    "wrong_type": lambda: Neck(nut={"width": True}),
    "unreadable": lambda: Neck(nut={"width": "wide"}),
    "out_of_range": lambda: Neck(nut={"width": 430}),
    "missing": lambda: Neck(shaft={"thickness": [{"thickness": 21}]}),
    "conflict": lambda: Neck('{"hand": "left", "hand": "right"}'),
    "too_large": lambda: Neck("{" + " " * 300_000 + "}"),
    "newer_format": lambda: Neck(format=2),
    "geometry": lambda: Neck(rod={"start": 300, "end": 100}),
    "outside_neck": lambda: NECK.thickness_mm(2000),
    "buffer": lambda: NECK.thickness_mm([1.0], out=np.empty(2)),
    "too_deep": lambda: NECK.carving_plan(cutter={"radius": 40}),
    "too_small": lambda: NECK.carving_plan(thickness="20 mm"),
}

HEADER = (Path(__file__).resolve().parents[2] / "bindings-c" / "include" / "neckwright.h").read_text(encoding="utf-8")
# Those of the library itself; from 1000 on they are C's own.
CODES = {name.lower(): int(code) for name, code in re.findall(r"#define NW_([A-Z_]+) (\d+)\b", HEADER)}


def test_the_walk_is_whole() -> None:
    of_the_library = HEADER.split("#define NW_OK 0")[1].split("#define NW_NULL_POINTER")[0]
    named = [name.lower() for name in re.findall(r"#define NW_([A-Z_]+) ", of_the_library)]
    assert list(WALK) == named == list(_native._kinds)
    assert _native._kinds == {name: CODES[name] for name in named}


@pytest.mark.parametrize("kind", WALK)
def test_every_kind(kind: str) -> None:
    with pytest.raises(ValueError) as caught:
        WALK[kind]()
    error = caught.value
    assert isinstance(error, NeckwrightError)
    assert error.kind == kind and error.code == CODES[kind]
    first = error.faults[0]
    assert (error.path, error.value, error.unit, error.remedy) == (first.path, first.value, first.unit, first.remedy)
    assert error.range == (first.lowest, first.highest)
    assert first.reason and first.reason in first.message
    assert str(error).splitlines()[0] == first.message.splitlines()[0]
    assert error.more == 0


def test_all_faults_of_a_document_in_one_message() -> None:
    with pytest.raises(NeckwrightError) as caught:
        Neck(nut={"width": 430}, scale={"lenght": 640}, frets={"count": 99})
    assert sorted(fault.path for fault in caught.value.faults) == ["frets.count", "nut.width", "scale.lenght"]
    assert str(caught.value) == "\n".join(fault.message for fault in caught.value.faults)
    width = next(fault for fault in caught.value.faults if fault.path == "nut.width")
    assert (width.value, width.unit, width.lowest, width.highest) == ("430", "mm", 15.0, 120.0)


def test_a_hundred_faults_are_kept_and_the_rest_counted() -> None:
    with pytest.raises(NeckwrightError) as caught:
        Neck({f"nothing {i}": 1 for i in range(250)})
    assert (len(caught.value.faults), caught.value.more) == (100, 150)
    assert str(caught.value).endswith("and 150 more")


def test_words_that_choose() -> None:
    for call in (
        lambda: NECK.carve_line_mm(0, side="left"),  # type: ignore[call-overload]
        lambda: NECK.sheet("back"),  # type: ignore[arg-type]
        lambda: neckwright.step(NECK.solids(slots=False), protocol="ap203"),  # type: ignore[arg-type]
        lambda: neckwright.sixtyfourths(1, rounding="away"),  # type: ignore[arg-type]
        lambda: neckwright.schema("neck"),  # type: ignore[arg-type]
        lambda: neckwright.bounds("neck"),  # type: ignore[arg-type]
    ):
        with pytest.raises(NeckwrightError, match="not one of") as caught:
            call()
        assert caught.value.kind == "unreadable" and caught.value.remedy
    with pytest.raises(NeckwrightError, match="it has .*contour"):
        NECK.carving_plan().stage("polishing")


def test_options_are_checked() -> None:
    board = NECK.solids(slots=False)[1]
    with pytest.raises(NeckwrightError) as caught:
        board.mesh(chord=100)
    assert (caught.value.path, caught.value.unit, caught.value.range) == ("chord", "mm", (0.0005, 5.0))
    with pytest.raises(NeckwrightError, match="did you mean chord"):
        board.mesh(cord=1)  # type: ignore[call-arg]
    with pytest.raises(NeckwrightError, match="colours"):
        neckwright.step([board], colours=[])
    with pytest.raises(TypeError):
        neckwright.step([board, None])  # type: ignore[list-item]


def test_a_key_given_twice_in_a_text_that_is_changed() -> None:
    text = '{"nut": {"width": 43, "width": 44}}'
    for make in (lambda: Neck(text), lambda: Neck(text, hand="left"), lambda: NECK.carving_plan('{"board": {}, "board": {}}', thickness=45)):
        with pytest.raises(NeckwrightError, match="given twice") as caught:
            make()
        assert caught.value.kind == "conflict" and caught.value.path in ("nut.width", "board")
    with pytest.raises(NeckwrightError, match="not JSON"):
        Neck("{", hand="left")


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf, np.float32("nan"), 10**400])
def test_what_is_no_finite_number_is_told_with_its_range(number: float) -> None:
    thickness = [{"at": 0, "thickness": 21}, {"at": 300, "thickness": number}]
    with pytest.raises(NeckwrightError) as caught:
        Neck(nut={"width": number}, shaft={"thickness": thickness})
    assert [fault.path for fault in caught.value.faults] == ["nut.width", "shaft.thickness[1].thickness"]
    rows = {row.path: row for row in neckwright.bounds("specification")}
    for fault, row in zip(caught.value.faults, ("nut.width", "shaft.thickness[].thickness"), strict=True):
        assert (fault.lowest, fault.highest, fault.unit) == (rows[row].lowest, rows[row].highest, "mm")
        assert fault.remedy.startswith("give ")
    with pytest.raises(NeckwrightError) as caught:
        NECK.solids(slots=False)[1].mesh(chord=math.nan)
    assert (caught.value.path, caught.value.range, caught.value.unit) == ("chord", (0.0005, 5.0), "mm")


def test_a_name_of_a_file_is_no_table(tmp_path: Path) -> None:
    with pytest.raises(NeckwrightError) as caught:
        Readings.from_csv("readings")
    assert caught.value.path == "text" and "pathlib.Path" in caught.value.remedy
    with pytest.raises(FileNotFoundError):
        Readings.from_csv("nothing.csv")
    with pytest.raises(FileNotFoundError):
        Readings("nothing.json")
    table = tmp_path / "readings.csv"
    table.write_text("at,quantity,value\nfret 5,thickness,22.3\n")
    for given in (table, str(table)):
        with pytest.raises(NeckwrightError, match=r"Readings\.from_csv"):
            Readings(given)
