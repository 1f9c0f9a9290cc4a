"""The solids of random necks, read from STEP by Open CASCADE."""

import hashlib
from collections import Counter

import numpy as np
import pytest

from points import CUBIC_MM, EXACT_MM

# Of 200 necks each kind has to come often enough to mean something.
KINDS = [
    "volute",
    "no volute",
    "angled headstock",
    "level headstock",
    "asymmetric",
    "slanted nut",
    "multi-scale",
    "left-handed",
    "rod",
    "carved above the glue line",
    "splines",
]
POINT_KINDS = (
    [f"{part} of the {place}" for part in ("back", "sides", "top") for place in ("headstock", "volute", "shaft", "heel")]
    + ["sides of the board", "back of the board", "board above and below", "crown", "channel", "holes"]
    + ["tip", "end of the heel"]
)
SLOT_KINDS = ["floor of a slot", "walls of a slot"]
FAMILIES = ["plain", "slots", "cubic", "ap214"]
POINTS = 10_000

# What the kernel's approximation of a boolean's curves keeps to (memory).
BOOLEAN_MM = 1e-7


def off(necks, what):
    """The names of necks of which something is wrong, with what."""
    told = [f"{neck['name']}: {wrong}" for neck in necks if (wrong := what(neck))]
    return "\n".join(told)


def whole(necks):
    """Those that can be measured; that all can is a test of its own."""
    return [neck for neck in necks if neck["solids"] == 2]


def apart(got, wanted):
    return abs(got - wanted) / abs(wanted) if wanted else abs(got)


def test_every_kind_of_neck_is_drawn(found):
    necks = found("plain")
    assert len(necks) == 200
    count = Counter(kind for neck in necks for kind in neck["expected"]["kinds"])
    assert all(count[kind] >= 10 for kind in KINDS), count


@pytest.mark.parametrize("family", FAMILIES)
def test_each_solid_is_one_valid_closed_solid(found, family):
    def wrong(neck):
        if neck["solids"] != 2:
            return neck["expected"].get("error", f"{neck['solids']} solids")
        return None if all(neck["valid"] + neck["closed"]) else f"valid {neck['valid']}, closed {neck['closed']}"

    assert off(found(family), wrong) == ""


@pytest.mark.parametrize("family", FAMILIES)
def test_edges_lie_on_their_faces(found, family):
    necks = whole(found(family))
    assert off(necks, lambda neck: neck["tolerance"] > 1e-6 and f"{neck['tolerance']:.2e} mm") == ""


def slots_mm3(slots):
    """What the slots take off a board: each is as deep everywhere, so that is the depth times their share of the plan.

    A slot is cut across into lines at one distance from its middle each; where such a line meets the board's edges, which are
    straight, is told in closed form. The board begins in the middle of a zero fret's slot.
    """
    nodes, weights = np.polynomial.legendre.leggauss(10)
    stations, widths = np.array(slots["widths"]).T
    total = 0.0
    for x, slope in slots["lines"]:
        half = 0.5 * slots["width"] * np.hypot(1.0, slope)
        first = 0.0 if x == 0.0 else -half
        for node, weight in zip(nodes, weights):
            middle = x + first + (half - first) * 0.5 * (1.0 + node)
            i = min(max(int(np.searchsorted(stations, x)), 1), len(stations) - 1)
            taper = 0.5 * (widths[i] - widths[i - 1]) / (stations[i] - stations[i - 1])
            edge = 0.5 * widths[i - 1] + taper * (middle - stations[i - 1]) - slots["binding"]
            total += 0.5 * (half - first) * weight * (edge / (1.0 - taper * slope) + edge / (1.0 + taper * slope))
    return slots["depth"] * total


@pytest.mark.parametrize("family", ["plain", "slots", "ap214"])
def test_volumes_are_the_laws(found, family):
    def wrong(neck):
        wood, board = neck["expected"]["volumes"]
        if family == "slots":
            board -= slots_mm3(neck["expected"]["slots"])
        most = max(apart(*pair) for pair in zip(neck["volumes"], [wood, board]))
        return most > 1e-9 and f"{most:.1e}"

    assert off(whole(found(family)), wrong) == ""


