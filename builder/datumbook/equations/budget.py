"""The metal budget: of each resource what was there, what has gone, what the plan takes, what is
still to spare.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    at_least,
    decided,
    largest,
    missing,
    numbers_in,
    only_where,
    smallest,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import Length, Measure, Share


def taken_so_far(as_new: Length, as_received: Length) -> Length:
    """What earlier work and wear have taken of a size that shrinks.

    Source: geometry.

    >>> taken_so_far(as_new=8.890, as_received=8.860)
    0.030
    """
    return as_new - as_received


def taken_by_plan(as_received: Length, after: Length) -> Length:
    """What the plan takes of a size that shrinks.

    Source: geometry.

    >>> taken_by_plan(as_received=8.860, after=8.854)
    0.006
    """
    return as_received - after


def still_to_spare(after: Length, limit: Length) -> Length:
    """What is left above the limit of a size that shrinks; below zero where the plan takes too
    much.

    Source: geometry.

    >>> still_to_spare(after=8.854, limit=8.850)
    0.004
    """
    return after - limit


def grown_so_far(as_new: Length, as_received: Length) -> Length:
    """How far a size that grows, such as a bore, has grown already.

    Source: geometry.

    >>> grown_so_far(as_new=82.000, as_received=82.178)
    0.178
    """
    return as_received - as_new


def grown_by_plan(as_received: Length, after: Length) -> Length:
    """How far the plan makes it grow.

    Source: geometry.

    >>> grown_by_plan(as_received=82.178, after=82.500)
    0.322
    """
    return after - as_received


def still_to_grow(after: Length, limit: Length) -> Length:
    """How far it may still grow up to its limit; below zero where the plan goes beyond.

    Source: geometry.

    >>> still_to_grow(after=82.500, limit=83.000)
    0.500
    """
    return limit - after


def least_of(*sizes: Length) -> Length:
    """The least of several sizes that share one limit.

    Source: none needed.

    >>> least_of(8.5, 14.5, 8.6)
    8.5
    """
    return smallest(*sizes)


def most_of(*sizes: Length) -> Length:
    """The most of several sizes that share one limit.

    Source: none needed.

    >>> most_of(8.5, 14.5, 8.6)
    14.5
    """
    return largest(*sizes)


@decided
@takes_blanks
def as_planned(typed: Measure, suggested: Measure) -> Measure:
    """What the plan has: the figure typed, or the suggestion beside it where none is.

    Source: none needed.

    >>> as_planned(typed=82.50, suggested=82.25)
    82.50
    """
    return where(missing(typed), only_where(at_least(numbers_in(suggested), 1), suggested), typed)


def share(part: Length, *parts: Length) -> Share:
    """Share of one part among all the parts of an allowance: what has gone, what the plan takes,
    what is left.

    What is overdrawn has no share of its own: the other parts are then more than the whole.

    Source: geometry.

    >>> share(0.030, 0.030, 0.006, 0.004)
    0.75
    >>> share(-0.002, 0.036, 0.006, -0.002)
    0.0
    """
    return largest(0.0, part / total(*parts))
