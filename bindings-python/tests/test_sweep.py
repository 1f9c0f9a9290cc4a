"""Sweeps: the same result wherever the work is done, and no fault lost."""

from __future__ import annotations

import itertools
import pickle
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
import pytest

from neckwright import Neck, NeckwrightError, Swept, sweep

BASE: dict[str, Any] = {
    "scale": {"length": 640},
    "shaft": {"thickness": [{"at": "fret 1", "thickness": 21}, {"at": "fret 12", "thickness": 23}]},
}
# A nut of 10 mm is out of its bounds, and a shaft of 12 mm has no wood for the rod.
GRID: dict[Any, Any] = {
    "nut.width": np.array([10.0, 42.0, 43.5]),
    "shaft.thickness[0].thickness": [12, 20.5, 21],
    "headstock.angle": ["1 in 6", 10],
}
NAMES = ["least_rod_wall.proven", "thickness_mm at fret 5", "width_mm at 0", "mass_kg"]


def measured(neck: Neck) -> dict[str, Any]:
    return {"along": neck.thickness_mm([0.0, 100.0]), "wall": neck.least_rod_wall(), "board": neck.mass_kg()}


def same(a: Swept, b: Swept) -> bool:
    columns = list(a) == list(b) and all(a[c].dtype == b[c].dtype for c in a)
    values = all(a[c].tobytes() == b[c].tobytes() if a[c].dtype != object else list(a[c]) == list(b[c]) for c in a)
    return columns and values and bool((a.code == b.code).all()) and dict(a.faults) == dict(b.faults)


def test_each_row_is_what_a_loop_makes() -> None:
    swept = sweep(BASE, GRID, NAMES, progress=False)
    rows = list(itertools.product(*GRID.values()))
    assert swept.rows == len(rows) == 18 and swept["nut.width"].tolist() == [row[0] for row in rows]
    for i, (width, thickness, angle) in enumerate(rows):
        shaft = {"thickness": [{"at": "fret 1", "thickness": thickness}, BASE["shaft"]["thickness"][1]]}
        document = BASE | {"nut": {"width": float(width)}, "shaft": shaft, "headstock": {"angle": angle}}
        try:
            neck = Neck(document)
        except NeckwrightError as error:
            assert swept.code[i] == error.code and swept.faults[i] == error.faults
            assert np.isnan(swept["width_mm at 0"][i])
            with pytest.raises(NeckwrightError):
                swept.neck(i)
            continue
        wall = neck.least_rod_wall()
        assert wall is not None and swept["least_rod_wall.proven"][i] == wall.proven
        assert swept["thickness_mm at fret 5"][i] == neck.thickness_mm("fret 5")
        assert swept["mass_kg.neck_wood_kg"][i] == neck.mass_kg().neck_wood_kg
        assert swept.code[i] == 0 and i not in swept.faults and swept.neck(i) == neck
    assert {fault.kind for faults in swept.faults.values() for fault in faults} == {"out_of_range", "geometry"}


@pytest.mark.parametrize("chunk", [1, 5, 100])
@pytest.mark.parametrize("read", [NAMES, measured], ids=["names", "function"])
def test_processes_and_chunks_change_nothing(read: Any, chunk: int) -> None:
    here = sweep(BASE, GRID, read, progress=False)
    assert same(here, sweep(BASE, GRID, read, chunk=chunk, progress=False))
    if chunk == 5:
        assert same(here, sweep(BASE, GRID, read, executor=1, chunk=chunk, progress=False))
        assert same(here, sweep(BASE, GRID, read, executor=2, chunk=chunk, progress=False))
        with ThreadPoolExecutor(3) as threads:
            assert same(here, sweep(BASE, GRID, read, executor=threads, chunk=chunk, progress=False))


def test_dask() -> None:
    distributed = pytest.importorskip("distributed", reason="not run: distributed is not installed")
    here = sweep(BASE, GRID, measured, progress=False)
    names = sweep(BASE, GRID, NAMES, progress=False)
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        assert same(here, sweep(BASE, GRID, measured, executor=client, chunk=4, progress=False))
        # Once more: what was computed before is not taken for the answer.
        assert same(names, sweep(BASE, GRID, NAMES, executor=client, chunk=4, progress=False))


