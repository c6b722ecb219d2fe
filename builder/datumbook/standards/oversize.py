"""What a drill makes: how much larger than itself its hole is in the mean, and the share of thread
a hole should leave.
"""

from __future__ import annotations

from bisect import bisect_left
from functools import cache

from datumbook.numbers.units import INCH
from datumbook.standards import table

PLACES = 4  # of an inch, as the chart prints the figure


def mean_oversize(diameter_mm: float) -> float:
    """Return what a drill cuts over its own size in the mean, both in mm.

    >>> mean_oversize(6.9088)  # letter I, 0.272 in
    0.1041
    """
    drills, means = _chart()
    inches = diameter_mm / INCH
    after = bisect_left(drills, inches)
    if after in (0, len(drills)):
        return means[min(after, len(drills) - 1)] * INCH
    start, end = drills[after - 1 : after + 1]
    low, high = means[after - 1 : after + 1]
    return round(low + (high - low) * (inches - start) / (end - start), PLACES) * INCH


def oversize_of(diameter_mm: float, stated_mm: float | None) -> tuple[float, str]:
    """Return the oversize of a drill in mm, the one stated or that of the chart, and where it comes
    from.
    """
    if stated_mm is None:
        return mean_oversize(diameter_mm), f"the mean of {table('oversize')['source']}"
    return stated_mm, "as the shop states it"


def share_wanted() -> float:
    """Return the share of thread that a hole should leave where nobody asks for another."""
    return float(table("oversize")["share"]["wanted"])


@cache
def _chart() -> tuple[list[float], list[float]]:
    rows = table("oversize")["mean"]
    return [float(drill) for drill, _ in rows], [float(mean) for _, mean in rows]
