"""The walls round the bores: how thick, how far the core moved, and what is left when a bore is
opened or shifted.
"""

from __future__ import annotations

from datumbook.equations.bores import bar_off_axis
from datumbook.formulas.functions import cosine, largest, sine, smallest
from datumbook.formulas.kinds import Angle, Length


def least_wall(*walls: Length) -> Length:
    """Thinnest place found in the wall of one bore.

    Source: common practice, no source.

    >>> least_wall(5.1, 4.7, 4.9, 5.3)
    4.7
    """
    return smallest(*walls)


def core_shift(*walls: Length) -> Length:
    """How far the core stood off the bore when the block was cast: half of thickest less thinnest.

    Source: geometry.

    >>> core_shift(5.1, 4.7, 4.9, 5.3)
    0.3
    """
    return (largest(*walls) - smallest(*walls)) / 2


def wall_after_boring(
    wall: Length, bore: Length, finished_bore: Length, shift_towards: Length
) -> Length:
    """Wall left at one place once the bore is opened to its finished size, or to the hole of its
    liner.

    shift_towards: how far the new centre moves towards this place; below zero away from it.

    Source: geometry.

    >>> wall_after_boring(wall=0.195, bore=3.100, finished_bore=3.130, shift_towards=0.006)
    0.174
    """
    return wall - (finished_bore - bore) / 2 - shift_towards


def wall_set_over(
    *walls: Length,
    bore: Length,
    finished_bore: Length,
    offset: Length,
    across: Length,
    angle: Angle,
) -> Length:
    """Thinnest wall left at one position once the bore is opened to its finished size with the bar
    set over.

    offset: how far the bar is set over towards the rear; across: towards the left; angle: of the
    position from the front of the row, as a clock goes seen from above.

    Source: geometry.

    >>> wall_set_over(
    ...     5.5, 5.4, bore=82.00, finished_bore=82.50, offset=0.10, across=0.20, angle=0.0
    ... )
    5.25
    """
    moved = offset * cosine(angle) + across * sine(angle)
    return smallest(*walls) - (finished_bore - bore) / 2 + moved


def wall_set_over_anyhow(
    *walls: Length, bore: Length, finished_bore: Length, offset: Length, across: Length
) -> Length:
    """The same at a position of which it is not said where it lies: the set-over, straight from
    the old centre to the new, may all be towards it.

    Source: geometry.

    >>> wall_set_over_anyhow(
    ...     5.5, 5.4, bore=82.00, finished_bore=82.50, offset=-0.06, across=0.08
    ... )
    5.05
    """
    moved = bar_off_axis(offset, across)
    return smallest(*walls) - (finished_bore - bore) / 2 - moved


def liner_wall(outside_diameter: Length, finished_bore: Length) -> Length:
    """Wall of a liner once it is bored to its finished size.

    Source: geometry.

    >>> liner_wall(outside_diameter=86.00, finished_bore=82.00)
    2.00
    """
    return (outside_diameter - finished_bore) / 2


def row_shift(*offsets: Length) -> Length:
    """Shift of the whole row of centres that makes the largest offset left as small as it can be.

    Source: geometry: the middle between the two outermost offsets comes to stand on zero.

    >>> row_shift(0.05, -0.01, 0.02, 0.03)
    -0.02
    """
    return -(largest(*offsets) + smallest(*offsets)) / 2


def boring_offset(offset: Length, row_shift: Length) -> Length:
    """How far the boring bar is set off a centre as found, to put it back into the row; above zero
    towards the rear.

    Source: geometry.

    >>> boring_offset(offset=0.05, row_shift=-0.02)
    -0.03
    """
    return -offset - row_shift
