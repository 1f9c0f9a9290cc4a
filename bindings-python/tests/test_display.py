"""What a notebook shows: well-formed, the library's own numbers in it, names escaped, nothing told by a sign alone."""

from __future__ import annotations

import base64
import re
import xml.etree.ElementTree as xml
from typing import Any

import pytest

import neckwright
from neckwright import Neck, Readings, table

NECK = Neck(name="Evening class", scale={"length": "640 mm"}, nut={"width": "1 11/16 in"})
PLAN = NECK.carving_plan()
READINGS = Readings.from_csv(
    "at,quantity,value,instrument\n"
    + "".join(f"fret {fret},thickness,{NECK.thickness_mm(f'fret {fret}') + off:.3f},caliper\n" for fret, off in [(1, 0.4), (3, 0.4), (5, -0.6), (7, 0.4), (9, 0.4), (12, 0.4)])
)
INSPECTION = NECK.inspect(READINGS)
MENDING = NECK.mend(INSPECTION.low_readings(READINGS))
SHOWN: dict[str, Any] = {
    "neck": NECK,
    "section": NECK.section("fret 5"),
    "plan": PLAN,
    "inspection": INSPECTION,
    "mending": MENDING,
    "copied": NECK.copy_neck(READINGS),
    "readings": READINGS,
    "table": table(NECK),
} | {stage.name: stage for stage in PLAN.stages()}


def html(of: Any) -> xml.Element:
    return xml.fromstring(of._repr_html_())


def tables(of: Any) -> list[list[list[str]]]:
    return [[["".join(cell.itertext()) for cell in row] for row in table.iter("tr")] for table in html(of).iter("table")]


def rows(of: Any) -> list[list[str]]:
    """The first table's."""
    return tables(of)[0]


def text(of: Any) -> str:
    return "".join(html(of).itertext())


@pytest.mark.parametrize("name", SHOWN)
def test_pages_are_well_formed(name: str) -> None:
    page = html(SHOWN[name])
    assert page.attrib["class"] == "neckwright" and len(list(page.iter("tr"))) > 1
    for image in page.iter("img"):
        kind, data = image.attrib["src"].split(";base64,")
        assert kind == "data:image/svg+xml" and image.attrib["alt"]
        assert xml.fromstring(base64.b64decode(data)).tag == "{http://www.w3.org/2000/svg}svg"


@pytest.mark.parametrize("of", [NECK, NECK.section(100), PLAN.stage("back"), INSPECTION, NECK.sheet("plan")], ids=repr)
def test_drawings_are_well_formed(of: Any) -> None:
    assert xml.fromstring(of._repr_svg_().encode()).tag == "{http://www.w3.org/2000/svg}svg"


def test_the_caliper_card_is_the_library_s() -> None:
    shown = rows(NECK)[1:]
    card = NECK.caliper_card()
    assert len(shown) == len(card)
    for cells, row in zip(shown, card, strict=True):
        assert float(cells[2]) == pytest.approx(row.width_mm, abs=0.00501)
        assert float(cells[3]) == pytest.approx(row.thickness_mm, abs=0.00501)


@pytest.mark.parametrize("of", [NECK, MENDING], ids=["neck", "mending"])
def test_every_length_is_shown_in_inches_too(of: Any) -> None:
    mm, inch = tables(of)
    assert len(mm) == len(inch) > 2 and sum(name.endswith(", mm") for name in mm[0]) >= 6
    for column, name in enumerate(mm[0]):
        if not name.endswith(", mm"):
            assert [row[column] for row in mm] == [row[column] for row in inch]
            continue
        assert inch[0][column] == f"{name[:-2]}in"
        for a, b in zip(mm[1:], inch[1:], strict=True):
            if a[column] == "–":
                assert b[column] == "–"
            else:
                # Rounded to 0.01 mm and to 0.001 in.
                assert float(b[column]) * 25.4 == pytest.approx(float(a[column]), abs=0.005 + 0.0005 * 25.4 + 1e-9)


def test_a_section_tells_where_it_is_and_its_board() -> None:
    section = NECK.section("fret 5")
    x = section.x_mm()
    place = f"at fret 5, {x:.1f} mm ({x / 25.4:.3f} in) from the nut"
    assert place in text(section) and place in section._repr_svg_()  # type: ignore[attr-defined]
    measures = {cells[0]: cells[1:] for cells in rows(section)}
    radius = NECK.layout().board().radius_at_nut_mm
    assert radius is not None and NECK.layout().board().radius_growth == 0
    assert measures["radius of the board's face"] == [f"{radius:.2f}", "mm", f"{radius / 25.4:.3f}", "in"]
    area = section.area_mm2()
    assert measures["area"] == [f"{area:.2f}", "mm²", f"{area / 25.4**2:.3f}", "in²"]
    assert "fret" not in text(NECK.section(100)) and "at the nut" in text(NECK.section("nut"))
    flat = NECK.with_(fretboard={"radius": "flat"}).section("fret 5")
    assert {cells[0]: cells[1] for cells in rows(flat)}["radius of the board's face"] == "flat"
    headstock = NECK.section(-80)
    assert "80.0 mm (3.150 in) behind the nut" in text(headstock) and "radius" not in text(headstock)


