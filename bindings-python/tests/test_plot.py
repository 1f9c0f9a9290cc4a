"""Figures: the library's own numbers, equal scales, signs told by marks and words; drawn without a screen."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

matplotlib: Any = pytest.importorskip("matplotlib")
matplotlib.use("Agg")

from neckwright import Neck, NeckwrightError, Readings, plot  # noqa: E402

NECK = Neck(scale={"length": "640 mm"}, nut={"width": "1 11/16 in"})
OFF = {1: 0.5, 3: 0.5, 5: -0.6, 7: 0.5, 9: 0.5, 12: 0.5}
READINGS = "at,quantity,value\n" + "".join(f"fret {k},thickness,{NECK.thickness_mm(f'fret {k}') + off}\n" for k, off in OFF.items())


@pytest.fixture(autouse=True)
def closed() -> Iterator[None]:
    yield
    import matplotlib.pyplot as pyplot

    pyplot.close("all")


def words(axes: Any) -> list[str]:
    return [text.get_text() for text in axes.texts]


def test_side() -> None:
    axes: Any = plot.side(NECK)
    assert axes.get_aspect() == 1 and "mm" in axes.get_xlabel() and "mm" in axes.get_ylabel()
    assert f"fret 5\n{NECK.thickness_mm('fret 5'):.2f}" in words(axes)
    x, z = axes.lines[0].get_data()
    under = slice(len(x) // 2, len(x) - 1)
    x, z = np.asarray(x)[under], np.asarray(z)[under]
    shaft = (x > 30) & (x < 380)
    assert np.abs(-z[shaft] - NECK.thickness_mm(x[shaft])).max() < 1e-9
    named = [text.get_text() for text in axes.get_legend().get_texts()]
    dashed = [line for line in axes.lines if line.get_linestyle() == "--"]
    assert dashed and [line.get_label() for line in dashed if not line.get_label().startswith("_")] == ["floor of the rod's channel"]
    assert {line.get_linestyle() for line in axes.lines} == {"-", "--", ":"}
    assert len(named) == 3 and "floor of the rod's channel" in named and "thickness, crown to spine" in named
    axes.figure.canvas.draw()


def test_plan_of_either_hand() -> None:
    figures: list[Any] = [plot.plan(NECK), plot.plan(NECK.with_(hand="left"))]
    right, left = figures
    ends = [{text.get_text(): text.xy[1] for text in axes.texts} for axes in figures]
    assert ends[0]["bass"] == -ends[1]["bass"] < 0
    assert "left-handed" in left.get_title(loc="left") and right.get_aspect() == 1
    x, y = (np.asarray(of) for of in right.lines[0].get_data())
    n = len(x) // 2
    board = (x[:n] > 1) & (x[:n] < 460)
    assert np.abs(2 * y[:n][board] - NECK.width_mm(x[:n][board])).max() < 1e-9


def test_sections_have_lines_of_their_own() -> None:
    axes: Any = plot.sections(NECK, ["fret 1", 200.0])
    assert len({line.get_linestyle() for line in axes.lines}) == 2
    assert [text.get_text() for text in axes.get_legend().get_texts()] == [
        f"fret 1: {NECK.thickness_mm('fret 1'):.2f} mm deep",
        f"200 mm: {NECK.thickness_mm(200):.2f} mm deep",
    ]
    with pytest.raises(ValueError, match="6 or fewer"):
        plot.sections(NECK, [float(x) for x in range(7)])


def test_stages_get_less() -> None:
    plan = NECK.carving_plan()
    axes: Any = plot.stages(NECK, plan, "fret 7")
    areas = [float(text.get_text().split(": ")[1].split()[0]) for text in axes.get_legend().get_texts()]
    assert areas == sorted(areas, reverse=True) and len(areas) >= 5
    assert areas[-1] == round(NECK.section("fret 7").area_mm2())


def test_stages_of_another_neck_are_refused() -> None:
    plan = NECK.with_(nut={"width": 44}).carving_plan()
    with pytest.raises(NeckwrightError, match="plan: it is of another neck") as caught:
        plot.stages(NECK, plan)
    assert caught.value.kind == "conflict" and caught.value.path == "plan"


def test_what_is_left_is_told_by_marks_and_numbers() -> None:
    inspection = NECK.inspect(Readings.from_csv(READINGS))
    axes: Any = plot.left(inspection)
    assert inspection.map is not None
    cells = {f"{cell.left_mm:+.2f}\n±{2 * cell.uncertainty_mm:.2f}" for cell in inspection.map.cells}
    assert words(axes) and set(words(axes)) <= cells
    marks = [line.get_marker() for line in axes.lines if len(line.get_xdata())]
    told = [mark for mark in marks if mark != "x"]
    unread = {cell.verdict for cell in inspection.map.cells} >= {"unread"}
    assert unread == ("x" in marks) and len(told) == len(words(axes))
    for mark, word in zip(told, words(axes), strict=True):
        value, doubt = (float(part.lstrip("±")) for part in word.split("\n"))
        # Both are rounded to 0.01.
        if abs(abs(value) - doubt) > 0.01:
            assert mark == ("o" if abs(value) < doubt else "^" if value > 0 else "v"), word
    assert {"^", "v", "o"} == set(told)
    (above,) = axes.child_axes
    frets = {label.get_text(): x for label, x in zip(above.get_xticklabels(), above.get_xticks(), strict=True)}
    assert frets["nut"] == 0 and frets["5"] == NECK.station_mm(5)


def test_nothing_to_map() -> None:
    inspection = NECK.inspect(Readings.from_csv("at,quantity,value\nnut,width,43\n"))
    assert inspection.map is None
    with pytest.raises(ValueError, match="read a thickness"):
        plot.left(inspection)


def test_axes_of_ones_own() -> None:
    import matplotlib.pyplot as pyplot

    axes = pyplot.subplots()[1]
    assert plot.side(NECK, axes=axes) is axes


def test_without_matplotlib_the_remedy_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    with pytest.raises(ImportError, match=r"pip install 'neckwright\[plot\]'"):
        plot.side(NECK)
