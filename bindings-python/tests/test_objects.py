"""Results are values: they compare, hash, pickle and copy by what they were made from, and can't be changed."""

from __future__ import annotations

import copy
import pickle
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from everything import NECK, everything, readings, scan
from neckwright import Neck, NeckwrightError, Readings, records

EVERYTHING = everything()


@pytest.mark.parametrize("name", EVERYTHING)
def test_it_is_a_value(name: str) -> None:
    one = EVERYTHING[name]
    again = everything()[name]
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


def _dicts(of: Any) -> list[dict[str, Any]]:
    if isinstance(of, dict):
        return [of]
    return [found for part in of for found in _dicts(part)] if isinstance(of, tuple) else []


@pytest.mark.parametrize("name", EVERYTHING)
def test_nothing_that_is_handed_out_changes_what_it_came_from(name: str) -> None:
    """Every attribute, and every method that asks nothing: documents are copies, arrays can't be written to or are copies."""
    one = EVERYTHING[name]
    for attribute in [attribute for attribute in dir(one) if not attribute.startswith("_")]:

        def ask(attribute: str = attribute) -> Any:
            asked = getattr(one, attribute)
            return asked() if callable(asked) else asked

        try:
            told = ask()
        except TypeError:
            continue
        for document in _dicts(told):
            document.clear()
            assert _dicts(ask())[0], attribute
        for array in told if isinstance(told, tuple) else (told,):
            if isinstance(array, np.ndarray) and array.size and not array.flags.writeable:
                with pytest.raises(ValueError, match="WRITEABLE|writeable"):
                    array.flags.writeable = True
                with pytest.raises(ValueError, match="read-only"):
                    array.view()[...] = 0


def test_arrays_that_are_said_to_be_read_only_are() -> None:
    solid = EVERYTHING["solid"]
    spline = next(face for face in solid.faces if face.surface == "spline")
    edge = next(edge for edge in solid.edges if edge.curve == "spline")
    arrays = [solid.vertices_mm, spline.poles_mm, *spline.knots, *spline.multiplicities, edge.poles_mm, edge.knots]
    arrays += [array for face in solid.faces for trace in face.traces for array in trace[2:]]
    arrays += [face.weights for face in solid.faces if face.weights is not None]
    mesh = EVERYTHING["mesh"]
    arrays += [mesh.positions_mm, mesh.normals, mesh.station_girth, mesh.triangles]
    for array in arrays:
        base: Any = array
        while isinstance(base, np.ndarray):
            assert not base.flags.writeable
            with pytest.raises(ValueError, match="WRITEABLE|writeable"):
                base.setflags(write=True)
            base = base.base
        assert isinstance(base, bytes)


def test_equal_necks_and_what_was_given() -> None:
    """Equality, hash and every answer are of the specification; what was given is kept for variations, by a pickle too."""
    plain, told = Neck(), Neck(Neck().to_json())
    assert plain == told and hash(plain) == hash(told) and plain.to_json() == told.to_json()
    x = np.linspace(*plain.reach_mm(), 100)
    assert plain.girth_mm(x).tobytes() == told.girth_mm(x).tobytes()
    wider = {"width": 44.0}
    for neck in (plain, told):
        for twin in (pickle.loads(pickle.dumps(neck)), copy.copy(neck), copy.deepcopy(neck)):
            assert twin == neck and hash(twin) == hash(neck)
            assert twin.with_(nut=wider) == neck.with_(nut=wider)
    assert plain.with_(nut=wider) != told.with_(nut=wider)