def test_a_copied_neck_s_numbers_have_their_stations() -> None:
    copied = NECK.copy_neck(READINGS)
    columns = table(copied).columns
    assert columns["path"] == tuple(one.path for one in copied.numbers)
    document = copied.specification
    seen = 0
    for path, fret, x in zip(columns["path"], columns["fret"], columns["x_mm"], strict=True):
        entry = re.fullmatch(r"shaft\.thickness\[(\d+)\]\.thickness", path)
        if entry is None:
            continue
        at = copied.neck().section(document["shaft"]["thickness"][int(entry[1])]["at"]).x_mm()
        seen += 1
        assert x == at and (fret is None or NECK.station_mm(fret) == pytest.approx(x, abs=1e-9))
    assert seen >= 2 and any(fret is not None for fret in columns["fret"])
    inch = table(copied, unit="in").columns
    for unit, before, after, x, x_in in zip(
        columns["unit"], columns["value"], inch["value"], columns["x_mm"], inch["x_in"], strict=True
    ):
        assert after == (before / 25.4 if unit == "mm" else before) and x_in == (None if x is None else x / 25.4)
    assert {unit.replace("mm", "in") for unit in columns["unit"]} == set(inch["unit"])
    shown = rows(copied)
    assert shown[0][:4] == ["number", "at", "from nut, mm", "in"] and len(shown) == 1 + len(copied.numbers)
    assert any(cells[1].startswith("fret ") for cells in shown)


def test_names_are_escaped() -> None:
    neck = NECK.with_(name='<script>alert("1")</script> & co')
    assert "<script" not in neck._repr_html_()  # type: ignore[attr-defined]
    assert [of.text for of in html(neck).iter("h3")] == ['<script>alert("1")</script> & co']


def test_left_handed_necks_are_mirrored() -> None:
    left = NECK.with_(hand="left")
    words = "".join(html(left).itertext())
    assert "left-handed" in words and "right-handed" not in words
    assert rows(left) == rows(NECK)
    assert left._repr_svg_() == left.sheet("side").to_svg()  # type: ignore[attr-defined, union-attr]

    def sides(neck: Neck) -> dict[str, float]:
        texts = xml.fromstring(neck.section(100)._repr_svg_()).iter("{http://www.w3.org/2000/svg}text")  # type: ignore[attr-defined]
        return {text.text or "": float(text.attrib["x"]) for text in texts}

    assert sides(NECK)["bass"] < sides(NECK)["treble"] and sides(left)["bass"] > sides(left)["treble"]


@pytest.mark.parametrize("stage", PLAN.stages(), ids=lambda stage: str(stage.name))
def test_a_stage_shows_every_caution_and_check(stage: Any) -> None:
    words = "".join(html(stage).itertext())
    assert stage.cautions and all(caution.words in words for caution in stage.cautions)
    assert len(rows(stage)) == 1 + len(stage.checks)
    assert all(check.what in words for check in stage.checks)


def test_a_plan_tells_what_all_stages_share_once_and_loses_no_caution() -> None:
    words = text(PLAN)
    assert words.count("Wood dust causes cancer") == 1
    entries = [(item.text or "", [below.text or "" for below in item.iter("li") if below is not item]) for item in html(PLAN).findall("./ul/li")]
    for stage in PLAN.stages():
        for caution in stage.cautions:
            topic = caution.topic.replace("_", " ")
            ((common, below),) = [entry for entry in entries if entry[0].startswith(f"{topic} (")]
            shared = common.partition("): ")[2]
            own = [one.partition(": ")[2] for one in below if f"{stage.index + 1} {stage.name.replace('_', ' ')}" in one.partition(": ")[0]]
            assert " ".join([*own, shared]).strip() == caution.words, (stage.name, topic)


def test_an_inspection_tells_signs_in_words() -> None:
    words = "".join(html(INSPECTION).itertext())
    assert all(sentence in words for sentence in INSPECTION.sentences)
    for cells, row in zip(rows(INSPECTION)[1:], INSPECTION.rows, strict=True):
        assert row.finished is not None and re.fullmatch(r"[+-]\d+\.\d\d", cells[5])
        assert float(cells[5]) == pytest.approx(row.finished.mm, abs=0.00501)
        assert float(cells[6]) * 25.4 == pytest.approx(row.finished.mm, abs=0.0005 * 25.4 + 1e-9)
        assert cells[1] == READINGS[row.reading].at
        assert cells[9] == ("still on" if row.finished.mm > 0 else "too low")


def test_a_difference_within_its_uncertainty_is_none() -> None:
    x = NECK.thickness_mm("fret 5") + 0.02
    inspection = NECK.inspect(Readings.from_csv(f"at,quantity,value\nfret 5,thickness,{x}\n"))
    assert rows(inspection)[1][9] == "unsure"


