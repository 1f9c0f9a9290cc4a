"""Results are values: they compare, hash, pickle and copy by what they were made from, and can't be changed."""

from __future__ import annotations

import copy
import pickle
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import neckwright
from neckwright import Neck, NeckwrightError, Readings, records

NECK = Neck(scale={"length": 640}, nut={"width": "1 11/16 in"})


def _readings() -> Readings:
    stations = (60.0, 90.0, 120.0, 150.0, 180.0, 210.0, 240.0, 270.0)
    # One low place among wood that still stands.
    off = {150.0: -0.4}
    return Readings([{"at": x, "quantity": "thickness", "value": NECK.thickness_mm(x) + off.get(x, 0.3)} for x in stations])


def _everything() -> dict[str, Any]:
    plan, readings = NECK.carving_plan(thickness="45 mm"), _readings()
    stage = plan.stage("contour")
    inspection = NECK.inspect(readings, stage=stage)
    low = inspection.low_readings(readings)
    solids = NECK.solids()
    return {
        "neck": NECK,
        "varied": NECK.with_(nut={"width": 44}),
        "layout": NECK.layout(),
        "section": NECK.section("fret 5"),
        "plan": plan,
        "stage": stage,
        "wood": stage.wood,
        "blanks": plan.start(),
        "stage's solid": stage.wood.solids()[0],
        "readings": readings,
        "readings of a table": Readings.from_csv("at,quantity,value\nfret 5,thickness,22.3\n"),
        "inspection": inspection,
        "inspection by options": NECK.inspect(readings, unit="in"),
        "low readings": low,
        "mending": NECK.mend(low, least_thickness=9),
        "copied": NECK.copy_neck(readings, robust=True),
        "solid": solids[0],
        "board": solids[1],
        "face": solids[0].faces[3],
        "edge": solids[0].edges[3],
        "mesh": solids[1].mesh(chord=0.2),
        "sheet": NECK.sheet("side"),
        "gauges": NECK.sheet("positive_gauges", allowance=0.5),
        "template": NECK.templates(plan, offset=2)[1],
        "page": plan.sheets()[2],
        "map": inspection.sheet(),
        "sections": NECK.section_sheet([10, 200]),
        "row": NECK.caliper_card()[3],
        "volumes": NECK.volume_mm3(),
    }


EVERYTHING = _everything()


@pytest.mark.parametrize("name", EVERYTHING)
def test_it_is_a_value(name: str) -> None:
    one = EVERYTHING[name]
    again = _everything()[name]
    assert again == one and hash(again) == hash(one)
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        back = pickle.loads(pickle.dumps(one, protocol))
        assert type(back) is type(one) and back == one and hash(back) == hash(one)
    assert copy.copy(one) == one and copy.deepcopy(one) == one
    assert one != 5 and not one == "neck"
    assert sum(one == other for other in EVERYTHING.values()) == 1, "no other is the same"
    assert len({one, again}) == 1
    shown = repr(one)
    assert len(shown) < 400 and "\n" not in shown


@pytest.mark.parametrize("name", EVERYTHING)
def test_it_can_not_be_changed(name: str) -> None:
    one = EVERYTHING[name]
    for attribute in [attribute for attribute in dir(one) if not attribute.startswith("_")][:5]:
        with pytest.raises(AttributeError):
            setattr(one, attribute, None)
    with pytest.raises(AttributeError):
        one.anything = 1


def test_a_document_that_was_told_is_a_copy() -> None:
    specification = NECK.specification()
    specification["nut"]["width"] = 1
    assert NECK.specification()["nut"]["width"] == 42.8625


