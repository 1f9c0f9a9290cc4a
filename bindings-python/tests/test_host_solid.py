"""The library's faces in a CAD kernel of other hands (Open CASCADE), by the example that hands them over without a file."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from neckwright import Neck

EXAMPLE = Path(__file__).parents[1] / "examples" / "host_solid.py"


@pytest.fixture(scope="module")
def example() -> ModuleType:
    pytest.importorskip("OCP", reason="not run: Open CASCADE's binding is not installed")
    spec = importlib.util.spec_from_file_location("host_solid", EXAMPLE)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(
    "document",
    [
        {"scale": {"length": 640}},
        {"hand": "left", "headstock": {"angle": "1 in 6"}},
        {"nut": {"width": 44}, "headstock": {"angle": 0}, "rod": {"fitted": False}},
    ],
    ids=["plain", "left-handed", "level, without a rod"],
)
def test_the_host_measures_the_same_neck(example: ModuleType, document: dict[str, Any]) -> None:
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    neck = Neck(document)
    volumes = neck.volume_mm3()
    solids = neck.solids(slots=False)
    assert len(solids) == 2
    for solid, ours in zip(solids, (volumes.neck_wood_mm3, volumes.fretboard_mm3), strict=True):
        host = example.handed(solid)
        assert host.valid and host.closed, solid.name
        assert host.volume_mm3 == pytest.approx(ours, rel=1e-9)
        box = Bnd_Box()
        BRepBndLib.AddOptimal_s(host.shape, box, False, False)
        low, high = box.CornerMin(), box.CornerMax()
        found = np.array([[c.X(), c.Y(), c.Z()] for c in (low, high)])
        corners = solid.vertices_mm
        # No vertex lies outside of what the kernel finds, whose boxes are a hair larger than the shape.
        assert (found[0] <= corners.min(axis=0) + 1e-6).all() and (found[1] >= corners.max(axis=0) - 1e-6).all()


def test_the_command(example: ModuleType, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["host_solid.py"])
    assert example.main() == 0
    told = capsys.readouterr().out.splitlines()
    assert [line.split(":")[0] for line in told] == ["neck wood", "fretboard"] and all("valid, closed" in line for line in told)