def test_readings_are_equal_by_what_they_say() -> None:
    table = "at,quantity,value\nfret 5,thickness,22.3\n"
    one = Readings.from_csv(table)
    same = Readings.from_csv('"at" , quantity,value,note\nfret 5,thickness,22.30 mm,a note\n')
    assert one == same and hash(one) == hash(same)
    listed = [{"at": "fret 5", "quantity": "thickness", "value": 22.3}]
    assert Readings(listed) == Readings({"readings": listed}) and hash(Readings(listed)) == hash(Readings({"readings": listed}))
    assert NECK.inspect(one) == NECK.inspect(same) and NECK.inspect(one).sentences == NECK.inspect(same).sentences
    others = [
        Readings.from_csv(table.replace("22.3", "22.4")),
        Readings.from_csv(table.replace("fret 5", "fret 6")),
        # By another line sentences name it otherwise.
        Readings.from_csv(table.replace("\n", "\n\n", 1)),
        Readings({"name": "mine", "readings": listed}),
        Readings(listed * 2),
    ]
    assert all(one != other and other == pickle.loads(pickle.dumps(other)) for other in others)


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
    assert len(Readings.from_csv(table)) == len(Readings.from_csv(str(table))) == 1
    file = tmp_path / "readings.json"
    file.write_text(Readings.from_csv(table).to_json())
    assert Readings(file) == Readings(str(file)) == Readings.from_json(file) == Readings.from_json(str(file))


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
    read = readings()
    assert read[0] == read.readings()[0] == read[-len(read)]
    assert [reading.at for reading in read][:2] == [60.0, 90.0]  # type: ignore[attr-defined]
    with pytest.raises(IndexError):
        read[len(read)]
    assert Readings(read.to_json()).readings() == Readings.from_csv(read.to_csv()).readings() == read.readings()
    text = "at,quantity,value\nfret 1,thickness,21.8\nfret 2,thickness,\n"
    with pytest.raises(NeckwrightError, match="line 3, value"):
        Readings.from_csv(text)
    assert len(Readings.from_csv(text, good=True)) == 1
    Readings.from_csv("at,quantity,value\nfret 5,thickness,22.3\n").check_on(NECK)
    with pytest.raises(NeckwrightError):
        Readings([{"at": 1400, "quantity": "thickness", "value": 22}]).check_on(NECK)


def test_an_inspection_and_what_follows() -> None:
    read = readings()
    inspection = NECK.inspect(read)
    assert [low.place.part for low in inspection.low] == ["spine"]
    assert inspection.rows[0].finished is not None and abs(inspection.rows[0].finished.mm - 0.3) < 1e-9
    low = inspection.low_readings(read)
    assert [reading.at for reading in low.readings()] == [150.0]
    mending = NECK.mend(low)
    assert mending.outcome == "mended" and isinstance(mending.result, records.Mended)
    assert mending.neck is not None and mending.neck.thickness_mm(150.0) <= NECK.thickness_mm(150.0) - 0.4 + 1e-6
    deep = Readings([{"at": 200, "quantity": "thickness", "value": NECK.thickness_mm(200.0) - 2}])
    forbidden = NECK.mend(deep, least_thickness=NECK.least_thickness().value - 0.1)
    assert forbidden.outcome == "impossible" and forbidden.neck is None
    assert not isinstance(forbidden.result, records.Mended)
    assert "least_thickness" in [why.limit for why in forbidden.result]
    copied = NECK.copy_neck(read)
    assert copied.neck().thickness_mm(60.0) == pytest.approx(NECK.thickness_mm(60.0) + 0.3, abs=0.05)
    assert copied.number(copied.numbers[0].path) == copied.numbers[0] and copied.number("nothing") is None
    assert NECK.compare(mending.neck).greatest.difference_mm == pytest.approx(0.4, abs=0.05)
    other = NECK.with_(nut={"width": 44}).carving_plan().stages()[-1]
    with pytest.raises(NeckwrightError, match="another neck"):
        NECK.inspect(read, stage=other)


def test_a_scan() -> None:
    points = scan()
    placed = NECK.place_cloud(points, hand="as base")
    assert placed.rms_mm < 0.1 and isinstance(placed.readings, Readings)
    assert pickle.loads(pickle.dumps(placed)) == placed
    made = NECK.copy_cloud(points, hand="as base")
    assert made.copied.neck().thickness_mm(200.0) == pytest.approx(NECK.thickness_mm(200.0), abs=0.1)
    back = pickle.loads(pickle.dumps(made))
    assert back == made and hash(back.copied) == hash(made.copied)
    assert back.copied.neck() == made.copied.neck() and back.copied.covariance == made.copied.covariance
    assert NECK.copy_cloud(points * 1.0, hand="as base").copied == made.copied
    assert NECK.copy_cloud(points[:-1], hand="as base").copied != made.copied


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