def slots_mm2(slots, x):
    """What the slots take off a section: from each the stretch across for which the section is in it, as deep everywhere."""
    stations, widths = np.array(slots["widths"]).T
    edge = 0.5 * np.interp(x, stations, widths) - slots["binding"]
    total = 0.0
    for middle, slope in slots["lines"]:
        half = 0.5 * slots["width"] * np.hypot(1.0, slope)
        # The board begins in the middle of a zero fret's slot.
        off = x - middle - np.array([half, 0.0 if middle == 0.0 else -half])
        if slope == 0.0:
            low, high = (-edge, edge) if off[0] < 0.0 < off[1] else (0.0, 0.0)
        else:
            low, high = np.clip(np.sort(off / slope), -edge, edge)
        total += high - low
    return slots["depth"] * total


@pytest.mark.parametrize("family", FAMILIES)
def test_areas_of_sections_are_the_laws(found, family):
    def wrong(neck):
        rows = zip(neck["sections"], neck["expected"]["sections"], strict=True)
        for got, (x, wood, board, *outlines) in rows:
            if family == "slots":
                board -= slots_mm2(neck["expected"]["slots"], x)
            # A curve nowhere further off than so much encloses no more than that times its length more or less.
            more = [CUBIC_MM * outline if family == "cubic" else 0.0 for outline in outlines]
            for area, wanted, within in zip(got, [wood, board], more, strict=True):
                if abs(area - wanted) > within + 1e-9 * wanted:
                    return f"{area} for {wanted} at {x}"
        return None

    necks = whole(found(family))
    assert all(len(neck["sections"]) == 24 for neck in necks)
    assert off(necks, wrong) == ""


def test_areas_by_the_kernels_booleans(found):
    asked = [neck for neck in whole(found("plain")) if neck["booleans"]]
    assert len(asked) >= 15

    def wrong(neck):
        rows = neck["expected"]["sections"]
        rows = rows[8 :: len(rows) // len(neck["booleans"])]
        for got, wanted in zip(neck["booleans"], rows):
            for (area, outline), area_wanted in zip(got, wanted[1:3]):
                if abs(area - area_wanted) > BOOLEAN_MM * outline + 1e-9 * area_wanted:
                    return f"{area} for {area_wanted} at {wanted[0]}"
        return None

    assert off(asked, wrong) == ""


@pytest.mark.parametrize("family", FAMILIES)
def test_points_of_the_laws_lie_on_the_solids(found, family):
    within = CUBIC_MM if family == "cubic" else EXACT_MM
    necks = whole(found(family))

    def wrong(neck):
        rows = [(*row, kind) for points in ("searched", "points") for kind, row in neck[points].items()]
        _, distance, kind = max(rows, key=lambda row: row[1])
        return distance > within and f"{kind}: {distance:.1e} mm"

    assert off(necks, wrong) == ""
    assert all(sum(count for count, _ in neck["points"].values()) == POINTS for neck in necks)
    assert all(sum(count for count, _ in neck["searched"].values()) == 100 for neck in necks)
    seen, searched = (
        {kind: sum(neck[points][kind][0] for neck in necks if kind in neck[points]) for kind in POINT_KINDS + SLOT_KINDS}
        for points in ("points", "searched")
    )
    wanted = POINT_KINDS if family == "plain" else SLOT_KINDS if family == "slots" else []
    assert all(searched[kind] >= 50 and seen[kind] >= 5000 for kind in wanted), (seen, searched)


def test_cubic_solids_are_as_near_as_they_say(found):
    """A surface nowhere further off than so much encloses no more than that times its area more or less."""

    def wrong(neck):
        rows = zip(neck["volumes"], neck["expected"]["volumes"], neck["surfaces"])
        return any(abs(got - wanted) > CUBIC_MM * area for got, wanted, area in rows) and "volume"

    assert off(whole(found("cubic")), wrong) == ""


def test_the_same_bytes_once_more(exported):
    again = sorted((exported / "again" / "plain").glob("*.step"))
    assert again
    for path in again:
        first = exported / "plain" / path.name
        assert hashlib.sha256(path.read_bytes()).digest() == hashlib.sha256(first.read_bytes()).digest(), path.name
