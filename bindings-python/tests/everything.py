"""One object of every class, made the same way each time, and what of an answer has to be the same to the last bit."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

import neckwright
from neckwright import Neck, Readings

NECK = Neck(scale={"length": 640}, nut={"width": "1 11/16 in"})


def readings() -> Readings:
    stations = (60.0, 90.0, 120.0, 150.0, 180.0, 210.0, 240.0, 270.0)
    # One low place among wood that still stands.
    off = {150.0: -0.4}
    return Readings([{"at": x, "quantity": "thickness", "value": NECK.thickness_mm(x) + off.get(x, 0.3)} for x in stations])


def everything() -> dict[str, Any]:
    neck, read = NECK.with_(), readings()
    plan = neck.carving_plan(thickness="45 mm")
    stage = plan.stage("contour")
    inspection = neck.inspect(read, stage=stage)
    low = inspection.low_readings(read)
    solids = neck.solids()
    return {
        "neck": neck,
        "varied": neck.with_(nut={"width": 44}),
        "layout": neck.layout(),
        "section": neck.section("fret 5"),
        "plan": plan,
        "stage": stage,
        "wood": stage.wood,
        "blanks": plan.start(),
        "stage's solid": stage.wood.solids()[0],
        "readings": read,
        "readings of a table": Readings.from_csv("at,quantity,value\nfret 5,thickness,22.3\n"),
        "inspection": inspection,
        "inspection by options": neck.inspect(read, unit="in"),
        "low readings": low,
        "mending": neck.mend(low, least_thickness=9),
        "copied": neck.copy_neck(read, robust=True),
        "solid": solids[0],
        "board": solids[1],
        "face": solids[0].faces[3],
        "edge": solids[0].edges[3],
        "mesh": solids[1].mesh(chord=0.2),
        "sheet": neck.sheet("side"),
        "gauges": neck.sheet("positive_gauges", allowance=0.5),
        "template": neck.templates(plan, offset=2)[1],
        "page": plan.sheets()[2],
        "map": inspection.sheet(),
        "sections": neck.section_sheet([10, 200]),
        "row": neck.caliper_card()[3],
        "volumes": neck.volume_mm3(),
    }


def scan() -> NDArray[np.float64]:
    """Points all over the neck, in its own frame."""
    x = np.linspace(40.0, 370.0, 90)
    back = NECK.back_grid(x, 41)[0].reshape(-1, 3)
    edge = 0.5 * NECK.width_mm(x)
    sides = [np.column_stack([x, sign * edge, np.full_like(x, -2.0)]) for sign in (-1, 1)]
    face = np.column_stack([np.repeat(x, 9), np.outer(edge, np.linspace(-0.8, 0.8, 9)).ravel()])
    radius = NECK.layout().board().radius_at_nut_mm
    assert radius is not None
    face = np.column_stack([face, [-neckwright.sagitta_mm(radius, y) for y in face[:, 1].tolist()]])
    ends = NECK.wood_reach_mm()
    more = NECK.back_grid(np.concatenate([np.linspace(ends[0], 40, 60), np.linspace(370, ends[1], 40)]), 41)[0]
    return np.concatenate([back, *sides, face, more.reshape(-1, 3)])


def bits(answer: Any) -> Any:
    """An answer as something that is equal to that of another only where both have the same bits."""
    if isinstance(answer, np.ndarray):
        return (str(answer.dtype), answer.shape, answer.tobytes())
    if isinstance(answer, float):
        return answer.hex()
    if isinstance(answer, dict):
        return {key: bits(value) for key, value in answer.items()}
    if isinstance(answer, (tuple, list)):
        return (type(answer).__name__, [bits(part) for part in answer])
    return answer


def asked(of: Any) -> dict[str, Any]:
    """Every attribute of an object and what every method answers that needs no argument."""
    answers = {}
    for name in [name for name in dir(of) if not name.startswith("_")]:
        answer = getattr(of, name)
        if callable(answer):
            try:
                answer = answer()
            except TypeError:
                continue
        answers[name] = answer
    return answers
