"""What each operation of the shared cases calls in Python."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np
from numpy.typing import NDArray

import neckwright
from cases import Case
from neckwright import Neck, Readings, gltf, step, stl, threemf

Results = dict[str, NDArray[np.float64]]


def _array(values: Iterable[float]) -> NDArray[np.float64]:
    return np.array(list(values), dtype=np.float64)


def _neck(case: Case) -> Neck:
    assert case.document is not None
    return Neck(case.document)


def _fret_positions_mm(case: Case) -> Results:
    positions = neckwright.fret_positions_mm(
        case.number("scale_mm"), case.count("fret_count"), divisions=case.count("divisions")
    )
    return {"positions": positions}


def _read_specification(case: Case) -> Results:
    specification = _neck(case).specification()
    return {
        "nut_width": _array([specification["nut"]["width"]]),
        "fret_count": _array([specification["frets"]["count"]]),
    }


def _neck_along(case: Case) -> Results:
    neck, x_mm = _neck(case), np.array(case.numbers("x_mm"))
    walls = neck.rod_wall_mm(x_mm)
    return {
        "thickness": neck.thickness_mm(x_mm),
        "width": neck.width_mm(x_mm),
        "girth": neck.girth_mm(x_mm),
        "carve_line_bass": neck.carve_line_mm(x_mm, side="bass"),
        "carve_line_treble": neck.carve_line_mm(x_mm, side="treble"),
        "rod_wall": walls[~np.isnan(walls)],
    }


def _neck_section(case: Case) -> Results:
    section = _neck(case).section(case.number("x_mm"))
    bass, treble = section.control_points_mm(side="bass"), section.control_points_mm(side="treble")
    return {
        "area": _array([section.area_mm2()]),
        "centroid": _array(section.centroid_mm()),
        "second_moments": _array(section.second_moment_mm4()),
        "control_points_bass": _array([]) if bass is None else bass.ravel(),
        "control_points_treble": _array([]) if treble is None else treble.ravel(),
    }


def _neck_whole(case: Case) -> Results:
    neck = _neck(case)
    volumes, least = neck.volume_mm3(), neck.least_rod_wall()
    return {
        "volumes": _array([volumes.neck_wood_mm3, volumes.fretboard_mm3]),
        "rod_channel": _array([volumes.rod_channel_mm3]),
        "least_rod_wall": _array([] if least is None else [least.value]),
        "least_rod_wall_at": _array([] if least is None else [least.x_mm]),
    }


def _neck_stages(case: Case) -> Results:
    plan = _neck(case).carving_plan(case.given["stock"])
    return {
        "stock": _array([plan.stock_mm3()]),
        "removed": _array(stage.removed_mm3 for stage in plan.stages()),
        "left": _array(stage.left_mm3 for stage in plan.stages()),
        "finished": _array([plan.finished_mm3()]),
    }


def _neck_inspect(case: Case) -> Results:
    inspection = _neck(case).inspect(Readings.from_csv(case.given["readings"]))
    return {
        "deviations": _array(row.finished.mm for row in inspection.rows if row.finished is not None),
        "low_from": _array(low.x_mm[0] for low in inspection.low),
        "low_to": _array(low.x_mm[1] for low in inspection.low),
        "low_amplitude": _array(low.amplitude_mm for low in inspection.low),
        "low_p_value": _array(low.p_value for low in inspection.low),
    }


def _sum(data: bytes) -> NDArray[np.float64]:
    """64-bit FNV-1a of a file, as two numbers of 32 bits."""
    total = 0xCBF29CE484222325
    for byte in data:
        total = (total ^ byte) * 0x100000001B3 & 0xFFFFFFFFFFFFFFFF
    return _array([total >> 32, total & 0xFFFFFFFF])


def _neck_files(case: Case) -> Results:
    brown = [(0.5, 0.25, 0.125)] * 2
    solids = _neck(case).solids()
    meshes = [solid.mesh() for solid in solids]
    counts = [count for mesh in meshes for count in (len(mesh.positions_mm), len(mesh.triangles))]
    return {
        "step": _sum(step(solids, colours=brown)),
        "stl": _sum(stl(meshes, colours=brown)),
        "threemf": _sum(threemf(meshes, colours=brown)),
        "gltf": _sum(gltf(meshes, colours=brown)),
        "mesh_counts": _array(counts),
        "mesh_places": _sum(b"".join(mesh.positions_mm.astype("<f8").tobytes() for mesh in meshes)),
    }


OPERATIONS: dict[str, Callable[[Case], Results]] = {
    "fret_positions_mm": _fret_positions_mm,
    "read_specification": _read_specification,
    "neck_along": _neck_along,
    "neck_section": _neck_section,
    "neck_whole": _neck_whole,
    "neck_stages": _neck_stages,
    "neck_inspect": _neck_inspect,
    "neck_files": _neck_files,
}
