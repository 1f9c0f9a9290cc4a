"""Lengths as texts, numbers and quantities of another package."""

from __future__ import annotations

import math
import subprocess
import sys
from collections.abc import Callable
from typing import Any

import numpy as np
import pint
import pytest
import unyt
from astropy import units

import neckwright
from neckwright import Neck, NeckwrightError, angle_deg, length_mm, sagitta_mm, sixtyfourths

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
NECK = Neck(scale={"length": 640})
WOOD = NECK.carving_plan().start()


def _of_pint(number: Any, unit: str) -> Any:
    return number * UNITS(unit)


def _of_astropy(number: Any, unit: str) -> Any:
    return number * (units.imperial.inch if unit == "inch" else units.Unit(unit))


def _of_unyt(number: Any, unit: str) -> Any:
    return unyt.unyt_array(number, unit) if np.ndim(number) else unyt.unyt_quantity(number, unit)


PACKAGES: dict[str, Callable[[Any, str], Any]] = {"pint": _of_pint, "astropy": _of_astropy, "unyt": _of_unyt}


@pytest.mark.parametrize("package", PACKAGES)
def test_quantities_of_every_package(package: str) -> None:
    """Some of them are arrays of numpy, which would go on without their unit."""
    of = PACKAGES[package]
    wanted = NECK.thickness_mm(101.6)
    assert NECK.thickness_mm(of(4.0, "inch")) == pytest.approx(wanted, abs=1e-12)
    several = NECK.thickness_mm(of(np.array([4.0, 8.0]), "inch"))
    assert type(several) is np.ndarray and several.tolist() == pytest.approx(NECK.thickness_mm([101.6, 203.2]).tolist(), abs=1e-12)
    whole = NECK.thickness_mm(of(np.array([10, 20]), "cm"))
    assert whole.tolist() == pytest.approx(NECK.thickness_mm([100.0, 200.0]).tolist(), abs=1e-12)
    mixed = NECK.thickness_mm([of(4.0, "inch"), "4 in", 101.6])
    assert mixed.tolist() == pytest.approx([wanted] * 3, abs=1e-12)
    assert Neck(nut={"width": of(43.0, "mm")}) == Neck(nut={"width": 43})
    assert Neck(headstock={"angle": of(13.0, "degree")}).headstock().angle_deg == pytest.approx(13, abs=1e-12)
    assert length_mm(of(2.5, "cm")) == pytest.approx(25.0, abs=1e-12)
    points = of(np.array([[10.0, 0.0, -0.3], [10.0, 0.0, 9.0]]), "cm")
    assert WOOD.contains_mm(points).tolist() == [True, False]
    with pytest.raises((TypeError, NeckwrightError)):
        NECK.thickness_mm([[of(4.0, "inch")], [of(4.0, "inch")]])
    with pytest.raises(NeckwrightError, match=r"x_mm\[0\] = .*one number is needed"):
        NECK.thickness_mm([of(np.array([4.0, 8.0]), "inch")])


@pytest.mark.parametrize("package", PACKAGES)
def test_quantities_of_another_sort_say_what_is_needed(package: str) -> None:
    of = PACKAGES[package]
    board: dict[str, Callable[[Any], object]] = {
        "x_mm": NECK.thickness_mm,
        "x_mm[1]": lambda wrong: NECK.thickness_mm([1.0, wrong]),
        "scale_mm": lambda wrong: neckwright.fret_positions_mm(wrong, 12),
        "tolerance_mm": lambda wrong: NECK.within(NECK, tolerance_mm=wrong),
        "length": length_mm,
    }
    for path, call in board.items():
        with pytest.raises(NeckwrightError) as caught:
            call(of(3.0, "kg"))
        assert (caught.value.kind, caught.value.path) == ("wrong_type", path)
        assert "3" in caught.value.value and "no length" in str(caught.value) and "millimetres" in caught.value.remedy
    with pytest.raises(NeckwrightError, match="points_mm.*no length"):
        WOOD.contains_mm(of(np.array([[1.0, 2.0, 3.0]]), "kg"))
    with pytest.raises(NeckwrightError, match="x_mm.*no length"):
        NECK.thickness_mm(of(np.array([1.0, 2.0]), "kg"))
    with pytest.raises(NeckwrightError, match="angle_deg.*no angle"):
        neckwright.scarf(of(3.0, "mm"), 20)
    with pytest.raises(NeckwrightError, match=r"nut\.width"):
        Neck(nut={"width": of(3.0, "kg")})