def test_rows_given_one_by_one_are_asked_for_as_the_sweep_comes_to_them() -> None:
    asked = 0

    def rows() -> Iterator[dict[str, Any]]:
        nonlocal asked
        for width in (42, 10, 43, 44):
            asked += 1
            yield {"nut.width": width} if width != 44 else {"nut.width": width, "rod": None, "name": "the last"}

    seen: list[int] = []

    def read(neck: Neck) -> float:
        seen.append(asked)
        return neck.width_mm(0)

    swept = sweep(BASE, rows(), read, chunk=1, progress=False)
    assert swept["nut.width"].tolist() == [42, 10, 43, 44] and seen == [1, 3, 4]
    np.testing.assert_array_equal(swept["value"], [42, np.nan, 43, 44])
    assert swept["name"].tolist() == [None, None, None, "the last"]
    assert list(swept.faults) == [1] and swept.faults[1][0].path == "nut.width" and swept.row(1) == {"nut.width": 10}


def test_paths_that_vary_together() -> None:
    both = ("shaft.thickness[0].thickness", "shaft.thickness[1].thickness")
    grid: dict[Any, Any] = {both: [(20, 22), (21, 24)], "nut.width": [42, 43]}
    swept = sweep(BASE, grid, "thickness_mm at fret 12", progress=False)
    assert swept["thickness_mm at fret 12"].tolist() == [22, 22, 24, 24]
    assert swept[both[0]].tolist() == [20, 20, 21, 21]


def test_what_a_neck_does_not_have_is_nan() -> None:
    swept = sweep({}, {"rod.fitted": [True, False]}, "least_rod_wall.proven", progress=False)
    values = swept["least_rod_wall.proven"]
    assert values[0] > 0 and np.isnan(values[1])


@pytest.mark.parametrize(
    ("variations", "told"),
    [
        ({"nut..width": [42]}, "not the path"),
        ({"nut.width": []}, "no values"),
        ({"shaft.thickness[7].thickness": [20]}, r"no shaft.thickness\[7\]"),
        ({"headstock.outline[0].at": [20]}, "no headstock.outline"),
        ({"nut.width": [42], ("nut.width", "hand"): [(43, "left")]}, "varied twice"),
        ({("nut.width", "hand"): [(43,)]}, "as many values"),
    ],
)
def test_a_path_that_leads_nowhere_is_told_before_the_sweep(variations: Any, told: str) -> None:
    with pytest.raises(NeckwrightError, match=told):
        sweep(BASE, variations, "width_mm at 0")


def refusing(neck: Neck) -> float:
    raise AssertionError("no neck may be read before a mistake is told")


@pytest.mark.parametrize(
    ("variations", "path", "nearest"),
    [
        ({"nut.widht": [42, 43]}, "nut.widht", "did you mean width"),
        ({"nutt": [{"width": 42}]}, "nutt", "did you mean nut"),
        ({"shaft.thickness[0].thicknes": [20, 21]}, "shaft.thickness[0].thicknes", "did you mean thickness"),
        ([{"nut.width": 42}, {"nut.widht": 43}], "nut.widht", "did you mean width"),
        ({"headstock.angel": [None]}, "headstock.angel", "did you mean angle"),
    ],
)
def test_a_misspelt_path_is_told_at_once_with_the_nearest(variations: Any, path: str, nearest: str) -> None:
    with pytest.raises(NeckwrightError, match=nearest) as caught:
        sweep(BASE, variations, refusing)
    assert [fault.path for fault in caught.value.faults] == [path] and caught.value.kind == "unknown_key"


def test_all_misspelt_paths_are_told_a_line_each() -> None:
    with pytest.raises(NeckwrightError) as caught:
        sweep(BASE, {"nut.widht": [42], "scale.lenght": [640], "nut.width": [43]}, refusing)
    assert [fault.path for fault in caught.value.faults] == ["nut.widht", "scale.lenght"]
    assert str(caught.value).splitlines() == [fault.message for fault in caught.value.faults]
    assert all(line.startswith(fault.path) for line, fault in zip(str(caught.value).splitlines(), caught.value.faults, strict=True))


