"""Whatever is given: the right answer or the right exception, and never anything else.

Arrays in every form that numpy has are held against the plain one; documents at random against the table of bounds.
"""

from __future__ import annotations

import json
import math
from collections import OrderedDict
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import neckwright
from neckwright import Neck, NeckwrightError, Readings

NECK = Neck(scale={"length": 640})
FROM, TO = NECK.reach_mm()
X = np.linspace(0.0, 400.0, 24)
PLAIN = NECK.thickness_mm(X)
QUIET = settings(max_examples=200, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))


class Stubborn(np.ndarray[Any, np.dtype[np.float64]]):
    """An array of a class of its own."""


def _strange() -> dict[str, Any]:
    misaligned = np.zeros(X.nbytes + 1, dtype=np.uint8)[1:].view(np.float64)
    misaligned[:] = X
    read_only = X.copy()
    read_only.setflags(write=False)
    wide = np.zeros(2 * len(X))
    wide[::2] = X
    return {
        "list": X.tolist(),
        "tuple": tuple(X.tolist()),
        "read-only": read_only,
        "strided": wide[::2],
        "backwards": X[::-1][::-1],
        "misaligned": misaligned,
        "other byte order": X.astype(X.dtype.newbyteorder()),
        "long double": X.astype(np.longdouble),
        "objects": X.astype(object),
        "fractions": [Fraction(x) for x in X.tolist()],
        "decimals": [Decimal(x) for x in X.tolist()],
        "a subclass": X.view(Stubborn),
        "masked, nothing hidden": np.ma.masked_array(X, False),
        "texts": [f"{x!r} mm" for x in X.tolist()],
        "texts of numpy": np.array([f"{x!r} mm" for x in X.tolist()]),
        "in memory of another": np.frombuffer(X.tobytes()),
    }


@pytest.mark.parametrize("form", _strange())
def test_every_form_of_an_array_has_the_same_answers(form: str) -> None:
    answers = NECK.thickness_mm(_strange()[form])
    assert type(answers) is np.ndarray and answers.tobytes() == PLAIN.tobytes()


def test_shapes_are_kept() -> None:
    for shape in [(24,), (2, 12), (2, 3, 4), (24, 1), (1, 24)]:
        for order in "CF":
            given = np.asarray(X.reshape(shape), order=order)  # type: ignore[call-overload]
            answers = NECK.thickness_mm(given)
            assert answers.shape == shape and answers.ravel().tobytes() == PLAIN.tobytes()
    empties: list[Any] = [[], np.zeros((0, 3)), np.zeros((3, 0))]
    for empty in empties:
        assert NECK.thickness_mm(empty).shape == np.shape(empty)
    ones: list[Any] = [100, np.int64(100), np.float32(100), np.array(100.0), np.array(100), Fraction(100), "100 mm"]
    for whole in ones:
        answer = NECK.thickness_mm(whole)
        assert type(answer) is float and answer == NECK.thickness_mm(100.0)


def test_nothing_that_was_given_is_changed() -> None:
    before = X.tobytes()
    NECK.thickness_mm(X)
    assert X.tobytes() == before
    document = {"nut": {"width": 43}, "shaft": {"thickness": [{"at": 0, "thickness": 21}]}}
    copied = json.loads(json.dumps(document))
    Neck(document).with_(nut={"width": 44})
    assert document == copied


HOLDS_ITSELF: list[Any] = [[]]
HOLDS_ITSELF[0].append(HOLDS_ITSELF)

HOLDS_ITSELF_TWICE: list[Any] = []
HOLDS_ITSELF_TWICE += [HOLDS_ITSELF_TWICE, HOLDS_ITSELF_TWICE]

WRONG_TYPES: list[Any] = [HOLDS_ITSELF, HOLDS_ITSELF_TWICE, [np.array([True, False]), [1, 2]], None, True, b"100", object(), {}, {1.0}, 1j, [None], ["a", None], [[1, 2], [3]], [1j], [True, False]]


