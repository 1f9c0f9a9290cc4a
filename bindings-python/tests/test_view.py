"""Scenes in three dimensions: what is in them, and what a browser without network shows of them."""

from __future__ import annotations

import re
import sys
import time
from pathlib import Path
from typing import Literal

import numpy as np
import pytest

import browser
from neckwright import Neck, NeckwrightError, Readings, step, view

k3d = pytest.importorskip("k3d", reason="not run: k3d is not installed")

READY = "typeof K3DInstance !== 'undefined' && K3DInstance.then(k => Object.keys(k.getWorld().ObjectsListJson).length === %d)"


@pytest.fixture(scope="module")
def neck() -> Neck:
    return Neck(scale={"length": 640})


@pytest.fixture(scope="module")
def readings(neck: Neck) -> Readings:
    x = float(neck.station_mm(7))
    return Readings(
        [
            {"at": "fret 3", "quantity": "thickness", "value": neck.thickness_mm("fret 3") + 0.4},
            {"at": "fret 9", "quantity": "thickness", "value": neck.thickness_mm("fret 9") - 0.3},
            {"at": x, "quantity": "carve line", "side": "treble", "value": neck.carve_line_mm(x, side="treble") + 0.1},
            {"at": "fret 7", "quantity": "point", "value": 19.0, "across": -13.2},
            {"at": "nut", "quantity": "width", "value": 43},
        ]
    )


def test_a_neck_is_its_meshes(neck: Neck) -> None:
    scene = view.neck(neck, chord=0.1)
    for solid, shown in zip(neck.solids(), scene.plot.objects, strict=True):
        mesh = solid.mesh(chord=0.1)
        assert shown.name == solid.name and (shown.indices == mesh.triangles).all()
        np.testing.assert_array_equal(shown.vertices, mesh.positions_mm.astype(np.float32))
    assert scene.steps == () and scene.slider() is None


def test_a_plan_shows_one_stage_at_a_time(neck: Neck) -> None:
    plan = neck.carving_plan()
    scene = view.plan(plan, stage="facets")
    assert scene.steps == tuple(stage.name for stage in plan.stages())
    assert scene.plot.time == plan.stage("facets").index
    for i, stage in enumerate(plan.stages()):
        names = [shown.name for shown in scene.plot.objects if shown.visible[str(i)]]
        assert names == [f"{stage.name}: {solid.name}" for solid in stage.wood.solids()]
    slider = scene.slider()
    slider.value = 3.0
    assert scene.plot.time == 3.0
    with pytest.raises(NeckwrightError, match="stage"):
        view.plan(plan, stage="varnish")


@pytest.mark.parametrize("hand", ["right", "left"])
def test_readings_lie_where_they_were_taken(neck: Neck, readings: Readings, hand: Literal["right", "left"]) -> None:
    of = neck.with_(hand=hand)
    scene = view.inspection(of.inspect(readings), readings)
    shown = scene.plot.objects[-1]
    # A width has no place.
    assert shown.name == "readings" and shown.positions.shape == (4, 3)
    # Some millimetres on a whole neck, and what their colours say is told.
    assert 5 < shown.point_size < 12
    (legend,) = (one for one in scene.plot.objects if one.name == "legend")
    assert "mm" in legend.text and "red: still on" in legend.text and "blue: too low" in legend.text and "grey: unsure" in legend.text
    values = [reading.value for reading in readings.readings()]
    # On the board depths count from its crown, which is z = 0.
    np.testing.assert_allclose(-shown.positions[:, 2], values[:4], atol=1e-5)
    sign = 1 if hand == "right" else -1
    half = of.width_mm(float(of.station_mm(7))) / 2
    assert shown.positions[3, 1] == pytest.approx(-13.2 * sign, abs=1e-5)
    assert 0.9 * half < shown.positions[2, 1] * sign <= half
    # No sign is told of a carve line that a ruler tells no better than this.
    np.testing.assert_allclose(shown.attribute[:3], [0.4, -0.3, 0.0], atol=1e-5)


