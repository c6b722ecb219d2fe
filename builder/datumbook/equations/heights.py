"""Heights from the crank axis: how the faces lie, where the piston stops, what metal went and what
may still go.
"""

from __future__ import annotations

from datumbook.formulas.functions import at_least, mean, smallest, where
from datumbook.formulas.kinds import Length


def mean_height(*corners: Length) -> Length:
    """Mean of the heights read at the corners.

    Source: geometry.

    >>> mean_height(9.6712, 9.6698, 9.6735, 9.6721)
    9.67165
    """
    return mean(*corners)


def lowest_corner(*corners: Length) -> Length:
    """Least of the heights read at the corners: a parallel cut that cleans the whole face goes down
    to it.

    Source: geometry.

    >>> lowest_corner(9.6712, 9.6698, 9.6735, 9.6721)
    9.6698
    """
    return smallest(*corners)


def above_lowest(height: Length, lowest_corner: Length) -> Length:
    """How far a corner stands above the lowest one, the corner that every cut is counted from.

    Source: geometry, derived.

    >>> above_lowest(9.6735, 9.6698)
    0.0037
    """
    return height - lowest_corner


def tilt_lengthwise(
    front_left: Length, front_right: Length, rear_left: Length, rear_right: Length
) -> Length:
    """How much higher the rear of a face lies than the front, from its four corners.

    Source: geometry.

    >>> tilt_lengthwise(9.6712, 9.6698, 9.6735, 9.6721)
    0.0023
    """
    return ((rear_left + rear_right) - (front_left + front_right)) / 2


def tilt_crosswise(
    front_left: Length, front_right: Length, rear_left: Length, rear_right: Length
) -> Length:
    """How much higher the left of a face lies than the right, from its four corners.

    Source: geometry.

    >>> tilt_crosswise(9.6712, 9.6698, 9.6735, 9.6721)
    0.0014
    """
    return ((front_left + rear_left) - (front_right + rear_right)) / 2


def twist(front_left: Length, front_right: Length, rear_left: Length, rear_right: Length) -> Length:
    """How far four corners are from one plane: half the difference of the two diagonals' sums, zero
    for a true plane.

    Source: geometry.

    >>> twist(9.6712, 9.6698, 9.6735, 9.6731)
    0.0005
    """
    return ((front_left + rear_right) - (front_right + rear_left)) / 2


def piston_stack(stroke: Length, rod_length: Length, compression_height: Length) -> Length:
    """Height of the piston crown above the crank axis at top dead centre: half the stroke, the rod,
    pin to crown.

    Source: geometry.

    >>> piston_stack(stroke=3.600, rod_length=6.250, compression_height=1.600)
    9.650
    """
    return stroke / 2 + rod_length + compression_height


def deck_clearance(deck_height: Length, piston_stack: Length) -> Length:
    """How far the crown stops below the deck; below zero where it stands proud.

    Source: geometry.

    >>> deck_clearance(deck_height=9.670, piston_stack=9.650)
    0.020
    """
    return deck_height - piston_stack


def deck_height_at(
    front_left: Length,
    front_right: Length,
    rear_left: Length,
    rear_right: Length,
    centre: Length,
    deck_length: Length,
) -> Length:
    """Height of the deck over one cylinder, along the straight line from the mean of the front
    corners to that of the rear.

    centre: of the bore, from the front end face (mm); deck_length: end face to end face (mm), where
    the corners are taken to have been read.

    Source: geometry.

    >>> deck_height_at(270.00, 270.02, 270.10, 270.12, centre=100.0, deck_length=400.0)
    270.035
    """
    front, rear = (front_left + front_right) / 2, (rear_left + rear_right) / 2
    return front + (rear - front) * centre / deck_length


def metal_removed(standard_height: Length, height: Length) -> Length:
    """Metal gone from a height since it was new.

    Source: geometry.

    >>> metal_removed(standard_height=8.890, height=8.860)
    0.030
    """
    return standard_height - height


def metal_removable(height: Length, least_height: Length) -> Length:
    """Metal that may still go before a height reaches its limit; below zero where too much has
    gone.

    Source: geometry.

    >>> metal_removable(height=8.860, least_height=8.850)
    0.010
    """
    return height - least_height


def end_closure(bottom_left: Length, bottom_right: Length, bottom_height: Length) -> Length:
    """Overall height less its two parts at one end of the block: zero unless a reading there is
    wrong.

    bottom_left, bottom_right: overall less deck at the end's two corners; bottom_height: read at
    this end.

    Source: geometry.

    >>> end_closure(bottom_left=3.556, bottom_right=3.554, bottom_height=3.554)
    0.001
    """
    return (bottom_left + bottom_right) / 2 - bottom_height


def height_closure(front_closure: Length, rear_closure: Length) -> Length:
    """What the three heights miss at the end where they miss by more: a misreading at the front
    does not cancel one at the rear.

    Source: geometry.

    >>> height_closure(front_closure=0.001, rear_closure=-0.006)
    -0.006
    """
    return where(at_least(abs(front_closure), abs(rear_closure)), front_closure, rear_closure)


def least_deck_height(piston_stack: Length, least_clearance: Length) -> Length:
    """Deck height at which only the least deck clearance is left over the crown.

    Source: geometry.

    >>> least_deck_height(piston_stack=9.650, least_clearance=0.005)
    9.655
    """
    return piston_stack + least_clearance
