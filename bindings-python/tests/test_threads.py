"""Threads: the same bits in all of them, whoever asks first; the interpreter free for others; more than one core at work."""

from __future__ import annotations

import hashlib
import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from statistics import median
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

import neckwright
from everything import asked, bits, everything
from neckwright import Neck, NeckwrightError

NECK = Neck(scale={"length": 640})
X = np.linspace(0.0, 400.0, 20_000)


def _threads(work: list[Callable[[], None]]) -> float:
    """Runs all at once; what one of them raises is raised."""
    raised: list[BaseException] = []

    def caught(one: Callable[[], None]) -> None:
        try:
            one()
        except BaseException as error:
            raised.append(error)

    threads = [threading.Thread(target=caught, args=(one,)) for one in work]
    begun = time.perf_counter()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    taken = time.perf_counter() - begun
    if raised:
        raise raised[0]
    return taken


WANTED = {name: bits(asked(one)) for name, one in everything().items()}


@pytest.mark.parametrize("name", WANTED)
def test_eight_threads_ask_a_new_object_for_everything_at_once(name: str) -> None:
    """What is made when it is first asked for is made once, or the same; nobody sees half of it."""
    for _ in range(3):
        one = everything()[name]
        told: list[Any] = [None] * 8
        together = threading.Barrier(8)

        def work(number: int, one: Any = one, told: list[Any] = told, together: threading.Barrier = together) -> None:
            together.wait()
            answers = asked(one)
            told[number] = (bits(answers), hash(one), repr(one), one == one)

        _threads([lambda number=number: work(number) for number in range(8)])  # type: ignore[misc]
        assert all(answer[0] == WANTED[name] for answer in told)
        assert all(answer[1:] == told[0][1:] for answer in told)


def test_eight_threads_each_with_stations_of_its_own() -> None:
    """Each with other stations and an array of its own: what got into another's would be seen."""
    calls: list[Callable[..., Any]] = [NECK.thickness_mm, NECK.width_mm, NECK.girth_mm, NECK.rod_wall_mm]
    shares = [X[number::8] for number in range(8)]
    wanted = [[call(share).tobytes() for call in calls] for share in shares]
    before = X.tobytes()

    def work(number: int) -> None:
        out = np.empty_like(shares[number])
        for _ in range(10):
            for call, good in zip(calls, wanted[number], strict=True):
                out.fill(-1.0)
                assert call(shares[number], out=out) is out and out.tobytes() == good
                assert call(shares[number]).tobytes() == good
            with pytest.raises(NeckwrightError) as caught:
                NECK.thickness_mm([0.0] * number + [float("nan")])
            assert caught.value.path == f"x_mm[{number}]"

    _threads([lambda number=number: work(number) for number in range(8)])  # type: ignore[misc]
    assert X.tobytes() == before


def test_one_array_that_two_threads_write_to() -> None:
    """Two sorts of answers into one array: each call writes all of its own, or is told that the other is at it."""
    out = np.empty(300_000)
    x = np.linspace(0.0, 400.0, out.size)
    whole = {NECK.thickness_mm(x).tobytes(), NECK.width_mm(x).tobytes()}
    written, told = [0], [0]
    guard = threading.Lock()
    until = time.perf_counter() + 20.0

    def work(call: Callable[..., Any]) -> None:
        done = refused = 0
        while done < 10 or (not told[0] and time.perf_counter() < until):
            try:
                call(x, out=out)
                done += 1
            except TypeError as error:
                assert "out: it can't be written to" in str(error)
                refused += 1
                with guard:
                    told[0] += 1
        with guard:
            written[0] += done

    for _ in range(5):
        _threads([lambda: work(NECK.thickness_mm), lambda: work(NECK.width_mm)])
        assert out.tobytes() in whole
    assert written[0] >= 100 and told[0] > 0, "they never met: nothing was tried"


SOLIDS = NECK.solids()
BOARD = SOLIDS[1]
PLAN = NECK.carving_plan()
TWIN = Neck(NECK.to_json())
FREE: dict[str, Callable[[], object]] = {
    "girths": lambda: NECK.girth_mm(X[:200]),
    "moments": lambda: NECK.section_moments(X[:50]),
    "a neck": lambda: Neck(nut={"width": 44}),
    "a text that is changed": lambda: Neck(NECK.to_json(), nut={"width": 44}),
    "schema": lambda: neckwright.schema("specification"),
    "bounds": lambda: neckwright.bounds("specification"),
    "equality": lambda: NECK == TWIN,
    "hash": lambda: hash(NECK),
    "is_closed": SOLIDS[0].is_closed,
    "mesh": BOARD.mesh,
    "step": lambda: neckwright.step([BOARD]),
    "volume": PLAN.start().volume_mm3,
    "wire": NECK.layout().total_wire_mm,
    "control points": lambda: NECK.section(100).control_points_mm(side="bass"),
}


@pytest.mark.parametrize("name", FREE)
def test_other_threads_run_meanwhile(name: str) -> None:
    """No thread is made to give way here: another one only gets on where the library lets it."""
    call, interval = FREE[name], sys.getswitchinterval()
    counted, stop = [0], threading.Event()

    def count() -> None:
        while not stop.is_set():
            counted[0] += 1
            time.sleep(0.0)

    thread = threading.Thread(target=count)
    sys.setswitchinterval(1000.0)
    try:
        thread.start()
        while not counted[0]:
            time.sleep(0.001)
        during = 0
        until = time.perf_counter() + 20.0
        while during <= 3 and time.perf_counter() < until:
            before = counted[0]
            call()
            during += counted[0] - before
    finally:
        sys.setswitchinterval(interval)
        stop.set()
        thread.join()
    assert during > 3


def _girths(x: NDArray[np.float64]) -> None:
    for _ in range(8):
        NECK.girth_mm(x)


MUCH = bytes(12_000_000)


def _peer() -> None:
    """What surely runs beside itself: the standard library's digest lets go of the lock for all of it."""
    hashlib.sha256(MUCH).digest()


def _gain(work: list[Callable[[], None]]) -> float:
    """How much sooner all is done at once than one after the other."""

    def one_after_the_other() -> None:
        for one in work:
            one()

    return _threads([one_after_the_other]) / _threads(work)


def test_threads_gain_what_the_machine_has_to_give() -> None:
    """By the clock on the wall, against a peer by turns: on two free cores both gain a factor of two, on a busy machine neither."""
    ours = [partial(_girths, X[number::8]) for number in range(8)]
    gains, peers = [], []
    for _ in range(8):
        gains.append(_gain(list(ours)))
        peers.append(_gain([_peer] * 8))
        if len(gains) > 2 and median(gains) > 0.75 * median(peers):
            break
    assert median(gains) > 0.75 * median(peers), (gains, peers)
