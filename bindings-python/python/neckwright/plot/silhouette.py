"""How far a neck reaches across and in depth, station by station; what its laws say along it."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from .._native import Neck
from ..records import Law

Array = NDArray[np.float64]


def stations(neck: Neck, part: Literal["whole", "fretboard"] = "whole") -> Array:
    """Stations to draw through, with those right at both ends of the board."""
    board = neck.layout().board()
    first, last = neck.reach_mm() if part == "whole" else (board.start_mm, board.end_mm)
    ends = np.array([board.start_mm, board.end_mm])
    x = np.concatenate([np.linspace(first, last, 400), ends - 1e-6, ends + 1e-6])
    return np.unique(x[(x >= first) & (x <= last)])


def boxes(neck: Neck, x_mm: Array, part: Literal["whole", "fretboard"] = "whole") -> Array:
    """Least and greatest ``y`` and ``z`` of the sections, of shape ``(n, 4)``: NaN where there is nothing."""
    made = np.full((len(x_mm), 4), np.nan)
    for row, x in zip(made, x_mm.tolist(), strict=True):
        points = neck.section(x).polyline_mm(0.02, part=part)
        if len(points):
            row[:2], row[2:] = (points[:, 0].min(), points[:, 0].max()), (points[:, 1].min(), points[:, 1].max())
    return made


def along(law: Law) -> tuple[Array, Array]:
    """Stations of a law, and its values there: its ends and joints and between them, by de Casteljau's construction."""
    share = np.linspace(0, 1, 17)
    stations, values = [], []
    for piece, start, end in zip(law.coefs, law.breaks_mm, law.breaks_mm[1:], strict=False):
        coefs = np.repeat(np.asarray(piece)[:, None], len(share), axis=1)
        while len(coefs) > 1:
            coefs = (1 - share) * coefs[:-1] + share * coefs[1:]
        stations.append(start + share * (end - start))
        values.append(coefs[0])
    return np.concatenate(stations), np.concatenate(values)
