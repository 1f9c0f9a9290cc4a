"""The wood after every stage of random necks' carving plans, read from STEP by Open CASCADE.

The volume and the areas of sections are those of the plan, which knows nothing of solids: it integrates the wood under its cuts.
"""

from collections import Counter

# What has to come often enough among the plans to mean something.
KINDS = ["volute", "angled headstock", "level headstock", "slanted nut", "left-handed", "carved above the glue line"]


def off(stages, what):
    """The stages of which something is wrong, with what."""
    told = [f"{s['name']} {s['expected']['stage']}: {wrong}" for s in stages if (wrong := what(s))]
    return "\n".join(told)


def apart(got, wanted):
    return abs(got - wanted) / abs(wanted)


def test_every_kind_of_plan_is_drawn(found):
    necks = {s["name"].split("-")[0]: s["expected"]["kinds"] for s in found("stages")}
    count = Counter(kind for kinds in necks.values() for kind in kinds)
    assert all(count[kind] >= 2 for kind in KINDS), count


def test_each_stage_is_of_valid_closed_solids(found):
    def wrong(stage):
        expected = stage["expected"]
        if "error" in expected or stage["solids"] != expected["solids"]:
            return expected.get("error", f"{stage['solids']} solids for {expected['solids']}")
        if expected["solids"] > 2:
            return f"{expected['solids']} solids"
        return None if all(stage["valid"] + stage["closed"]) else f"valid {stage['valid']}, closed {stage['closed']}"

    assert off(found("stages"), wrong) == ""


def made(found):
    return [s for s in found("stages") if "volumes" in s]


def test_edges_of_stages_lie_on_their_faces(found):
    assert off(made(found), lambda stage: stage["tolerance"] > 1e-6 and f"{stage['tolerance']:.2e} mm") == ""


def test_volumes_of_stages_are_the_plans(found):
    def wrong(stage):
        most = apart(sum(stage["volumes"]), sum(stage["expected"]["volumes"]))
        return most > 1e-9 and f"{most:.1e}"

    assert off(made(found), wrong) == ""


def test_sections_of_stages_are_the_plans(found):
    def wrong(stage):
        rows = zip(stage["sections"], stage["expected"]["sections"], strict=True)
        most = max(apart(sum(got), wanted) for got, (_, wanted) in rows)
        return most > 1e-9 and f"{most:.1e}"

    assert off(made(found), wrong) == ""
