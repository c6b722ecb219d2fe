"""What a drill makes: how much larger than itself its hole is in the mean and at most, and the
share of thread a hole should leave.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from functools import cache

from datumbook.numbers.units import INCH
from datumbook.standards import table

PLACES = 4  # of an inch, as the chart prints the figure
CHARTED_PLACES = 3  # to which it names its drills


BEYOND_CHART = "beyond the chart, from its last row; probe the first hole"


@dataclass(frozen=True, slots=True)
class Oversize:
    """What a drill cuts over its own size, in mm: in the mean, and at most as far as that is known;
    whose figure the mean is, and whether the drill lies beyond the chart it is from.
    """

    mean_mm: float
    most_mm: float | None
    source: str
    beyond: bool = False


def mean_oversize(diameter_mm: float) -> float:
    """Return what a drill cuts over its own size in the mean, both in mm.

    >>> mean_oversize(6.9088)  # letter I, 0.272 in
    0.1041
    """
    return _interpolated("mean", diameter_mm)


def most_oversize(diameter_mm: float) -> float:
    """Return what a drill cut over its own size at most, in the trials that tell it, both in mm.

    >>> most_oversize(6.35)  # 1/4 in
    0.1651
    """
    return _interpolated("most", diameter_mm)


def beyond_chart(diameter_mm: float) -> bool:
    """Say whether a drill is smaller or larger than every one whose mean oversize is known."""
    drills, _ = _chart("mean")
    inches = round(diameter_mm / INCH, CHARTED_PLACES)
    return not drills[0] <= inches <= drills[-1]


def oversize_of(diameter_mm: float, stated_mm: float | None) -> Oversize:
    """Return the oversize of a drill: the one stated, or that of the chart."""
    if stated_mm is not None:
        return Oversize(stated_mm, None, "as the shop states it")
    mean, source = mean_oversize(diameter_mm), f"the mean of {table('oversize')['source']}"
    most = max(mean, most_oversize(diameter_mm))
    if beyond_chart(diameter_mm):
        return Oversize(mean, most, BEYOND_CHART, beyond=True)
    return Oversize(mean, most, source)


def most_source() -> str:
    """Return where what a drill cuts at most is from."""
    return str(table("oversize")["most_source"])


def share_wanted() -> float:
    """Return the share of thread that a hole should leave where nobody asks for another."""
    return float(table("oversize")["share"]["wanted"])


def as_good() -> float:
    """Return how far from the share asked for another is as good as it."""
    return float(table("oversize")["share"]["as_good"])


def _interpolated(row: str, diameter_mm: float) -> float:
    """A figure between two rows of a table; that of the last row beyond its ends."""
    drills, figures = _chart(row)
    inches = diameter_mm / INCH
    after = bisect_left(drills, inches)
    if after in (0, len(drills)):
        return figures[min(after, len(drills) - 1)] * INCH
    start, end = drills[after - 1 : after + 1]
    low, high = figures[after - 1 : after + 1]
    return round(low + (high - low) * (inches - start) / (end - start), PLACES) * INCH


@cache
def _chart(row: str) -> tuple[list[float], list[float]]:
    rows = table("oversize")[row]
    return [float(drill) for drill, _ in rows], [float(figure) for _, figure in rows]
