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


def rows(of: Any) -> list[list[str]]:
    return [["".join(cell.itertext()) for cell in row] for row in html(of).iter("tr")]


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
        assert float(cells[4]) == pytest.approx(row.thickness_mm, abs=0.00501)
        assert float(cells[5]) * 25.4 == pytest.approx(row.thickness_mm, abs=0.0005 * 25.4 + 1e-9)


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


def test_an_inspection_tells_signs_in_words() -> None:
    words = "".join(html(INSPECTION).itertext())
    assert all(sentence in words for sentence in INSPECTION.sentences)
    for cells, row in zip(rows(INSPECTION)[1:], INSPECTION.rows, strict=True):
        assert row.finished is not None and re.fullmatch(r"[+-]\d+\.\d\d", cells[3])
        assert float(cells[3]) == pytest.approx(row.finished.mm, abs=0.00501)
        assert cells[6] == ("still on" if row.finished.mm > 0 else "below the neck")


def test_a_difference_within_its_uncertainty_is_none() -> None:
    x = NECK.thickness_mm("fret 5") + 0.02
    inspection = NECK.inspect(Readings.from_csv(f"at,quantity,value\nfret 5,thickness,{x}\n"))
    assert rows(inspection)[1][6] == "no difference that it can tell"


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

    code = "import sys, neckwright; print([n for n in ('pandas', 'polars', 'matplotlib', 'neckwright.plot', 'neckwright.display.neck') if n in sys.modules])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    assert neckwright.Table.__module__ == "neckwright.tables"
