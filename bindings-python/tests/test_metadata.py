"""What the installed wheel says of itself."""

from __future__ import annotations

import sys
from importlib.metadata import metadata, version
from pathlib import Path

import pytest

import neckwright

TOLD = metadata("neckwright")


def test_it_says_what_it_is_for() -> None:
    classifiers = TOLD.get_all("Classifier") or []
    assert {"Typing :: Typed", "Framework :: Jupyter", "Topic :: Scientific/Engineering"} <= set(classifiers)
    assert f"Programming Language :: Python :: 3.{sys.version_info.minor}" in classifiers
    assert "guitar neck" in (TOLD["Keywords"] or "") and TOLD["Summary"] and "neckwright for Python" in (TOLD.get_payload() or "")  # type: ignore[attr-defined]
    assert version("neckwright") == neckwright.__version__


def test_its_licences_are_in_it() -> None:
    assert TOLD["License-Expression"] == "MIT OR Apache-2.0"
    root = Path(__file__).resolve().parents[2]
    files = TOLD.get_all("License-File") or []
    assert sorted(files) == ["LICENSE-APACHE", "LICENSE-MIT"]
    from importlib.metadata import files as installed

    for name in files:
        (inside,) = (file for file in installed("neckwright") or () if file.name == name)
        assert inside.read_text(encoding="utf-8") == (root / name).read_text(encoding="utf-8")


def test_it_has_types() -> None:
    assert (Path(neckwright.__file__).parent / "py.typed").exists()
    # A checker of types tells these as well: without groups' types the comments would be of no use, which mypy refuses.
    with pytest.raises(neckwright.NeckwrightError, match="did you mean nut"):
        neckwright.Neck(nutt={"width": 43})  # type: ignore[call-arg]
    with pytest.raises(neckwright.NeckwrightError, match="hand"):
        neckwright.Neck(hand="lefft")  # type: ignore[arg-type]
