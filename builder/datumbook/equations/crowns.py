"""Room above the pistons, cylinder by cylinder: a bound, from the lowest place of the deck over the
bore.

The deck over a cylinder is faces.on_line between the means of its ends, the crown's own height
heights.piston_stack, the room between them heights.deck_clearance.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    at_least,
    decided,
    missing,
    numbers_in,
    square_root,
    takes_blanks,
    total_of_squares,
    where,
)
from datumbook.formulas.kinds import Length, Ratio, Words

AS_DRAWN, PARTLY_IN_HAND, IN_HAND = "drawing", "drawing and parts in hand", "parts in hand"


def edge_slope(tilt: Length, twist: Length, apart: Length) -> Ratio:
    """Slope of a face in one direction, along the steeper of its two edges that run that way.

    tilt: of the four corners in that direction; apart: how far apart they were read (mm). A plane
    has no twist, and one slope throughout.

    Source: geometry.

    >>> edge_slope(tilt=-0.04, twist=0.00, apart=400)
    0.0001
    """
    return (abs(tilt) + abs(twist)) / apart


@decided
def steepest_slope(slope_along: Ratio, slope_across: Ratio) -> Ratio:
    """Slope of a face the way it falls most steeply, from its slopes along and across the block: it
    makes a bound, and what it may be off by is a small part of what the heights are.

    Source: geometry.

    >>> steepest_slope(slope_along=0.0003, slope_across=0.0004)
    0.0005
    """
    return square_root(total_of_squares(slope_along, slope_across))


def lowest_over_bore(
    height: Length, steepest_slope: Ratio, bore: Length, hollow_left: Length
) -> Length:
    """Lowest place that the deck can have over one bore: half the bore down its slope, and the
    deepest hollow that a cut leaves.

    height: over the middle of the bore.

    Source: geometry.

    >>> lowest_over_bore(height=219.95, steepest_slope=0.0001, bore=100, hollow_left=0.01)
    219.935
    """
    return height - bore / 2 * steepest_slope - hollow_left


@takes_blanks
def sizes_from(*measured: Length) -> Words:
    """Where the sizes under a crown are from: the parts in hand, the drawing, or some of either.

    measured: throw, rod and compression height of this cylinder, blank until they are read.

    Source: count.

    >>> sizes_from(45.01, float("nan"), 38.00)
    'drawing and parts in hand'
    """
    return where(
        at_least(numbers_in(*measured), len(measured)),
        IN_HAND,
        where(at_least(numbers_in(*measured), 1), PARTLY_IN_HAND, AS_DRAWN),
    )


@takes_blanks
def in_hand(measured: Length, drawn: Length) -> Length:
    """Size of a part: as measured, as soon as it is; as drawn until then.

    Source: none needed.

    >>> in_hand(float("nan"), drawn=178.05), in_hand(178.08, drawn=178.05)
    (178.05, 178.08)
    """
    return where(missing(measured), drawn, measured)


def stroke_ground(throw: Length) -> Length:
    """Stroke of a crank as it is ground: twice the throw of the pin.

    Source: geometry.

    >>> stroke_ground(throw=47.50)
    95.00
    """
    return 2 * throw