LENGTHS: dict[str, Callable[[Any], object]] = {
    "fret_positions_mm": lambda mm: neckwright.fret_positions_mm(mm, 3).tolist(),
    "fret_positions_of_cents_mm": lambda mm: neckwright.fret_positions_of_cents_mm([700, 1200], mm, 2).tolist(),
    "fret_positions_of_ratios_mm": lambda mm: neckwright.fret_positions_of_ratios_mm([1.5, 2], mm, 2).tolist(),
    "rounded_positions": lambda mm: neckwright.rounded_positions(640, 3, mm),
    "scarf": lambda mm: neckwright.scarf(13, mm),
    "sixtyfourths": sixtyfourths,
    "sagitta_mm": lambda mm: sagitta_mm(400, mm),
    "polyline_mm": lambda mm: NECK.section(100).polyline_mm(mm).tolist(),
    "the wood's polyline": lambda mm: WOOD.polyline_mm(mm, mm).tolist(),
    "the wood's area": WOOD.area_mm2,
    "within": lambda mm: NECK.within(NECK.with_(nut={"width": 50}), tolerance_mm=mm),
    "hump": lambda mm: NECK.layout().hump(0, mm, "fret 12"),
    "contains_mm": lambda mm: WOOD.contains_mm([[100, 0, 12]], within_mm=mm).tolist(),
}


@pytest.mark.parametrize("name", LENGTHS)
def test_wherever_a_length_goes_in_so_does_a_text_and_a_quantity(name: str) -> None:
    call = LENGTHS[name]
    for text, quantity in (("6.35 mm", _of_pint(6.35, "mm")), ("1/4 in", _of_pint(0.635, "cm"))):
        assert call(text) == call(6.35) == call(quantity)
    with pytest.raises(NeckwrightError) as caught:
        call("wide")
    assert caught.value.kind == "unreadable" and caught.value.path.endswith("_mm")


def test_angles_as_arguments() -> None:
    plain = neckwright.scarf(10, 20)
    assert neckwright.scarf("10 deg", "20 mm") == plain == neckwright.scarf(_of_pint(10, "degree"), _of_pint(20, "mm"))


def test_ratios_as_texts() -> None:
    plain = neckwright.fret_positions_of_ratios_mm([1.5, 2.0], 640, 2)
    assert neckwright.fret_positions_of_ratios_mm(["3:2", "2"], 640, 2).tolist() == plain.tolist()


def test_what_has_no_unit_takes_none() -> None:
    calls: dict[str, Callable[[Any], object]] = {
        "cents": lambda x: neckwright.fret_positions_of_cents_mm([x, 1200], 640, 2),
        "ratios": lambda x: neckwright.fret_positions_of_ratios_mm([x, 2], 640, 2),
        "fret": lambda x: NECK.station_mm([x]),
    }
    for name, call in calls.items():
        with pytest.raises(NeckwrightError, match=rf"{name}\[0\].*without a unit"):
            call(_of_pint(1.5, "mm"))
        with pytest.raises(NeckwrightError, match=name):
            call("3 mm")


def test_one_width_in_all_its_forms() -> None:
    wanted = Neck(nut={"width": 42.8625})
    for width in ("1 11/16 in", '1-11/16"', "42.8625 mm", 1.6875 * UNITS.inch, 42.8625 * UNITS.mm, 4.28625 * UNITS.cm):
        neck = Neck(nut={"width": width})
        assert neck.width_mm(0) == pytest.approx(42.8625, abs=1e-12)
        assert neck.within(wanted, tolerance_mm=1e-9)


def test_angles() -> None:
    for angle in (13, "13 deg", 13 * UNITS.degree, np.deg2rad(13) * UNITS.radian):
        assert Neck(headstock={"angle": angle}).headstock().angle_deg == pytest.approx(13, abs=1e-12)


def test_quantities_of_another_sort_are_refused() -> None:
    # A second and a mass are neither; an angle is no width, and a length no angle.
    for wrong in (3 * UNITS.second, 3 * UNITS.kg, UNITS.Quantity(3.0), float("nan") * UNITS.mm):
        with pytest.raises(NeckwrightError, match=r"nut\.width"):
            Neck(nut={"width": wrong})
    with pytest.raises(NeckwrightError, match=r"nut\.width"):
        Neck(nut={"width": 43 * UNITS.degree})
    with pytest.raises(NeckwrightError, match=r"headstock\.angle"):
        Neck(headstock={"angle": 13 * UNITS.mm})
    with pytest.raises(NeckwrightError, match="x_mm"):
        NECK.thickness_mm(3 * UNITS.second)