@pytest.mark.parametrize("wrong", WRONG_TYPES, ids=lambda value: type(value).__name__)
def test_what_is_no_station(wrong: Any) -> None:
    for method in ("thickness_mm", "width_mm", "girth_mm", "rod_wall_mm", "fret_at", "station_mm"):
        with pytest.raises((TypeError, NeckwrightError)):
            getattr(NECK, method)(wrong)
    for wrong_array in (np.array(["2020-01-01"], dtype="M8[D]"), np.zeros(2, dtype=[("a", "f8")]), np.array([1j])):
        with pytest.raises(TypeError, match="x_mm"):
            NECK.thickness_mm(wrong_array)


OFF: list[Any] = [math.nan, math.inf, -math.inf, 1e300, -1e300, 10**400, -(10**400), FROM - 1e-9, TO + 1e-9, "2 m"]


@pytest.mark.parametrize("off", OFF, ids=lambda value: repr(value)[:20])
def test_stations_off_the_neck(off: Any) -> None:
    for method in ("thickness_mm", "width_mm", "girth_mm", "rod_wall_mm", "section"):
        with pytest.raises(NeckwrightError) as caught:
            getattr(NECK, method)(off)
        assert (caught.value.kind, caught.value.path) == ("outside_neck", "x_mm")
    with pytest.raises(NeckwrightError) as caught:
        NECK.thickness_mm([100, off])
    assert caught.value.path == "x_mm[1]"


def test_what_a_mask_hides_is_no_station() -> None:
    with pytest.raises(NeckwrightError, match=r"x_mm\[1\] = NaN"):
        NECK.thickness_mm(np.ma.masked_array([1.0, 2.0], [False, True]))
    with pytest.raises(NeckwrightError, match=r"x_mm\[1\] = NaN"):
        NECK.thickness_mm(np.ma.masked_array([1, 2], [False, True]))


def test_answers_into_an_array() -> None:
    out = np.full_like(X, -1.0)
    assert NECK.thickness_mm(X, out=out) is out and out.tobytes() == PLAIN.tobytes()
    own = X.copy()
    assert NECK.thickness_mm(own, out=own) is own and own.tobytes() == PLAIN.tobytes()
    overlapping = np.concatenate([X, [0.0]])
    assert NECK.thickness_mm(overlapping[:-1], out=overlapping[1:]).tobytes() == PLAIN.tobytes()
    kept = np.full_like(X, -1.0)
    bad = X.copy()
    bad[-1] = math.nan
    with pytest.raises(NeckwrightError):
        NECK.thickness_mm(bad, out=kept)
    assert (kept == -1.0).all(), "nothing is written where something is wrong"
    locked = np.empty_like(X)
    locked.setflags(write=False)
    strange: list[Any] = [X.astype("f4"), X.astype(">f8"), locked, np.empty(48)[::2], [0.0] * 24, "out", X.astype(int)]
    for wrong in strange:
        with pytest.raises(TypeError, match="out"):
            NECK.thickness_mm(X, out=wrong)
    with pytest.raises(NeckwrightError) as caught:
        NECK.thickness_mm(X, out=np.empty(23))
    assert (caught.value.kind, caught.value.path) == ("buffer", "out")


NUMBERS = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True),
    st.integers(),
    st.floats(-700.0, 700.0),
    st.floats(-700.0, 700.0).map(np.float32),
)


def _float(number: Any) -> float:
    try:
        return float(number)
    except OverflowError:
        return math.inf


@given(st.lists(NUMBERS, max_size=8))
@QUIET
def test_any_numbers(numbers: list[Any]) -> None:
    floats = [_float(number) for number in numbers]
    good = all(FROM <= number <= TO for number in floats)
    try:
        answers = NECK.thickness_mm(numbers)
    except NeckwrightError as error:
        assert not good and error.kind == "outside_neck"
    else:
        assert good and len(answers) == len(numbers)
        assert [NECK.thickness_mm(number) for number in floats] == answers.tolist()


JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.binary(max_size=3)),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=8), inner, max_size=4)),
    max_leaves=12,
)


