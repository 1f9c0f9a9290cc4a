"""From one specification of a neck, every number that the work from blank to finished neck needs.

Lengths are in millimetres, and every name that carries a unit ends in it. What is made of many parts comes as named tuples of
:mod:`neckwright.records`.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from ._errors import Fault, NeckwrightError
from ._native import (
    CarvingPlan,
    Copied,
    Edge,
    Face,
    Inspection,
    Layout,
    Mending,
    Mesh,
    Neck,
    Readings,
    Section,
    Sheet,
    Solid,
    Stage,
    Wood,
    __version__,
    angle_deg,
    bounds,
    core_version,
    dxf,
    fret_positions_mm,
    fret_positions_of_cents_mm,
    fret_positions_of_ratios_mm,
    gltf,
    known_shapes,
    known_woods,
    length_mm,
    pdf,
    rounded_positions,
    sagitta_mm,
    scarf,
    schema,
    sixtyfourths,
    step,
    stl,
    threemf,
    usual_gauges_mm,
)

if TYPE_CHECKING:
    from . import records as records
    from ._sweep import Swept, sweep
    from .tables import Table, table

from .display import attach as _attach

__all__ = [
    "CarvingPlan",
    "Copied",
    "Edge",
    "Face",
    "Fault",
    "Inspection",
    "Layout",
    "Mending",
    "Mesh",
    "Neck",
    "NeckwrightError",
    "Readings",
    "Section",
    "Sheet",
    "Solid",
    "Stage",
    "Swept",
    "Table",
    "Wood",
    "__version__",
    "angle_deg",
    "bounds",
    "core_version",
    "dxf",
    "fret_positions_mm",
    "fret_positions_of_cents_mm",
    "fret_positions_of_ratios_mm",
    "gltf",
    "known_shapes",
    "known_woods",
    "length_mm",
    "pdf",
    "rounded_positions",
    "sagitta_mm",
    "scarf",
    "schema",
    "sixtyfourths",
    "step",
    "stl",
    "sweep",
    "table",
    "threemf",
    "usual_gauges_mm",
]

# Shown and pickled under the name that users import.
Fault.__module__ = NeckwrightError.__module__ = __name__

# Loaded when first asked for: an import of the package stays short.
_LATER = {"Swept": "_sweep", "Table": "tables", "sweep": "_sweep", "table": "tables"}


def __getattr__(name: str) -> object:
    # The first record loads their module; so does the first who asks for it by name.
    if name == "records":
        return import_module(".records", __name__)
    if name not in _LATER:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found: object = getattr(import_module(f".{_LATER[name]}", __name__), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})


_attach()