def test_stations() -> None:
    wanted = NECK.thickness_mm(101.6)
    assert NECK.thickness_mm("4 in") == NECK.thickness_mm(4 * UNITS.inch) == wanted
    several = NECK.thickness_mm(np.array([4.0, 8.0]) * UNITS.inch)
    assert several[0] == wanted and several.shape == (2,)
    assert NECK.thickness_mm([4 * UNITS.inch, "4 in", 101.6]).tolist() == [wanted] * 3
    assert NECK.thickness_mm("fret 12") == NECK.thickness_mm(320.0)
    assert NECK.thickness_mm("nut") == NECK.thickness_mm(0)
    assert NECK.station_mm("fret 12") == NECK.station_mm(12) == 320.0
    assert NECK.section("fret 12").x_mm() == 320.0
    with pytest.raises(TypeError, match="x_mm"):
        NECK.thickness_mm([[4 * UNITS.inch], [4 * UNITS.inch]])
    with pytest.raises(NeckwrightError, match="not a station"):
        NECK.thickness_mm("heel")


def test_options() -> None:
    board = NECK.solids(slots=False)[1]
    assert board.mesh(chord="0.1 mm") == board.mesh(chord=0.1) == board.mesh(chord=0.1 * UNITS.mm)
    assert board.mesh() == board.mesh(chord=0.02) != board.mesh(chord=0.1)


def test_measures() -> None:
    assert length_mm("25 1/2 in") == 647.7 == pytest.approx(length_mm(25.5 * UNITS.inch), abs=1e-12)
    assert angle_deg("10°") == 10.0
    assert sixtyfourths(43).text == "1 11/16 in"
    assert sixtyfourths(43, rounding="up").mm > 43 > sixtyfourths(43, rounding="down").mm
    # An arc of 5 mm radius, 3 and 4 mm out: the sides of right-angled triangles.
    assert sagitta_mm([[5], [13]], [3, 4, 5]).shape == (2, 3)
    assert sagitta_mm(5, [3, 4]).tolist() == [1.0, 2.0]
    assert sagitta_mm("5 mm", 3 * UNITS.mm) == 1.0
    for radius, y, path in [(5.0, 6.0, "y_mm"), (5.0, math.nan, "y_mm"), (-1.0, 0.0, "radius_mm")]:
        with pytest.raises(NeckwrightError) as caught:
            sagitta_mm(radius, y)
        assert caught.value.path == path
    with pytest.raises(NeckwrightError):
        sagitta_mm([5.0, math.nan], 1)
    with pytest.raises(NeckwrightError):
        sixtyfourths(math.nan)


def test_no_package_of_units_is_imported() -> None:
    code = "import sys, neckwright; neckwright.Neck(nut={'width': '43 mm'}); assert 'pint' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], check=True)


@pytest.mark.parametrize("package", PACKAGES)
def test_no_answers_into_quantities_and_no_points_of_them_taken_for_mm(package: str) -> None:
    of = PACKAGES[package]
    with pytest.raises(TypeError, match="out"):
        NECK.thickness_mm([0.0, 100.0], out=of(np.zeros(2), "inch"))
    for points in ([of(np.array([4.0, 0.0, -0.1]), "inch")], [[of(4.0, "inch"), of(0.0, "inch"), of(-0.1, "inch")]]):
        with pytest.raises(TypeError, match="points_mm"):
            WOOD.contains_mm(points)


def test_masks_and_truth_values_are_no_numbers() -> None:
    with pytest.raises(TypeError, match="out"):
        NECK.thickness_mm([0.0, 100.0], out=np.ma.masked_array(np.zeros(2), [True, False]))
    assert WOOD.contains_mm(np.ma.masked_array([[100.0, 0.0, -3.0]] * 2, [[True] * 3, [False] * 3])).tolist() == [False, True]
    for points in ([[True, 0.0, -10.0]], [np.array([True, False, True])], [np.ma.masked_array([1.0, 2.0, 3.0], [True, False, False])]):
        with pytest.raises(TypeError, match="points_mm"):
            WOOD.contains_mm(points)
    for number in (np.array(True), np.complex128(640 + 5j), np.array(["640"])):
        with pytest.raises(TypeError, match="scale_mm"):
            neckwright.fret_positions_mm(number, 3)
