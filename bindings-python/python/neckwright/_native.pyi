from typing import SupportsFloat, SupportsIndex

import numpy as np
from numpy.typing import NDArray

__all__ = ["__version__", "core_version", "fret_positions_mm"]

__version__: str
"""The version of this package."""
core_version: str
"""The version of the library that this package translates."""

def fret_positions_mm(
    scale_mm: SupportsFloat | SupportsIndex,
    fret_count: SupportsIndex,
    *,
    divisions: SupportsIndex = 12,
) -> NDArray[np.float64]:
    """Distances of the frets from the nut in equal divisions of the octave, in mm.

    Fret ``n`` lies at ``scale_mm * (1 - 2 ** (-n / divisions))``. Each distance is within one unit in the last place of
    the exact value.

    Args:
        scale_mm: Length of the open string, in mm; 0.001 to 1000000.
        fret_count: Number of frets; 0 to 60.
        divisions: Number of equal steps in an octave; 1 to 99.

    Returns:
        A new array of shape ``(fret_count,)``: frets 1 to ``fret_count``.

    Raises:
        NeckwrightError: an argument is out of its range; every such argument has its fault.
        TypeError: an argument is no number, or a count is not whole.

    >>> float(fret_positions_mm(640, 12)[11])
    320.0
    """
