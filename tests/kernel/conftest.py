"""What `tests/run kernel` has exported, looked at by an independent kernel once for all tests."""

import os
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path

import pytest

from look import look
from points import CUBIC_MM, EXACT_MM

EXPORTED = Path(os.environ.get("NECKWRIGHT_EXPORTED", "target/tests/kernel"))

# The kernel's booleans are asked of one neck in so many.
BOOLEANS_ONE_IN = 10


@cache
def found_in(family):
    paths = sorted((EXPORTED / family).glob("*.json"))
    assert paths, f"nothing in {EXPORTED / family}"
    asked = [family == "plain" and i % BOOLEANS_ONE_IN == 0 for i in range(len(paths))]
    within = [CUBIC_MM if family == "cubic" else EXACT_MM] * len(paths)
    with ProcessPoolExecutor(max(2, os.cpu_count() or 1)) as pool:
        return list(pool.map(look, paths, asked, within))


@pytest.fixture
def exported():
    return EXPORTED


@pytest.fixture
def found():
    """Looks at a family of necks, and says what is not as it has to be: `name: what`."""
    return found_in