def test_what_can_not_be_mended_says_why() -> None:
    low = Readings.from_csv("at,quantity,value\nfret 5,thickness,14\n")
    mending = NECK.mend(low)
    assert mending.outcome == "impossible" and isinstance(mending.result, tuple)
    words = [of.text for of in xml.fromstring(mending._repr_html_()).iter("li")]  # type: ignore[attr-defined]
    assert words == [limit.sentence for limit in mending.result]  # type: ignore[union-attr]


def test_a_mending_shows_its_caution() -> None:
    words = "".join(html(MENDING).itertext())
    assert MENDING.outcome == "mended" and "once more before any wood goes" in words and "local rules" in words


TABLES = [NECK, PLAN, PLAN.stage("back"), READINGS, INSPECTION, MENDING, NECK.copy_neck(READINGS), NECK.compare(NECK), NECK.frets()]


@pytest.mark.parametrize("of", TABLES, ids=lambda of: type(of).__name__)
def test_tables_go_to_pandas_and_polars(of: Any) -> None:
    pytest.importorskip("pandas")
    pytest.importorskip("polars")
    made = table(of)
    names = list(made.columns)
    assert len(made) > 0 and list(made.to_pandas().columns) == names and made.to_polars().columns == names
    assert made.to_pandas().shape == made.to_polars().shape == (len(made), len(names))


def test_a_table_has_the_records_numbers() -> None:
    card = NECK.caliper_card()
    columns = table(NECK).columns
    assert columns["thickness_mm"] == tuple(row.thickness_mm for row in card)
    assert columns["carve_line_bass_mm"] == tuple(row.carve_line_mm.bass for row in card)
    assert columns["rod_wall_mm"][-1] is None or columns["rod_wall_mm"][-1] == card[-1].rod_wall_mm
    # NIST Handbook 44 (2024), appendix C: an inch is 25.4 mm exactly.
    assert table(NECK, unit="in").columns["width_in"][0] == 1.6875


UNITS = {"mm": 25.4, "mm2": 25.4**2, "mm3": 25.4**3, "mm4": 25.4**4, "per_mm": 1 / 25.4}


@pytest.mark.parametrize("of", [*TABLES, [NECK.least_thickness(), NECK.least_curvature()], NECK.copy_neck(READINGS).sharpest_next(2)], ids=str)
def test_names_and_values_of_columns_follow_the_unit(of: Any) -> None:
    mm, inch = table(of).columns, table(of, unit="in").columns
    assert len(mm) == len(inch) and not any("mm" in name for name in inch)
    beside = mm.get("unit")
    for (name, values), (other, converted) in zip(mm.items(), inch.items(), strict=True):
        end = re.search(r"(per_mm|mm[234]?)$", name)
        assert other == (name if end is None else name[: end.start()] + end[0].replace("mm", "in"))
        for i, (a, b) in enumerate(zip(values, converted, strict=True)):
            if isinstance(a, float) and end is not None:
                assert b == pytest.approx(a / UNITS[end[0]], rel=1e-15)
            elif isinstance(a, float) and beside is not None and name in ("value", "uncertainty", "proven"):
                assert b == pytest.approx(a / {"mm": 25.4, "1/mm": 1 / 25.4}.get(beside[i], 1), rel=1e-15)
            elif name == "unit":
                assert b == a.replace("mm", "in")
            elif not isinstance(a, str):
                assert a == b


def test_readings_in_a_table_have_their_units() -> None:
    columns = table(Readings.from_csv("at,quantity,value\nfret 5,thickness,22\n100,thickness,22.5\n"), unit="in").columns
    assert columns["at"] == ("fret 5", None) and columns["at_in"] == (None, 100 / 25.4)
    assert columns["value_in"] == (22 / 25.4, 22.5 / 25.4) and "uncertainty_in" in columns


def test_a_table_is_a_value() -> None:
    import copy
    import pickle

    made = table(NECK)
    assert made == table(NECK) and hash(made) == hash(table(NECK)) and made != table(NECK, unit="in") and made != 1
    for again in (pickle.loads(pickle.dumps(made)), copy.deepcopy(made)):
        assert again == made and hash(again) == hash(made) and again.columns == made.columns
    nothing = neckwright.Table({"rod_wall_mm": (float("nan"),)})
    assert nothing == neckwright.Table({"rod_wall_mm": (float("nan"),)}) and repr(made) == f"<Table: {len(made)} rows, {len(made.columns)} columns>"
    made.columns.clear()
    assert made == table(NECK)


def test_what_has_no_table_says_so() -> None:
    for wrong in (5, "neck", [1, 2], NECK.section(0)):
        with pytest.raises(TypeError, match="no table"):
            table(wrong)
    with pytest.raises(ValueError, match="give 'mm' or 'in'"):
        table(NECK, unit="cm")
    assert len(table(())) == 0


def test_the_package_does_not_load_them() -> None:
    import subprocess
    import sys

    later = ("pandas", "polars", "matplotlib", "neckwright.plot", "neckwright.display.neck", "neckwright.tables", "neckwright._sweep", "neckwright.records")
    code = f"import sys, neckwright; print([name for name in {later} if name in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    assert neckwright.Table.__module__ == "neckwright.tables" and {"Table", "table", "sweep"} <= set(dir(neckwright))
