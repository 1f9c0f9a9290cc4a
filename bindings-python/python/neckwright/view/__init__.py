"""Necks in three dimensions, in a notebook or as one HTML file, both without network; ``neckwright[view]`` installs what it takes.

A scene turns by dragging, moves with the right button held, comes nearer with the wheel. All is in mm, in the frame of the library:
``x`` from the nut toward the bridge, ``y`` toward the treble side of a right-handed neck, ``z`` out of the fretboard.
"""

from .inspection import inspection
from .neck import neck
from .plan import plan
from .scene import Scene

__all__ = ["Scene", "inspection", "neck", "plan"]
