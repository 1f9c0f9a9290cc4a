"""Numbers as arguments: every sort of one and of many, quickly, and told by their places where they are wrong."""

from __future__ import annotations

import timeit
from array import array
from collections import deque
from collections.abc import Callable, Iterable
from typing import Any

import numpy as np
import pytest

from neckwright import Neck, NeckwrightError, fret_positions_of_cents_mm, sagitta_mm

NECK = Neck(scale={"length": 640})
LAYOUT = NECK.layout()
WOOD = NECK.carving_plan().start()


def _least(calls: dict[str, Callable[[], object]]) -> dict[str, float]:
    """The least time of each of several calls, all by turns."""
    least = dict.fromkeys(calls, float("inf"))
    for _ in range(30):
        for name, call in calls.items():
            least[name] = min(least[name], timeit.timeit(call, number=500))
    return least


def test_whole_numbers_and_those_of_numpy_are_as_quick_as_floats() -> None:
    of_numpy = [np.float64(100), np.int64(100), np.float32(100), np.uint8(100)]
    calls: dict[str, Callable[[], object]] = {"float": lambda: NECK.thickness_mm(100.0), "int": lambda: NECK.thickness_mm(100)}
    calls.update({type(x).__name__: lambda x=x: NECK.thickness_mm(x) for x in of_numpy})  # type: ignore[misc]
    least = _least(calls)
    for name, time in least.items():
        assert time < 3.0 * least["float"], (name, least)


@pytest.mark.parametrize("number", [100, np.int8(100), np.uint64(100), np.float16(100), np.longdouble(100)], ids=lambda n: type(n).__name__)
def test_numbers_of_every_sort(number: Any) -> None:
    answer = NECK.thickness_mm(number)
    assert type(answer) is float and answer == NECK.thickness_mm(100.0)


@pytest.mark.parametrize("wrong", [True, np.True_, np.timedelta64(100, "D"), [True, 100.0], [[1.0, True]], [np.True_], np.array([True], dtype=object)], ids=repr)
def test_truth_values_and_times_are_no_numbers(wrong: Any) -> None:
    with pytest.raises(TypeError, match=r"^x_mm.* (is|are) needed"):
        NECK.thickness_mm(wrong)


@pytest.mark.parametrize("make", [range, array, memoryview, deque, tuple], ids=lambda make: make.__name__)
def test_sequences_and_what_lays_its_memory_open(make: Any) -> None:
    whole = range(0, 400, 25)
    made: Any = whole if make is range else make("d", whole) if make is array else make(array("d", whole)) if make is memoryview else make(whole)
    wanted = NECK.thickness_mm(np.array(whole, dtype=float))
    assert NECK.thickness_mm(made).tobytes() == wanted.tobytes()
    assert NECK.section_moments(made).shape == (16, 6)


def test_capitals_do_not_matter() -> None:
    assert NECK.thickness_mm("Fret 5") == NECK.thickness_mm("FRET 5") == NECK.thickness_mm("fret 5")
    assert NECK.station_mm("Nut") == 0.0
    thickness = [{"at": "Fret 1", "thickness": 21}, {"at": "fret 12", "thickness": 23}]
    assert Neck(shaft={"thickness": thickness}).thickness_mm("fret 1") == 21.0


class Endless:
    """Something that is told as itself, without end."""

    magnitude: Any
    units = "mm"

    def __init__(self) -> None:
        self.magnitude = self

    def to(self, unit: str) -> Endless:
        return self

    def tolist(self) -> Any:
        return self


class ByTurns(Endless):
    """The same, by way of another."""

    def tolist(self) -> Any:
        return Other()


class Other:
    def tolist(self) -> Any:
        return ByTurns.__new__(ByTurns)


@pytest.mark.parametrize("kind", [Endless, ByTurns])
def test_what_is_told_as_itself(kind: type[Endless]) -> None:
    odd: Any = kind()
    for given in (odd, [odd], np.array([odd], dtype=object), [[odd]]):
        with pytest.raises((NeckwrightError, TypeError), match=r"x_mm"):
            NECK.thickness_mm(given)
        with pytest.raises((NeckwrightError, TypeError)):
            Neck(nut={"width": given})
    without_units = object.__new__(Other)
    with pytest.raises((NeckwrightError, TypeError), match=r"nut\.width"):
        Neck(nut={"width": without_units})


