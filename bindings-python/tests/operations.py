"""What each operation of the shared cases calls in Python."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

import neckwright
from cases import Case

Results = dict[str, NDArray[np.float64]]


def _fret_positions_mm(case: Case) -> Results:
    positions = neckwright.fret_positions_mm(
        case.number("scale_mm"), case.count("fret_count"), divisions=case.count("divisions")
    )
    return {"positions": positions}


OPERATIONS: dict[str, Callable[[Case], Results]] = {
    "fret_positions_mm": _fret_positions_mm,
}
