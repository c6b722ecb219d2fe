"""Where to look first when readings that must agree do not: the reading most likely wrong, never
more than a hint.

Each speaks only where the closure's own verdict is OUT.
"""

from __future__ import annotations

from datumbook.equations.verdicts import OUT
from datumbook.formulas.functions import all_of, at_least, at_most, equal, largest, smallest, where
from datumbook.formulas.kinds import Length, Words

LOOK_FIRST = "look first"


def tilt_without(opposite: Length, lengthwise: Length, crosswise: Length) -> Length:
    """Tilt of the plane through three corners, the fourth left out: its rise along the face and
    across it together.

    opposite: the corner diagonally across from the one left out; lengthwise, crosswise: the two
    beside that.

    Source: geometry.

    >>> tilt_without(opposite=9.6721, lengthwise=9.6698, crosswise=9.6735)
    0.0037
    """
    return abs(lengthwise - opposite) + abs(crosswise - opposite)


def corner_suspected(tilt_without: Length, *tilts_without: Length, verdict: Words) -> Words:
    """Says where to look first when a face's twist is OUT: at the corner without which the face
    tilts least.

    tilts_without: of all four corners; verdict: on the twist.

    Source: geometry; a face once milled is nearer to a plane than a misread corner.

    >>> corner_suspected(0.0037, 0.0037, 0.0285, 0.0302, 0.0270, verdict="OUT")
    'look first'
    """
    least = at_most(tilt_without, smallest(*tilts_without))
    return where(all_of(equal(verdict, OUT), least), LOOK_FIRST, "")


def off_drawing(width: Length, drawn: Length) -> Length:
    """How much wider than drawn a land or end wall was read.

    Source: geometry.

    >>> off_drawing(width=10.90, drawn=10.00)
    0.90
    """
    return width - drawn


def land_suspected(
    off_drawing: Length, *all_off_drawing: Length, row_closure: Length, verdict: Words
) -> Words:
    """Says where to look first when a row does not add up: at the land that is off its drawing by
    most nearly as much.

    all_off_drawing: of all lands and end walls; row_closure: sum less length, exactly the error of
    one wrong width;
    verdict: on it.

    Source: geometry.

    >>> land_suspected(0.90, -0.02, 0.90, 0.01, row_closure=0.88, verdict="OUT")
    'look first'
    """
    nearest = smallest(*[abs(each - row_closure) for each in all_off_drawing])
    return where(
        all_of(equal(verdict, OUT), at_most(abs(off_drawing - row_closure), nearest)),
        LOOK_FIRST,
        "",
    )


def beyond_drawing(height: Length, low: Length, high: Length) -> Length:
    """How far a height lies outside what the drawing allows it; below zero inside.

    Source: geometry.

    >>> beyond_drawing(height=10.690, low=10.694, high=10.696)
    0.004
    """
    return largest(low - height, height - high)


def height_suspected(overall: Length, deck: Length, bottom: Length, verdict: Words) -> Words:
    """Which of three heights that do not close to look at first: the one farthest outside its
    drawing.

    overall, deck, bottom: how far each is beyond its drawing; verdict: on the closure.

    Source: common practice, no source.

    >>> height_suspected(overall=0.001, deck=0.020, bottom=-0.002, verdict="OUT")
    'deck height'
    """
    farthest = where(
        at_least(overall, largest(deck, bottom)),
        "overall height",
        where(at_least(deck, bottom), "deck height", "axis to bottom"),
    )
    return where(equal(verdict, OUT), farthest, "")
