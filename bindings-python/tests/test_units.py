"""Lengths as texts, numbers and quantities of another package."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pint
import pytest

from neckwright import Neck, NeckwrightError, angle_deg, length_mm, sagitta_mm, sixtyfourths

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
NECK = Neck(scale={"length": 640})


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
