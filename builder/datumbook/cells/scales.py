"""Scales of pictures: from where to where they run and the limits across them, said before anything
is read.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from datumbook.cells.handles import Key, Part
from datumbook.numbers.quantities import Quantity

SCALE_STEPS, SCALE_PLACES = 7, 9  # how many steps at most; the decimals ends are rounded to


@dataclass(frozen=True)
class LimitLine:
    """A limit drawn straight across a picture: its name in the key, its words, which several of
    them share, and its size.
    """

    name: str
    words: str
    size: Quantity


@dataclass(kw_only=True, eq=False)
class ChartScale(Part):
    """One scale for the pictures alike of a sheet, known when the book is laid out, whatever is
    read; the cells of its limit lines, one a row, stand behind the first picture drawn to it.

    low, high: from where to where it runs, before it is rounded outwards to whole steps.
    """

    key: str
    unit: str
    decimals: int
    low: float
    high: float
    rows: int
    limits: Sequence[LimitLine] = ()

    def cells(self, line: LimitLine) -> list[Key]:
        """The cells of one limit line, from the top down."""
        return [self.cell(str(number), line.name) for number in range(1, self.rows + 1)]

    @property
    def ends(self) -> tuple[float, float, float]:
        """From where to where it runs, and its step: 1, 2 or 5 of some decimal place, so that at
        most SCALE_STEPS of them span it.
        """
        least = (self.high - self.low) / SCALE_STEPS or 1.0  # a limit of nought leaves no length
        place = 10.0 ** math.floor(math.log10(least))
        step = next(size * place for size in (1, 2, 5, 10) if size * place >= least)
        low = math.floor(self.low / step)
        high = max(low + 1, math.ceil(self.high / step))
        first, last, each = (round(end, SCALE_PLACES) for end in (low * step, high * step, step))
        return first, last, each