def test_documents_of_every_sort(tmp_path: Path) -> None:
    document: dict[str, Any] = {"nut": {"width": 44}, "name": "Cherry, for the evening class"}
    neck = Neck(document)
    assert neck == Neck(**document) == Neck(neck.to_json()) == Neck(neck.specification())
    file = tmp_path / "neck.json"
    # As some editors write them: a byte order mark, line ends of two characters.
    file.write_bytes(b"\xef\xbb\xbf" + neck.to_json().replace("\n", "\r\n").encode())
    assert Neck(file) == Neck(str(file)) == neck
    with pytest.raises(FileNotFoundError):
        Neck(tmp_path / "other.json")
    with pytest.raises(UnicodeDecodeError):
        (tmp_path / "broken.json").write_bytes(b'{"name": "\xff"}')
        Neck(tmp_path / "broken.json")
    stock = tmp_path / "stock.json"
    stock.write_text('{"thickness": "45 mm"}')
    assert neck.carving_plan(stock) == neck.carving_plan({"thickness": 45}) == neck.carving_plan(thickness="45 mm")
    table = tmp_path / "readings.csv"
    table.write_text("at,quantity,value\nfret 5,thickness,22.3\n")
    assert len(Readings.from_csv(table)) == 1


def test_a_variation_leaves_defaults_to_follow() -> None:
    plain = Neck()
    assert plain.with_(nut={"width": 44}) == Neck(nut={"width": 44})
    # What was worked out of the nut's width follows the new one.
    assert plain.with_(nut={"width": 44}).specification()["nut"]["string_spread"] == plain.specification()["nut"]["string_spread"] + 1
    assert Neck(nut={"width": 44}).with_(nut=None) == Neck(nut={"width": 44}).with_(nut={"width": None}) == plain
    assert Neck('{"nut": {"width": 44}}').with_(hand="left") == Neck(hand="left", nut={"width": 44})
    assert pickle.loads(pickle.dumps(plain)).with_(nut={"width": 44}) == Neck(nut={"width": 44})
    with pytest.raises(NeckwrightError, match="did you mean width"):
        plain.with_(nut={"widht": 44})


def test_readings() -> None:
    readings = _readings()
    assert readings[0] == readings.readings()[0] == readings[-len(readings)]
    assert [reading.at for reading in readings][:2] == [60.0, 90.0]  # type: ignore[attr-defined]
    with pytest.raises(IndexError):
        readings[len(readings)]
    assert Readings(readings.to_json()).readings() == Readings.from_csv(readings.to_csv()).readings() == readings.readings()
    text = "at,quantity,value\nfret 1,thickness,21.8\nfret 2,thickness,\n"
    with pytest.raises(NeckwrightError, match="line 3, value"):
        Readings.from_csv(text)
    assert len(Readings.from_csv(text, good=True)) == 1
    Readings.from_csv("at,quantity,value\nfret 5,thickness,22.3\n").check_on(NECK)
    with pytest.raises(NeckwrightError):
        Readings([{"at": 1400, "quantity": "thickness", "value": 22}]).check_on(NECK)


def test_an_inspection_and_what_follows() -> None:
    readings = _readings()
    inspection = NECK.inspect(readings)
    assert [low.place.part for low in inspection.low] == ["spine"]
    assert inspection.rows[0].finished is not None and abs(inspection.rows[0].finished.mm - 0.3) < 1e-9
    low = inspection.low_readings(readings)
    assert [reading.at for reading in low.readings()] == [150.0]
    mending = NECK.mend(low)
    assert mending.outcome == "mended" and isinstance(mending.result, records.Mended)
    assert mending.neck is not None and mending.neck.thickness_mm(150.0) <= NECK.thickness_mm(150.0) - 0.4 + 1e-6
    deep = Readings([{"at": 200, "quantity": "thickness", "value": NECK.thickness_mm(200.0) - 2}])
    forbidden = NECK.mend(deep, least_thickness=NECK.least_thickness().value - 0.1)
    assert forbidden.outcome == "impossible" and forbidden.neck is None
    assert not isinstance(forbidden.result, records.Mended)
    assert "least_thickness" in [why.limit for why in forbidden.result]
    copied = NECK.copy_neck(readings)
    assert copied.neck().thickness_mm(60.0) == pytest.approx(NECK.thickness_mm(60.0) + 0.3, abs=0.05)
    assert copied.number(copied.numbers[0].path) == copied.numbers[0] and copied.number("nothing") is None
    assert NECK.compare(mending.neck).greatest.difference_mm == pytest.approx(0.4, abs=0.05)
    other = NECK.with_(nut={"width": 44}).carving_plan().stages()[-1]
    with pytest.raises(NeckwrightError, match="another neck"):
        NECK.inspect(readings, stage=other)


