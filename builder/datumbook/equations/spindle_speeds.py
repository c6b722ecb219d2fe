"""How fast a spindle turns and its tool goes down."""

from __future__ import annotations

from datumbook.formulas.functions import (
    PI,
    at_most,
    empirical,
    largest,
    less_than,
    more_than,
    only_where,
    where,
)
from datumbook.formulas.kinds import CuttingSpeed, Length, SpindleSpeed
from datumbook.formulas.whole import whole_below


def spindle_speed(cutting_speed: CuttingSpeed, diameter: Length) -> SpindleSpeed:
    """Turns in a unit of time that give a cutter of this diameter its cutting speed, v / (pi d).

    Its unit is turns in time (1/min), not radians in time: 508 mm/s on 12.7 mm are 12.73 turns a
    second, 764 a minute.

    Source: GTZ drilling lesson 5.

    >>> spindle_speed(cutting_speed=508, diameter=12.7)
    12.732
    """
    return cutting_speed / (PI * diameter)


@empirical(gives="1/min", spindle_speed="1/min")
def speed_cut_off(spindle_speed: SpindleSpeed) -> SpindleSpeed:
    """A spindle speed as it is told where the speeds of the machine are not known: cut off to tens
    of turns a minute, under a hundred to whole ones; never above what was worked out.

    Source: common practice, no source: a slower cutter lives longer.

    >>> speed_cut_off(12.732) * 60
    760.0
    """
    tens = 10 * whole_below(spindle_speed / 10)
    return where(less_than(spindle_speed, 100), whole_below(spindle_speed), tens)


def speed_of_machine(spindle_speed: SpindleSpeed, *speeds: SpindleSpeed) -> SpindleSpeed:
    """The fastest speed a machine has that is not above what a cutter may turn; blank where its
    slowest is too fast.

    Source: common practice, no source: a slower cutter lives longer.

    >>> speed_of_machine(12.732, 280 / 60, 500 / 60, 900 / 60) * 60
    500.0
    """
    slow_enough = [where(at_most(one, spindle_speed), one, 0 * one) for one in speeds]
    found = largest(*slow_enough)
    return only_where(more_than(found, 0 * found), found)


def feed_speed(feed: Length, spindle_speed: SpindleSpeed) -> CuttingSpeed:
    """Speed at which the drill goes down, from the feed of one turn.

    Source: GTZ drilling lesson 5.

    >>> feed_speed(feed=0.1, spindle_speed=12.0)
    1.2
    """
    return feed * spindle_speed