def test_a_path_into_a_number_is_told_at_once() -> None:
    for base in (BASE, {"nut": {"width": 42}}):
        with pytest.raises(NeckwrightError, match="nut.width"):
            sweep(base, {"nut.width.mm": [42]}, refusing)


def test_a_generator_s_misspelt_path_is_a_fault_of_its_row() -> None:
    rows: Any = ({path: 43} for path in ("nut.width", "nut.widht"))
    swept = sweep(BASE, rows, "width_mm at 0", progress=False)
    assert swept["width_mm at 0"][0] == 43 and "did you mean width" in swept.faults[1][0].message


def test_nothing_takes_an_entry_out_of_a_list() -> None:
    entries = [{"at": "fret 1", "thickness": 21}, {"at": "fret 5", "thickness": 22.5}, {"at": "fret 12", "thickness": 23}]
    base: dict[str, Any] = {"shaft": {"thickness": entries}}
    swept = sweep(base, {"shaft.thickness[1]": [None, {"at": "fret 7", "thickness": 22}]}, "thickness_mm at fret 5", progress=False)
    without = Neck({"shaft": {"thickness": [entries[0], entries[2]]}})
    assert swept["thickness_mm at fret 5"][0] == without.thickness_mm("fret 5") and swept.neck(0) == without
    other = Neck({"shaft": {"thickness": [entries[0], {"at": "fret 7", "thickness": 22}, entries[2]]}})
    assert swept.neck(1) == other and not swept.faults
    # The others keep the numbers that they have in the base, in whatever order a row has them.
    for row in ({"shaft.thickness[0]": None, "shaft.thickness[2].thickness": 24}, {"shaft.thickness[2].thickness": 24, "shaft.thickness[0]": None}):
        one = sweep(base, [row, {}], "thickness_mm at fret 12", progress=False)
        assert one["thickness_mm at fret 12"].tolist() == [24, 23] and not one.faults
        assert one.neck(0) == Neck({"shaft": {"thickness": [entries[1], entries[2] | {"thickness": 24}]}})
    both = sweep(base, [{"shaft.thickness[0]": None, "shaft.thickness[1]": None}, {}], "thickness_mm at fret 12", progress=False)
    assert both.neck(0) == Neck({"shaft": {"thickness": [entries[2]]}}) and both.neck(1) == Neck(base)
    gone = sweep(base, [{"shaft.thickness[0]": None, "shaft.thickness[0].thickness": 20}], "thickness_mm at fret 12", progress=False)
    assert gone.faults[0][0].kind == "missing"


@pytest.mark.parametrize(
    ("read", "error", "told"),
    [
        ("widht_mm at 0", AttributeError, "no 'widht_mm'; did you mean 'width_mm'"),
        ("least_rod_wall.provne", AttributeError, "did you mean 'proven'"),
        ("mass_kg.neck_wod_kg", AttributeError, "did you mean 'neck_wood_kg'"),
        ("thickness_mm at fert 5", NeckwrightError, "fert 5"),
        ("thickness_mm", TypeError, "'thickness_mm at fret 5'"),
        ("mass_kg at fret 5", TypeError, "leave the station out"),
        ("headstock.kind", TypeError, "kind is 'angled'"),
        ({"a": "width_mm at 0", "b": "girth_m at 0"}, AttributeError, "did you mean 'girth_mm'"),
    ],
)
def test_a_wrong_reading_is_told_at_once(read: Any, error: type[Exception], told: str) -> None:
    # No row is a neck, and yet it is the reading that is refused.
    with pytest.raises(error, match=told):
        sweep(BASE, {"nut.width": [1, 2]}, read, progress=False)


def test_a_station_that_only_some_necks_have_is_no_mistake() -> None:
    swept = sweep({"frets": {"count": 20}}, {"frets.count": [20, 24]}, "station_mm at 24", progress=False)
    assert swept.rows == 2


