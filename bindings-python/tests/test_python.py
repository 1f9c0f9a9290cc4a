"""What is Python's own: types, defaults, errors, the time to import."""

from __future__ import annotations

import copy
import os
import pickle
import re
import statistics
import subprocess
import sys
from importlib.metadata import version

import numpy as np
import pytest

import neckwright
from neckwright import Fault, NeckwrightError, fret_positions_mm


def test_version() -> None:
    assert re.fullmatch(r"\d+\.\d+\.\d+", neckwright.__version__)
    assert version("neckwright") == neckwright.__version__
    assert re.fullmatch(r"\d+\.\d+\.\d+", neckwright.core_version)


def test_result_is_a_new_writable_array() -> None:
    positions = fret_positions_mm(640, 24)
    assert positions.dtype == np.float64 and positions.shape == (24,)
    assert positions.flags.writeable and positions.flags.c_contiguous
    positions[0] = 0.0
    assert fret_positions_mm(640, 24)[0] > 35.0


def test_twelve_divisions_by_default() -> None:
    assert fret_positions_mm(640, 12).tolist() == fret_positions_mm(640, 12, divisions=12).tolist()


def test_options_are_keywords_only() -> None:
    with pytest.raises(TypeError):
        fret_positions_mm(640, 12, 12)  # type: ignore[call-arg]


def test_numbers_of_numpy_are_numbers() -> None:
    positions = fret_positions_mm(np.float32(640), np.int64(12), divisions=np.uint8(12))
    assert positions[11] == 320.0


@pytest.mark.parametrize("count", [-1, 2**32, 2**80, -(2**80)])
@pytest.mark.parametrize("argument", ["fret_count", "divisions"])
def test_a_count_that_is_none(argument: str, count: int) -> None:
    counts = {"fret_count": 12, "divisions": 12, argument: count}
    with pytest.raises(NeckwrightError) as caught:
        fret_positions_mm(640, counts["fret_count"], divisions=counts["divisions"])
    (fault,) = caught.value.faults
    assert (fault.kind, fault.path, fault.value) == ("out_of_range", argument, str(count))


def test_a_count_that_is_not_whole() -> None:
    for wrong in (1.5, "12", None):
        with pytest.raises(TypeError, match="fret_count"):
            fret_positions_mm(640, wrong)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="scale_mm"):
        fret_positions_mm([640], 12)  # type: ignore[arg-type]


def test_an_error_tells_everything() -> None:
    with pytest.raises(ValueError) as caught:
        fret_positions_mm(0, 12, divisions=0)
    error = caught.value
    assert isinstance(error, NeckwrightError)
    assert [fault.path for fault in error.faults] == ["scale_mm", "divisions"]
    assert error.more == 0
    scale = error.faults[0]
    assert (scale.code, scale.kind, scale.value, scale.unit) == (5, "out_of_range", "0", "mm")
    assert scale.lowest is not None and scale.highest is not None and 0 < scale.lowest < scale.highest
    assert scale.reason and str(scale) == scale.message
    assert str(error) == "\n".join(str(fault) for fault in error.faults)


def test_errors_can_be_copied_and_pickled() -> None:
    with pytest.raises(NeckwrightError) as caught:
        fret_positions_mm(0, 12)
    for twin in (copy.copy(caught.value), pickle.loads(pickle.dumps(caught.value))):
        assert twin.faults == caught.value.faults and str(twin) == str(caught.value)
    assert isinstance(twin.faults[0], Fault)


def test_importing_is_quick() -> None:
    code = "import numpy, time; t = time.perf_counter(); import neckwright; print(time.perf_counter() - t)"
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": ""}
    runs = [
        float(subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, check=True).stdout)
        for _ in range(5)
    ]
    # The least of a few, as other programs run beside this one.
    assert min(runs) < 0.03, statistics.median(runs)
