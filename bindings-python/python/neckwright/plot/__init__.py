"""Figures with matplotlib, which the extra ``neckwright[plot]`` installs; loaded when the first is drawn.

Axes are in mm and equally scaled where they show a shape. Lines differ by weight and dashes, so that a photocopy tells as much.
"""

from .left import left
from .plan import plan
from .sections import sections
from .side import side
from .stages import stages

__all__ = ["left", "plan", "sections", "side", "stages"]
