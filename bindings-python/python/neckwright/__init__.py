"""From one specification of a neck, every number that the work from blank to finished neck needs.

Lengths are in millimetres, and every name that carries a unit ends in it.
"""

from ._errors import Fault, NeckwrightError
from ._native import Neck, __version__, core_version, fret_positions_mm

__all__ = ["Fault", "Neck", "NeckwrightError", "__version__", "core_version", "fret_positions_mm"]

# Shown and pickled under the name that users import.
Fault.__module__ = NeckwrightError.__module__ = __name__