@given(st.dictionaries(st.one_of(st.sampled_from(list(NECK.specification())), st.text(max_size=5)), JSON, max_size=5))
@settings(QUIET, max_examples=80)
def test_any_document(document: dict[str, Any]) -> None:
    for make in (Neck, lambda given: Neck(**given), NECK.carving_plan, lambda given: Readings({"readings": [given]})):
        try:
            make(document)
        except (NeckwrightError, TypeError) as error:
            assert str(error)


ROWS = [row for row in neckwright.bounds("specification") if "[" not in row.path and row.lowest is not None]


@given(st.data())
@QUIET
def test_random_specifications(data: st.DataObject) -> None:
    """Numbers in and about their bounds: a neck, or faults that name what was given; the same from a text and a mapping."""
    document: dict[str, Any] = {}
    for row in data.draw(st.lists(st.sampled_from(ROWS), max_size=6, unique=True)):
        assert row.lowest is not None
        highest = row.lowest + 100.0 if row.highest is None else row.highest
        number: float = data.draw(st.floats(row.lowest, highest))
        if data.draw(st.integers(0, 9)) == 0:
            number = highest + 1.0
        whole = row.takes == "whole number"
        group, _, field = row.path.partition(".")
        value: Any = int(number) if whole else number
        if field:
            document.setdefault(group, {})[field] = value
        else:
            document[group] = value
    told = []
    for given_document in (document, json.dumps(document), MappingProxyType(document)):
        try:
            neck = Neck(given_document)
        except NeckwrightError as error:
            assert error.faults and all(fault.message in str(error) for fault in error.faults)
            told.append([fault.message for fault in error.faults])
        else:
            assert Neck(neck.to_json()) == neck and np.isfinite(neck.thickness_mm(0.0))
            told.append([neck.to_json()])
    assert told[0] == told[1] == told[2]


def test_documents_of_every_sort_of_mapping_and_number() -> None:
    plain = Neck({"nut": {"width": 43}, "shaft": {"thickness": [{"at": 0, "thickness": 21.5}]}})
    for width in (43.0, np.float32(43), np.int16(43), np.array(43), Decimal(43), Fraction(43), "43 mm", "4.3 cm"):
        for mapping in (dict, OrderedDict, MappingProxyType):
            for several in (list, tuple, np.array):
                thickness = several([mapping({"at": 0, "thickness": 21.5})])
                document = mapping({"nut": mapping({"width": width}), "shaft": {"thickness": thickness}})
                assert Neck(document) == plain


def test_documents_that_are_none() -> None:
    holds_itself: dict[str, Any] = {}
    holds_itself["nut"] = holds_itself
    deep: Any = 1
    for _ in range(2000):
        deep = [deep]
    for wrong in (holds_itself, {"nut": deep}):
        with pytest.raises(NeckwrightError, match="nested too deeply"):
            Neck(wrong)
    for number in (math.nan, math.inf, 10**400, np.float64("nan"), np.array(np.inf)):
        with pytest.raises(NeckwrightError, match="nut.width") as caught:
            Neck(nut={"width": number})
        assert caught.value.kind == "out_of_range"
    for odd in (object(), {1, 2}, b"43", 1j, type, lambda: 43):
        with pytest.raises(TypeError, match="nut.width"):
            Neck(nut={"width": odd})
    with pytest.raises(TypeError, match="keys"):
        Neck({"nut": {1: 2}})
    for wrong_document in (5, [1], b"{}", object()):
        with pytest.raises(TypeError, match="document"):
            Neck(wrong_document)  # type: ignore[arg-type]
    for text in ("", "{", "[]", "nut", "\ud800", '{"nut": {"width": 43, "width": 44}}', "{" * 100_000):
        with pytest.raises((NeckwrightError, UnicodeEncodeError)):
            Neck(text)
    with pytest.raises(NeckwrightError):
        Neck("x" * 300_000)


class Raises:
    """Something whose every question is answered with an exception of its own."""

    def __float__(self) -> float:
        raise KeyError("mine")

    def __len__(self) -> int:
        raise KeyError("mine")

    def __getattr__(self, name: str) -> Any:
        raise KeyError("mine")