@pytest.mark.parametrize("executor", [2.5, "2", True, [1]])
def test_what_is_no_executor_is_named(executor: Any) -> None:
    with pytest.raises(TypeError, match="executor = .*: give a whole number of processes"):
        sweep(BASE, {"nut.width": [42]}, "width_mm at 0", executor=executor)
    with pytest.raises(NeckwrightError, match="executor"):
        sweep(BASE, {"nut.width": [42]}, "width_mm at 0", executor=0)
    with pytest.raises(TypeError, match="chunk = 2.5: give a whole number of rows"):
        sweep(BASE, {"nut.width": [42]}, "width_mm at 0", chunk=2.5)  # type: ignore[arg-type]


def test_mistakes_of_the_caller_are_no_rows() -> None:
    with pytest.raises(RuntimeError, match=r"row 1 \(nut.width = 43\): ZeroDivisionError"):
        sweep(BASE, {"nut.width": [42, 43]}, lambda neck: 1 / (43 - neck.width_mm(0)), progress=False)
    with pytest.raises(NeckwrightError, match="chunk"):
        sweep(BASE, {}, "width_mm at 0", chunk=0)
    with pytest.raises(NeckwrightError, match="nut.width"):
        sweep({"nut": {"width": 500}}, {}, "width_mm at 0")


def test_data_frames() -> None:
    swept = sweep(BASE, GRID, measured, progress=False)
    table = swept.table()
    assert {len(column) for column in table.values()} == {18} and "along[1]" in table
    assert table["path"][0] == "nut.width" and "10 mm" in table["message"][0] and table["message"][-1] == ""
    pandas = pytest.importorskip("pandas", reason="not run: pandas is not installed")
    assert isinstance(swept.to_pandas(), pandas.DataFrame) and swept.to_pandas().shape == (18, len(table))
    pytest.importorskip("polars", reason="not run: polars is not installed")
    assert swept.to_polars().shape == (18, len(table))


def test_it_is_a_mapping_that_can_be_kept() -> None:
    swept = sweep(BASE, GRID, NAMES, progress=False)
    again = pickle.loads(pickle.dumps(swept))
    assert same(swept, again) and len(swept) == len(list(swept)) and "18 necks, 10 of them refused" in repr(swept)
    for one in (swept, again):
        for column in (one["nut.width"], one["mass_kg.neck_wood_kg"], one.code):
            with pytest.raises(ValueError, match="read-only"):
                column[0] = 1
    with pytest.raises(TypeError):
        swept.varied["nut.width"] = np.zeros(18)  # type: ignore[index]
    with pytest.raises(KeyError):
        swept.faults[17]


def test_it_is_a_value() -> None:
    swept = sweep(BASE, GRID, NAMES, progress=False)
    for again in (pickle.loads(pickle.dumps(swept)), sweep(BASE, GRID, NAMES, chunk=5, progress=False)):
        assert again == swept and hash(again) == hash(swept) and again.neck(17) == swept.neck(17)
    # NaN in a column is itself, and an array that stands at a path has no hash of its own.
    objects = sweep(BASE, {"shaft.thickness": [BASE["shaft"]["thickness"], None]}, "mass_kg", progress=False)
    assert objects == pickle.loads(pickle.dumps(objects)) and isinstance(hash(objects), int)
    others: list[Any] = [sweep(BASE, GRID, NAMES[:2], progress=False), sweep(BASE | {"hand": "left"}, GRID, NAMES, progress=False), dict(swept), 1]
    assert all(swept != other for other in others)
    assert len({swept, *others[:2]}) == 3
    wide = sweep(BASE, {"nut.width": [42]}, [f"thickness_mm at fret {fret}" for fret in range(1, 13)], progress=False)
    assert repr(wide).endswith("fret 5 and 7 more columns>") and len(repr(wide)) < 250


def test_many_faults_take_little_room() -> None:
    swept = sweep(BASE, {"nut.width": np.linspace(1, 14, 3000)}, "width_mm at 0", progress=False)
    assert len(swept.faults) == 3000
    assert len(pickle.dumps(swept.faults)) * 5 < len(pickle.dumps(dict(swept.faults)))
    assert swept.faults[2999][0].value == "14"
