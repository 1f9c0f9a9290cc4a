"""All that is measured of one exported neck, in a process of its own."""

import json

import numpy as np

import kernel
from nearest import Nearest
from points import EXACT_MM, POINT, distances_mm
from section import Sections

# Stations of a neck at which the kernel's own boolean is asked too, which takes a hundred times as long.
BOOLEAN_STATIONS = 2

# So many points are looked for with nothing known of where on the surface they are.
SEARCHED = 100


def look(path, booleans, within):
    """What the kernel finds in the STEP file beside a JSON file, beside what that expects; points may be so far off, in mm."""
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
    if within > EXACT_MM:
        found["surfaces"] = [kernel.area_mm2(s, 1e-6) for s in solids]
    sections = [Sections(s) for s in solids]
    found["sections"] = [[s.area_mm2(row[0]) for s in sections] for row in expected["sections"]]
    found["booleans"] = []
    if booleans:
        for x, *_ in expected["sections"][8 :: 24 // BOOLEAN_STATIONS]:
            shapes = [kernel.common(s, x) for s in solids]
            found["booleans"].append([[kernel.area_mm2(s), kernel.outline_mm(s)] for s in shapes])
    if "point_kinds" not in expected:
        return found
    points = np.fromfile(path.with_suffix(".points"), POINT)
    searched = points[:SEARCHED]
    nearest = [Nearest(s) for s in solids]
    found["searched"] = by_kind(expected, searched, [nearest[p["solid"]].distance_mm(*p["at"]) for p in searched])
    distances = np.full(len(points), np.inf)
    for i, solid in enumerate(solids):
        own = points["solid"] == i
        distances[own] = distances_mm(solid, points[own], within)
    found["points"] = by_kind(expected, points, distances)
    return found


def by_kind(expected, points, distances):
    """Of each kind of point how many there are, and the greatest distance."""
    found = {}
    for i, kind in enumerate(expected["point_kinds"]):
        own = np.asarray(distances)[points["kind"] == i]
        if len(own):
            found[kind] = len(own), own.max()
    return found