BAD: dict[str, tuple[Callable[[Any], object], Iterable[float], str]] = {
    "thickness_mm": (NECK.thickness_mm, [0.0, 100.0, 9e9], "x_mm[2]"),
    "section_moments": (NECK.section_moments, [0.0, 100.0, 9e9], "x_mm[2]"),
    "station_mm": (NECK.station_mm, [0.0, 5.0, -1.0], "fret[2]"),
    "fret_at": (NECK.fret_at, [0.0, 100.0, 9e9], "x_mm[2]"),
    "margins_mm": (LAYOUT.margins_mm, [0.0, 100.0, 9e9], "x_mm[2]"),
    "gap_mm": (lambda x: LAYOUT.gap_mm(x, string=0), [0.0, float("nan")], "x_mm[1]"),
    "depth_mm": (WOOD.depth_mm, [0.0, 100.0, 9e9], "x_mm[2]"),
    "sagitta_mm": (lambda y: sagitta_mm(5.0, y), [0.0, 6.0], "y_mm[1]"),
    "sagitta_mm by radii": (lambda r: sagitta_mm(r, 4.0), [5.0, 3.0], "y_mm"),
    "a table of two axes": (lambda x: NECK.thickness_mm(np.array(x).reshape(2, 2)), [0.0, 1.0, 9e9, 2.0], "x_mm[1, 0]"),
    "moments of two axes": (lambda x: NECK.section_moments(np.array(x).reshape(2, 2)), [0.0, 1.0, 2.0, 9e9], "x_mm[1, 1]"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_wrong_in_an_array_is_named_by_its_place(name: str) -> None:
    call, given, path = BAD[name]
    with pytest.raises(NeckwrightError) as caught:
        call(given)
    assert [fault.path for fault in caught.value.faults] == [path]
    assert path in str(caught.value)


def test_texts_are_named_too() -> None:
    for given, path in (
        ("heel", "x_mm"),
        (["fret 5", "heel"], "x_mm[1]"),
        (np.array([["fret 5", "nut"], ["heel", "nut"]]), "x_mm[1, 0]"),
        (["fret 99"], "x_mm[0]"),
    ):
        with pytest.raises(NeckwrightError) as caught:
            NECK.thickness_mm(given)
        assert caught.value.path == path and str(caught.value).startswith(path)
    with pytest.raises(NeckwrightError) as caught:
        NECK.station_mm("heel")
    assert caught.value.path == "fret"
    with pytest.raises(TypeError, match=r"^x_mm\[1\]: "):
        NECK.thickness_mm([1.0, None])
    with pytest.raises(TypeError, match=r"^cents\[1\]: "):
        fret_positions_of_cents_mm([700.0, None], 640, 2)  # type: ignore[list-item]


def test_texts_and_numbers_in_one_list() -> None:
    assert NECK.thickness_mm(["fret 5", 1e-7, "4 in"]).tolist() == [NECK.thickness_mm(x) for x in ("fret 5", 1e-7, 101.6)]


SHARED = bytearray(8 * 42)


@pytest.mark.parametrize("at", [0, 8, 64, 160, 168])
def test_answers_where_the_stations_lie(at: int) -> None:
    """Whose the memory is says nothing: both arrays are of the same bytes, and neither knows of the other."""
    x = np.linspace(0.0, 400.0, 20)
    given = np.frombuffer(SHARED, dtype=np.float64, count=20)
    given[:] = x
    out = np.frombuffer(memoryview(SHARED)[at : at + 160], dtype=np.float64)
    assert NECK.thickness_mm(given, out=out) is out
    assert out.tobytes() == NECK.thickness_mm(x).tobytes()
    given[:] = x
    assert NECK.girth_mm(given, out=out).tobytes() == NECK.girth_mm(x).tobytes()


def test_arrays_of_a_mesh_that_share_memory_are_refused() -> None:
    mesh = NECK.solids(slots=False)[1].mesh(chord=1)
    count = len(mesh.positions_mm)
    memory = bytearray(8 * 8 * count)
    positions = np.frombuffer(memory, dtype=np.float64, count=3 * count).reshape(count, 3)
    one_off = np.frombuffer(memory, dtype=np.float64, count=3 * count, offset=8).reshape(count, 3)
    station_girth = np.empty((count, 2))
    with pytest.raises(NeckwrightError, match="normals: shares memory with positions_mm"):
        mesh.vertices_into(positions, one_off, station_girth)
    grid = np.frombuffer(memory, dtype=np.float64, count=18).reshape(2, 3, 3)
    shifted = np.frombuffer(memory, dtype=np.float64, count=18, offset=16).reshape(2, 3, 3)
    with pytest.raises(NeckwrightError, match="shares memory"):
        NECK.back_grid([10.0, 20.0], 3, out=(grid, shifted))
    # The stations are read before anything is written.
    x = np.frombuffer(memory, dtype=np.float64, count=2)
    x[:] = [10.0, 20.0]
    normals = np.empty((2, 3, 3))
    NECK.back_grid(x, 3, out=(grid, normals))
    assert grid.tobytes() == NECK.back_grid([10.0, 20.0], 3)[0].tobytes()
