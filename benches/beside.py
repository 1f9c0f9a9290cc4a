"""What the benches in Python share: the library of `beside.rs`, and how long something takes."""

import ctypes
import pathlib
import time
from collections.abc import Callable
from typing import Any

_NAMES = ("libneckwright_beside.so", "libneckwright_beside.dylib", "neckwright_beside.dll")


def library(built: str) -> ctypes.CDLL | None:
    """The library of `beside.rs` in a folder; `None` where it is not built."""
    found = next((path for name in _NAMES if (path := pathlib.Path(built) / name).exists()), None)
    return None if found is None else ctypes.CDLL(str(found.resolve()))


def taken_s(work: Callable[[], object]) -> float:
    """How long one call takes, s."""
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def least_s(work: Callable[[], Any], times: int) -> tuple[float, Any]:
    """The least time of several calls, s, and what the last of them gave."""
    given: list[Any] = []
    return min(taken_s(lambda: given.append(work())) for _ in range(times)), given[-1]
