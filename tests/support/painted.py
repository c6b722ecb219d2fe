"""Metal painted in cells of a micrometre: what a size is can be counted instead of reckoned."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Cells = npt.NDArray[np.int64]
CELLS = 1000
"""Cells to the millimetre."""


def cells(size: float) -> int:
    """Return how many cells a size takes."""
    return round(size * CELLS)


def row(*widths: float) -> Cells:
    """Return parts painted end to end, each cell with the number of its part, the first is 0."""
    return np.repeat(np.arange(len(widths)), [cells(one) for one in widths])


def width(painted: Cells, part: int) -> float:
    """Return how wide a part of the painted row is."""
    return int(np.count_nonzero(painted == part)) / CELLS


def middle(painted: Cells, part: int) -> float:
    """Return where the middle of a part lies, from the start of the row."""
    return float((np.flatnonzero(painted == part) + 0.5).mean()) / CELLS


def beyond(one: Sequence[float], other: Sequence[float]) -> float:
    """Return how far one pile of parts stands over another on the same table, below zero where it
    stands lower: the cells of the one that have none beside them, less those of the other.
    """
    ends = [sum(map(cells, pile)) for pile in (one, other)]
    piles = np.zeros((2, max(ends)), dtype=bool)
    for at, pile in enumerate((one, other)):
        foot = 0
        for part in pile:
            piles[at, foot : foot + cells(part)] = True
            foot += cells(part)
    over, under = piles[0] & ~piles[1], piles[1] & ~piles[0]
    return (int(np.count_nonzero(over)) - int(np.count_nonzero(under))) / CELLS


def bored(painted: Cells, bore: int, size: float, over: float = 0.0) -> Cells:
    """Return the row with one bore opened to a size about its own middle, or so far over to the
    rear of it.
    """
    centre = cells(middle(painted, bore) + over)
    opened = painted.copy()
    opened[centre - cells(size / 2) : centre + cells(size / 2)] = bore
    return opened
