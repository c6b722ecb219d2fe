"""Bores and faces that must run true to the crank: what an indicator carried by it shows, and what
a line bore makes of it.

An indicator reads more where the wall is nearer.
"""

from __future__ import annotations

from datumbook.formulas.functions import largest, more_than, smallest, square_root, where
from datumbook.formulas.kinds import Length


def run_out_all_round(top: Length, right: Length, bottom: Length, left: Length) -> Length:
    """Total reading of an indicator swept all round, from what it shows at four places a quarter
    apart: the most less the least of the four, or twice the offset that they show, where that is
    more. Off slantwise, the four alone see only 0.707 of what the whole sweep shows.

    Source: [TM 10-3930-664-24], maximum less minimum; geometry, the offset of one circle in
    another.

    >>> run_out_all_round(top=0.0, right=0.003, bottom=-0.002, left=0.003)
    0.005
    >>> run_out_all_round(top=0.003, right=0.003, bottom=-0.003, left=-0.003)
    0.0085
    """
    of_four = largest(top, right, bottom, left) - smallest(top, right, bottom, left)
    return largest(of_four, _twice_the_way(crank_offset(right, left), crank_offset(top, bottom)))


def indicator_two_ways(top: Length, right: Length, bottom: Length, left: Length) -> Length:
    """The other sum in use: how far the upright pair differs and how far the level pair, together.
    Of a round bore it is never less than its run-out; of an oval one it may be.

    Source: [TM 5-3895-369-14], vertical and horizontal together.

    >>> indicator_two_ways(top=0.0, right=0.003, bottom=-0.002, left=0.003)
    0.002
    """
    return abs(top - bottom) + abs(right - left)


def crank_offset(near: Length, opposite: Length) -> Length:
    """How far the crank's axis stands off the middle of a bore towards one side, from the readings
    at that side and opposite.

    Source: geometry, half the difference of the two.

    >>> crank_offset(near=0.003, opposite=-0.001)
    0.002
    """
    return (near - opposite) / 2


def run_out_after_lift(offset_across: Length, offset_up: Length, lift: Length) -> Length:
    """Total reading that is to be expected once the crank line has risen: twice the offset.

    offset_across, offset_up: of the crank's axis off the middle of the bore, as received.

    Source: geometry, the way of one centre round another.

    >>> run_out_after_lift(offset_across=0.003, offset_up=-0.002, lift=0.004)
    0.0072
    """
    return _twice_the_way(offset_across, offset_up + lift)


def _twice_the_way(across: Length, up: Length) -> Length:
    off = square_root(across * across + up * up)
    return 2 * where(more_than(abs(across) + abs(up), 0), off, 0)