def test_other_readings_than_were_inspected_are_refused(neck: Neck, readings: Readings) -> None:
    inspection = neck.inspect(readings)
    fewer = Readings([{"at": "nut", "quantity": "width", "value": 43}])
    others = Readings([{"at": f"fret {fret}", "quantity": "thickness", "value": 22} for fret in range(1, 6)])
    assert len(others) == len(readings)
    for given in (fewer, others):
        with pytest.raises(NeckwrightError, match="not the readings that were inspected") as caught:
            view.inspection(inspection, given)
        assert caught.value.kind == "conflict" and caught.value.path == "readings"


def test_woods_have_the_colours_of_the_library_s_files(neck: Neck) -> None:
    text = step(neck.solids(slots=False)).decode()
    written = [tuple(map(float, of)) for of in re.findall(r"COLOUR_RGB\('[^']*',([\d.]+),([\d.]+),([\d.]+)\)", text)]
    shown = [of.color for of in view.neck(neck).plot.objects]
    assert [tuple(colour >> shift & 255 for shift in (16, 8, 0)) for colour in shown] == [tuple(round(255 * c) for c in rgb) for rgb in written]


def test_without_k3d_it_says_what_to_install(neck: Neck, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "k3d", None)
    with pytest.raises(ImportError, match=r"pip install neckwright\[view\]"):
        view.neck(neck)


def colours(png: bytes) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    pymupdf = pytest.importorskip("pymupdf", reason="not run: pymupdf is not installed")
    picture = pymupdf.Pixmap(pymupdf.csRGB, pymupdf.Pixmap(png), 0) if pymupdf.Pixmap(png).alpha else pymupdf.Pixmap(png)
    return np.frombuffer(picture.samples, dtype=np.uint8).reshape(picture.height, picture.width, -1)[..., :3].copy()


def wood(png: bytes) -> int:
    """Pixels in the colour of wood: clearly more red than blue."""
    of = colours(png).astype(int)
    return int(((of[..., 0] - of[..., 2]) > 30).sum())


@pytest.mark.skipif(browser.FOUND is None, reason="not run: no Chromium here")
def test_a_browser_without_network_shows_it(neck: Neck, readings: Readings, tmp_path: Path) -> None:
    plan = neck.carving_plan()
    scenes = {
        "neck": view.neck(neck),
        "plan": view.plan(plan),
        "inspection": view.inspection(neck.inspect(readings), readings),
    }
    seen: dict[str, bytes] = {}
    with browser.Browser() as page:
        for name, scene in scenes.items():
            file = tmp_path / f"{name}.html"
            scene.save(file)
            page.open(file, READY % len(scene.plot.objects))
            time.sleep(0.5)
            seen[name] = page.picture()
            for step in (9, 13) if name == "plan" else ():
                slider = "document.querySelector('input[type=range]')"
                page.evaluate(f"{slider}.value = {step}; {slider}.dispatchEvent(new Event('input'))")
                time.sleep(0.5)
                assert page.evaluate("document.querySelector('label span').textContent") == scene.steps[step]
                seen[f"stage {step}"] = page.picture()
    assert all(url.split(":")[0] in ("file", "data", "blob") for url in page.asked), page.asked
    for name, png in seen.items():
        assert wood(png) > 5000, name
    # The two readings that lie low, or are sunk on their side, are seen.
    of = colours(seen["inspection"]).astype(int)
    assert int(((of[..., 2] - of[..., 0]) > 30).sum()) > 400
    # From the blank on there is less and less to see, and what is looked at last is the neck.
    assert wood(seen["plan"]) > wood(seen["stage 9"]) > 0.95 * wood(seen["stage 13"])
    assert wood(seen["stage 13"]) == pytest.approx(wood(seen["neck"]), rel=0.1)
