"""All that is measured of one exported neck, in a process of its own."""

import json

import kernel
from nearest import Nearest
from section import Sections

# Stations of a neck at which the kernel's own boolean is asked too, which takes a hundred times as long.
BOOLEAN_STATIONS = 2


def look(path, booleans):
    """What the kernel finds in the STEP file beside a JSON file, beside what that expects."""
    expected = json.loads(path.read_text())
    found = {"name": path.stem, "expected": expected}
    if "error" in expected:
        return {**found, "solids": 0}
    solids = kernel.read(path.with_suffix(".step"))
    found["solids"] = len(solids)
    if len(solids) != expected.get("solids", 2):
        return found
    found["valid"] = [kernel.is_valid(s) for s in solids]
    found["closed"] = [kernel.is_closed(s) for s in solids]
    found["tolerance"] = max(kernel.tolerance_mm(s) for s in solids)
    found["volumes"] = [kernel.volume_mm3(s) for s in solids]
    found["surfaces"] = [kernel.area_mm2(s, 1e-6) for s in solids] if "stage" not in expected else []
    sections = [Sections(s) for s in solids]
    found["sections"] = [[s.area_mm2(row[0]) for s in sections] for row in expected["sections"]]
    found["booleans"] = []
    if booleans:
        for x, *_ in expected["sections"][8 :: 24 // BOOLEAN_STATIONS]:
            shapes = [kernel.common(s, x) for s in solids]
            found["booleans"].append([[kernel.area_mm2(s), kernel.outline_mm(s)] for s in shapes])
    nearest = [Nearest(s) for s in solids] if expected["points"] else []
    found["points"] = [nearest[solid].distance_mm(x, y, z) for _, solid, x, y, z in expected["points"]]
    return found
