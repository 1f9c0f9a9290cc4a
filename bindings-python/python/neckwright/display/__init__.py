"""How results show themselves in a notebook. Nothing of it is loaded before something is shown."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from .. import _native

_SHOWN: tuple[tuple[type, str], ...] = (
    (_native.Neck, "neck"),
    (_native.Section, "section"),
    (_native.CarvingPlan, "plan"),
    (_native.Stage, "stage"),
    (_native.Inspection, "inspection"),
    (_native.Mending, "mending"),
    (_native.Copied, "copied"),
    (_native.Readings, "readings"),
)
_DRAWN: tuple[tuple[type, str], ...] = (
    (_native.Neck, "neck"),
    (_native.Section, "section"),
    (_native.Stage, "stage"),
    (_native.Inspection, "inspection"),
    (_native.Sheet, "sheet"),
)


def attach() -> None:
    """Gives the library's types what a notebook asks of them."""
    for of, name in _SHOWN:
        setattr(of, "_repr_html_", _shows(name, "html"))
    for of, name in _DRAWN:
        setattr(of, "_repr_svg_", _shows(name, "svg"))


def _shows(name: str, how: str) -> Any:
    def shown(of: Any) -> Any:
        return getattr(import_module(f".{name}", __name__), how)(of)

    shown.__name__ = f"_repr_{how}_"
    return shown
