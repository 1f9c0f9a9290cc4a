"""Threads, memory, the time to import."""

from __future__ import annotations

import gc
import os
import resource
import statistics
import subprocess
import sys
import threading
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from neckwright import Neck, NeckwrightError, Readings

NECK = Neck(scale={"length": 640})
X = np.linspace(0.0, 400.0, 20_000)


def test_eight_threads_on_one_neck() -> None:
    wanted = (NECK.thickness_mm(X).tobytes(), NECK.girth_mm(X[:500]).tobytes(), NECK.volume_mm3(), NECK.to_json())
    wrong: list[object] = []

    def work(number: int) -> None:
        out = np.empty_like(X)
        for _ in range(10):
            NECK.thickness_mm(X, out=out)
            got = (out.tobytes(), NECK.girth_mm(X[:500]).tobytes(), NECK.volume_mm3(), NECK.to_json())
            if got != wanted:
                wrong.append(number)
            try:
                NECK.thickness_mm(float("nan"))
                wrong.append("no error")
            except NeckwrightError as error:
                if error.kind != "outside_neck":
                    wrong.append(error)

    _threads([lambda number=number: work(number) for number in range(8)])  # type: ignore[misc]
    assert not wrong


def _threads(work: list[Callable[[], None]]) -> float:
    threads = [threading.Thread(target=one) for one in work]
    begun = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return time.perf_counter() - begun


def test_one_array_that_two_threads_write_to() -> None:
    """Either is written whole, or told that the other is at it; never a crash."""
    out = np.empty(200_000)
    x = np.linspace(0.0, 400.0, out.size)
    told: list[BaseException] = []

    def work() -> None:
        for _ in range(20):
            try:
                NECK.thickness_mm(x, out=out)
            except TypeError as error:
                told.append(error)

    _threads([work] * 4)
    assert all("out" in str(error) for error in told)
    NECK.thickness_mm(x, out=out)
    assert out.tobytes() == NECK.thickness_mm(x).tobytes()


def test_other_threads_run_meanwhile() -> None:
    """The interpreter is free while the library works: another thread counts on."""
    counted = 0
    stop = False

    def count() -> None:
        nonlocal counted
        while not stop:
            counted += 1

    thread = threading.Thread(target=count)
    thread.start()
    many = np.linspace(0.0, 400.0, 20_000)
    before = counted
    NECK.girth_mm(many)
    during = counted - before
    stop = True
    thread.join()
    assert during > 1000


ROUNDS: dict[str, Callable[[], object]] = {
    "a scalar": lambda: NECK.thickness_mm(100.0),
    "a text": lambda: NECK.thickness_mm("fret 5"),
    "an array": lambda: NECK.thickness_mm(X[:50]),
    "an error": lambda: _refused(lambda: NECK.thickness_mm([1.0, -1e9])),
    "a wrong type": lambda: _refused(lambda: NECK.thickness_mm(None)),  # type: ignore[call-overload]
    "records": lambda: (NECK.bounds(), NECK.headstock()),
    "a section": lambda: NECK.section(100.0).control_points_mm(side="bass"),
}


def _refused(call: Callable[[], object]) -> None:
    with pytest.raises((NeckwrightError, TypeError)):
        call()


def _resident() -> int:
    return int(Path("/proc/self/statm").read_text().split()[1]) * resource.getpagesize()


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="this system does not tell a process's memory there")
@pytest.mark.parametrize("name", ROUNDS)
def test_no_leak_over_a_hundred_thousand_rounds(name: str) -> None:
    rounds, call = 100_000, ROUNDS[name]
    for _ in range(5_000):
        call()
    gc.collect()
    before = _resident()
    for _ in range(rounds):
        call()
    gc.collect()
    # Ten bytes a round would be a megabyte.
    assert _resident() - before < 2_000_000
    tracemalloc.start()
    # Until the interpreter's own lists of freed objects are full.
    for _ in range(5_000):
        call()
    gc.collect()
    first = tracemalloc.get_traced_memory()[0]
    for _ in range(2_000):
        call()
    gc.collect()
    grown = tracemalloc.get_traced_memory()[0] - first
    tracemalloc.stop()
    assert grown < 20_000


def test_no_leak_of_what_is_large() -> None:
    readings = Readings([{"at": 100, "quantity": "thickness", "value": 22}])

    def everything() -> None:
        plan = NECK.carving_plan()
        inspection = NECK.inspect(readings, stage=plan.stages()[-1])
        mesh = NECK.solids(slots=False)[1].mesh(chord=0.2)
        assert inspection.rows and mesh.positions_mm.size and plan.stages()[3].wood.volume_mm3()

    for _ in range(20):
        everything()
    gc.collect()
    before = _resident()
    for _ in range(100):
        everything()
    gc.collect()
    # One plan alone has more than a hundred thousand bytes.
    assert _resident() - before < 6_000_000


def test_importing_is_quick() -> None:
    code = "import numpy, time; t = time.perf_counter(); import neckwright; print(time.perf_counter() - t)"
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": ""}
    runs = [
        float(subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, check=True).stdout)
        for _ in range(5)
    ]
    # The least of a few, as other programs run beside this one.
    assert min(runs) < 0.03, statistics.median(runs)
