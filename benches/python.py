"""Python beside Rust, scipy and geomdl, in one process: each pair measured by turns, the least of several.

    cargo build --release -p neckwright-benches --lib
    pip install ./bindings-python scipy geomdl
    python benches/python.py [target/release]
"""

from __future__ import annotations

import ctypes
import math
import os
import sys
import threading
import time
import timeit
from typing import Any

import numpy as np
from geomdl import BSpline as Geomdl
from scipy.interpolate import BSpline

from beside import library, taken_s
from neckwright import Neck

RUST = library(sys.argv[1] if len(sys.argv) > 1 else "target/release")
assert RUST is not None, "cargo build --release -p neckwright-benches --lib comes first"
RUST.beside_thicknesses_s.argtypes, RUST.beside_thicknesses_s.restype = [ctypes.c_uint32] * 3, ctypes.c_double

NECK = Neck()
COUNT = 1_000_000
TURNS = 15


def told(what: str, seconds: float, beside: str, other: float) -> None:
    """One row: what, how long, and beside it."""
    print(f"{what:<44} {seconds * 1e6:12.3f} us   {beside:<40} {other * 1e6:12.3f} us   {other / seconds:10.2f} x")


def scalars() -> None:
    """One station at a time."""
    names: dict[str, Any] = {"neck": NECK, "x": 100.0, "sin": math.sin, "curve": spine()[0]}
    of = {
        "neck.thickness_mm(x)": "neck.thickness_mm(x)",
        "neck.width_mm(x)": "neck.width_mm(x)",
        "math.sin(x)": "sin(x)",
        "scipy's BSpline of the spine": "curve(x)",
    }
    timers = {name: timeit.Timer(code, globals=names) for name, code in of.items()}
    best = {name: math.inf for name in timers}
    for _ in range(TURNS):
        for name, timer in timers.items():
            number = 2_000 if "scipy" in name else 100_000
            best[name] = min(best[name], timer.timeit(number) / number)
    for name in list(of)[:2]:
        told(name, best[name], "math.sin(x)", best["math.sin(x)"])
        told(name, best[name], list(of)[3], best[list(of)[3]])


def spine() -> tuple[Any, tuple[float, float], Any]:
    """The longest face of the back: the curve of its spine as scipy has it, where it lies, and the face."""
    wood = NECK.solids(slots=False)[0]
    backs = [face for face in wood.faces if face.degree is not None and face.degree[1] == 3]
    face = max(backs, key=lambda face: face.knots[0][-1] - face.knots[0][0])  # type: ignore[index]
    assert face.knots is not None and face.multiplicities is not None and face.poles_mm is not None and face.degree is not None
    knots = np.repeat(face.knots[0], face.multiplicities[0])
    # The spine is that end of the cubics that lies deeper.
    last = face.poles_mm[:, -1, 2].mean() < face.poles_mm[:, 0, 2].mean()
    curve = BSpline(knots, face.poles_mm[:, -1 if last else 0, 2], face.degree[0])
    return curve, (float(knots[0]), float(knots[-1])), face


def arrays() -> None:
    """A million stations."""
    curve, (start, end), _ = spine()
    board = min(NECK.layout().board().end_mm, NECK.wood_reach_mm()[1])
    x = board * np.arange(COUNT) / COUNT
    out = np.empty_like(x)
    # Behind the nut a thickness begins at the headstock's face.
    within = np.linspace(max(start, 0.0), end, COUNT)
    apart = float(np.abs(NECK.thickness_mm(within) + curve(within)).max())
    assert apart < 1e-9, "not the same curve"
    best = [math.inf] * 5
    for _ in range(TURNS):
        best[0] = min(best[0], RUST.beside_thicknesses_s(COUNT, 0, 3))
        best[4] = min(best[4], RUST.beside_thicknesses_s(COUNT, 1, 3))
        best[1] = min(best[1], taken_s(lambda: NECK.thickness_mm(x, out=out)))
        best[2] = min(best[2], taken_s(lambda: NECK.thickness_mm(x)))
        best[3] = min(best[3], taken_s(lambda: curve(within)))
    told("1,000,000 thicknesses, out=", best[1], "the same in Rust", best[0])
    told("1,000,000 thicknesses, a new array", best[2], "the same in Rust, new memory", best[4])
    told("1,000,000 thicknesses, a new array", best[2], f"scipy's BSpline, {apart:.0e} mm apart", best[3])


def surface() -> None:
    """A grid on the back, the same face evaluated by both."""
    _, (start, end), face = spine()
    poles, degree = face.poles_mm, face.degree
    other = Geomdl.Surface()
    other.degree_u, other.degree_v = degree
    other.ctrlpts2d = poles.tolist()
    other.knotvector_u = np.repeat(face.knots[0], face.multiplicities[0]).tolist()
    other.knotvector_v = np.repeat(face.knots[1], face.multiplicities[1]).tolist()
    size = 60
    other.sample_size = size
    along = np.linspace(start, end, size)

    def evaluated() -> object:
        other.evaluate()
        return other.evalpts

    columns = 2 * size - 1
    best = [math.inf] * 2
    for turn in range(TURNS):
        best[0] = min(best[0], taken_s(lambda: NECK.back_grid(along, columns)))
        if turn < 3:
            best[1] = min(best[1], taken_s(evaluated))
    told(f"a point of a grid of {size} x {columns}, with its normal", best[0] / (size * columns), "geomdl, without normals", best[1] / size**2)


def all_done(threads: list[threading.Thread]) -> None:
    """Starts all, and waits for all."""
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def threads() -> None:
    """One thread, and as many as there are processors."""
    x = np.linspace(0.0, 400.0, 100_000)
    count = os.cpu_count() or 1

    def work() -> None:
        NECK.girth_mm(x)

    best = [math.inf] * 2
    for _ in range(5):
        best[0] = min(best[0], taken_s(lambda: [work() for _ in range(8)]))
        all_of = [threading.Thread(target=work) for _ in range(8)]
        best[1] = min(best[1], taken_s(lambda: all_done(all_of)))
    told(f"8 times 100,000 girths in 8 threads, {count} cores", best[1], "one after the other", best[0])
    used = time.process_time()
    begun = time.perf_counter()
    work()
    print(f"of the time that passes one thread has the processor for {(time.process_time() - used) / (time.perf_counter() - begun):.0%}")


if __name__ == "__main__":
    scalars()
    arrays()
    surface()
    threads()