def test_a_scan() -> None:
    x = np.linspace(40.0, 370.0, 90)
    back = NECK.back_grid(x, 41)[0].reshape(-1, 3)
    edge = 0.5 * NECK.width_mm(x)
    sides = [np.column_stack([x, sign * edge, np.full_like(x, -2.0)]) for sign in (-1, 1)]
    face = np.column_stack([np.repeat(x, 9), np.outer(edge, np.linspace(-0.8, 0.8, 9)).ravel()])
    radius = NECK.layout().board().radius_at_nut_mm
    assert radius is not None
    face = np.column_stack([face, [-neckwright.sagitta_mm(radius, y) for y in face[:, 1].tolist()]])
    ends = NECK.wood_reach_mm()
    more = NECK.back_grid(np.concatenate([np.linspace(ends[0], 40, 60), np.linspace(370, ends[1], 40)]), 41)[0]
    points = np.concatenate([back, *sides, face, more.reshape(-1, 3)])
    try:
        placed = NECK.place_cloud(points, hand="as base")
    except NeckwrightError as error:
        assert error.faults[0].reason
        return
    assert placed.rms_mm < 0.1 and isinstance(placed.readings, Readings)
    assert pickle.loads(pickle.dumps(placed)) == placed


def test_a_section() -> None:
    section = NECK.section(100.0)
    polyline = section.polyline_mm(1e-4)
    y, z = polyline[:, 0], polyline[:, 1]
    # The shoelace formula.
    area = 0.5 * abs(float(np.dot(y, np.roll(z, 1)) - np.dot(z, np.roll(y, 1))))
    assert area == pytest.approx(section.area_mm2(), rel=1e-5)
    outline = section.outline()
    assert outline is not None and {segment.kind for segment in outline.segments} == {"line", "cubic", "crown"}
    points = section.control_points_mm(side="treble")
    assert points is not None and points.shape == (4, 2) and points[3, 1] == -NECK.thickness_mm(100.0)
    moments = NECK.section_moments([100.0, 200.0])
    assert moments[0, 0] == section.area_mm2() and moments[0, 3:].tolist() == list(section.second_moment_mm4())
    assert section.moments(part="fretboard").area_mm2 < section.area_mm2()
    with pytest.raises(NeckwrightError, match="not one of"):
        section.moments(part="back")  # type: ignore[arg-type]
    with pytest.raises(NeckwrightError):
        section.polyline_mm(0)


def test_faces_are_the_laws() -> None:
    """A face's spline, evaluated by its poles and knots, lies on the neck's own back."""
    wood = NECK.solids(slots=False)[0]
    spline = max((face for face in wood.faces if face.degree == (5, 3) or (face.degree or (0, 0))[1] == 3), key=lambda f: len(f.poles_mm))  # type: ignore[arg-type]
    assert spline.knots is not None and spline.multiplicities is not None and spline.poles_mm is not None
    along, around = spline.knots
    s = 0.5 * (along[0] + along[-1])
    x, y, z = spline.at(s, around[-1])
    spines = [-NECK.thickness_mm(x), -NECK.carve_line_mm(x, side="bass")]
    assert min(abs(z - spine) for spine in spines) < 1e-9 and abs(y) <= 0.5 * NECK.width_mm(x)
    rows, columns = (int(times.sum()) - degree - 1 for times, degree in zip(spline.multiplicities, spline.degree or (), strict=True))
    assert spline.poles_mm.shape == (rows, columns, 3)
    assert all(solid.is_closed() for solid in NECK.solids())