def test_arrays_without_end() -> None:
    many: list[Any] = [1.0, 2.0, 3.0]
    for _ in range(40):
        many = [many, many]
    for method in (NECK.thickness_mm, NECK.carving_plan().start().contains_mm):
        for wrong in (many, HOLDS_ITSELF_TWICE):
            with pytest.raises(TypeError, match="_mm: an array of"):
                method(wrong)


def test_documents_without_end() -> None:
    twice: dict[str, Any] = {}
    twice["a"] = twice["b"] = twice
    many: Any = {}
    for _ in range(22):
        many = {"a": many, "b": many}
    for given in (twice, many):
        with pytest.raises(NeckwrightError, match="holds itself") as caught:
            Neck(given)
        assert caught.value.kind == "too_large"


@pytest.mark.parametrize("text", ["[1, 2]", "43", '"nut"'])
def test_keywords_hide_no_text_that_is_no_document(text: str) -> None:
    with pytest.raises(NeckwrightError) as caught:
        Neck(text, nut={"width": 43})
    assert caught.value.kind == "wrong_type"


def test_one_number_into_an_array_is_named_without_an_index() -> None:
    asked: Any = NECK.thickness_mm
    with pytest.raises(NeckwrightError) as caught:
        asked(1e6, out=np.zeros(()))
    assert caught.value.path == "x_mm"


def test_exceptions_of_what_is_given_go_through() -> None:
    raises: Any = Raises()
    for call in (lambda: NECK.thickness_mm(raises), lambda: Neck(nut=raises), lambda: Neck(raises)):
        with pytest.raises((KeyError, TypeError)):
            call()


def test_points() -> None:
    wood = NECK.carving_plan().start()
    inside = wood.contains_mm(np.array([[100, 0, -3], [100, 0, 90]], dtype=">f4"))
    assert inside.tolist() == [True, False]
    for wrong in ([[1, 2]], [1, 2, 3], np.zeros((2, 3, 1)), np.zeros((3, 4))):
        with pytest.raises(NeckwrightError, match=r"points_mm .* \(n, 3\)"):
            wood.contains_mm(wrong)
    for odd in ("points", None, [["a", "b", "c"]], [[1j, 2, 3]], object()):
        with pytest.raises(TypeError, match="points_mm"):
            wood.contains_mm(odd)
    assert wood.contains_mm(np.zeros((0, 3))).shape == (0,)
    with pytest.raises(NeckwrightError):
        NECK.place_cloud([[math.nan, 0, 0]] * 1000)
    with pytest.raises(NeckwrightError):
        NECK.copy_cloud(np.zeros((3, 3)))


def test_arrays_of_meshes_are_read_only() -> None:
    mesh = NECK.solids(slots=False)[1].mesh(chord=0.5)
    for array in (mesh.positions_mm, mesh.normals, mesh.station_girth, mesh.triangles):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0
    for dtype in (np.float32, np.float64):
        count = len(mesh.positions_mm)
        positions, normals = np.empty((count, 3), dtype), np.empty((count, 3), dtype)
        station_girth = np.empty((count, 2), dtype)
        mesh.vertices_into(positions, normals, station_girth)
        assert (positions == mesh.positions_mm.astype(dtype)).all()
        assert (station_girth == mesh.station_girth.astype(dtype)).all()
        with pytest.raises(NeckwrightError, match="normals"):
            mesh.vertices_into(positions, normals[:-1], station_girth)
        with pytest.raises(NeckwrightError, match="normals: shares memory"):
            mesh.vertices_into(positions, positions, station_girth)
    with pytest.raises(TypeError):
        mesh.vertices_into(np.empty((count, 3)), np.empty((count, 3), np.float32), np.empty((count, 2)))
    indices = np.empty((len(mesh.triangles), 3), np.uint32)
    mesh.indices_into(indices)
    assert (indices == mesh.triangles).all()


def test_more_columns_than_memory_has_room_for() -> None:
    for columns in (2**31, 2**62):
        with pytest.raises(NeckwrightError, match="columns"):
            NECK.back_grid(np.zeros(10_000), columns)
