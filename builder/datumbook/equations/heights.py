"""Heights from the crank axis: how the faces lie, where the piston stops, what metal went and what
may still go.

The axis moves too: cutting the main-bearing caps and re-cutting the tunnels lifts it towards the
deck. Every cut and the lift are kept apart here, so that overall = deck + bottom holds before and
after any work.
"""

from __future__ import annotations

from datumbook.formulas.functions import cosine, mean, more_than, smallest, where
from datumbook.formulas.kinds import Angle, Length


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


def clearance_less(deck_clearance: Length, cut: Length) -> Length:
    """Deck clearance after one cut by itself: a cut on the deck, or a lift of the axis towards it.

    Source: geometry.

    >>> clearance_less(deck_clearance=0.020, cut=0.008)
    0.012
    """
    return deck_clearance - cut


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


def axis_shift(crown_metal: Length, tunnel_before: Length, tunnel_after: Length) -> Length:
    """How far re-cutting the main tunnels lifts the crank axis towards the deck.

    `crown_metal` is what the cutter takes at the crown of the block's half; a tunnel that grows
    lets the axis down again by half its growth. Zero where the crown is not touched and the size is
    kept.

    Source: geometry.

    >>> axis_shift(crown_metal=0.0040, tunnel_before=2.4040, tunnel_after=2.4040)
    0.0040
    """
    return crown_metal - (tunnel_after - tunnel_before) / 2


def deck_height_after(deck_height: Length, deck_cut: Length, axis_shift: Length) -> Length:
    """Crank axis to deck after a cut on the deck and a lift of the axis: both take from it.

    The cut is counted off the lowest corner, from whose height it is taken, and lies parallel to
    the crank axis: the whole deck stands at this height after it.

    Source: geometry.

    >>> deck_height_after(deck_height=9.670, deck_cut=0.008, axis_shift=0.004)
    9.658
    """
    return deck_height - deck_cut - axis_shift


def bottom_height_after(bottom_height: Length, bottom_cut: Length, axis_shift: Length) -> Length:
    """Crank axis to bottom face after a cut on that face and a lift of the axis: the lift gives
    back.

    Source: geometry.

    >>> bottom_height_after(bottom_height=3.555, bottom_cut=0.003, axis_shift=0.003)
    3.555
    """
    return bottom_height - bottom_cut + axis_shift


def overall_height_after(overall_height: Length, deck_cut: Length, bottom_cut: Length) -> Length:
    """Bottom face to deck after a cut on either; where the axis stands does not matter to it.

    Both cuts are counted off the lowest corner.

    Source: geometry.

    >>> overall_height_after(overall_height=14.250, deck_cut=0.003, bottom_cut=0.003)
    14.244
    """
    return overall_height - deck_cut - bottom_cut


def height_closure(overall_height: Length, deck_height: Length, bottom_height: Length) -> Length:
    """Overall height less its two parts: zero unless one of three readings is wrong.

    Source: geometry.

    >>> height_closure(overall_height=14.250, deck_height=10.695, bottom_height=3.554)
    0.001
    """
    return overall_height - (deck_height + bottom_height)


def least_deck_height(piston_stack: Length, least_clearance: Length) -> Length:
    """Deck height at which only the least deck clearance is left over the crown.

    Source: geometry.

    >>> least_deck_height(piston_stack=9.650, least_clearance=0.005)
    9.655
    """
    return piston_stack + least_clearance


def shift_towards_deck(axis_shift: Length, bank_angle: Angle) -> Length:
    """How far a lift of the crank axis brings it nearer to one bank's deck: its share along that
    bank's cylinders.

    bank_angle: angle between the banks, the axis moving up between them.

    Source: geometry.

    >>> shift_towards_deck(axis_shift=0.100, bank_angle=1.5707963268)
    0.0707
    """
    return axis_shift * cosine(bank_angle / 2)


def restoring_bottom_cut(axis_shift: Length) -> Length:
    """Cut off the bottom face that keeps it as far from the crank axis as before a line bore; none
    where it sinks.

    Source: geometry.

    >>> restoring_bottom_cut(axis_shift=0.003), restoring_bottom_cut(axis_shift=-0.001)
    (0.003, 0)
    """
    return where(more_than(axis_shift, 0), axis_shift, 0)
