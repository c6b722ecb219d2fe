"""Counterbores for a thread's mouth: a size not over the major diameter would only shave the first
crests.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from datumbook.standards.drills import Drill, parse_drill

SIXTY_FOURTH_MM = 25.4 / 64


def counterbore_sizes_over(major_mm: float) -> list[Drill]:
    """Return the fractional sizes from 1/64 to 1/32 in over a major diameter in mm, the recommended
    (largest) first.

    ExpectedError where the largest would pass the drills of the stand. Common practice, no source.

    >>> [size.name for size in counterbore_sizes_over(5 / 16 * 25.4)]
    ['11/32', '21/64']
    """
    sixty_fourths = round(major_mm / SIXTY_FOURTH_MM, 9)
    return [
        parse_drill(f"{Fraction(count, 64)} in")
        for count in range(floor(sixty_fourths + 2), ceil(sixty_fourths + 1) - 1, -1)
    ]
