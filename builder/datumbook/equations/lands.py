"""Along the row of bores: where each centre stands, what is left between neighbours, what the
gasket can sit on.
"""

from __future__ import annotations

from datumbook.formulas.functions import tangent, total
from datumbook.formulas.kinds import Angle, Length


def first_centre(end_wall: Length, bore: Length) -> Length:
    """Distance from the front end face to the centre of the first bore: the end wall and half the
    bore.

    Source: geometry.

    >>> first_centre(end_wall=15.00, bore=82.00)
    56.00
    """
    return end_wall + bore / 2


def next_centre(front_centre: Length, front_bore: Length, land: Length, bore: Length) -> Length:
    """Distance from the front end face to the next centre: from its front neighbour by half of each
    bore and the land.

    Source: geometry.

    >>> next_centre(front_centre=56.00, front_bore=82.00, land=10.00, bore=82.00)
    148.00
    """
    return front_centre + front_bore / 2 + land + bore / 2


def bore_pitch(centre: Length, front_centre: Length) -> Length:
    """Distance between the centres of two neighbours.

    Source: geometry.

    >>> bore_pitch(centre=148.00, front_centre=56.00)
    92.00
    """
    return centre - front_centre


def offset(centre: Length, standard_centre: Length) -> Length:
    """How far a centre stands from where the drawing has it; above zero towards the rear.

    Source: geometry.

    >>> offset(centre=148.05, standard_centre=148.00)
    0.05
    """
    return centre - standard_centre


def row_length(*widths: Length) -> Length:
    """Sum of end walls, bores and lands, read one by one from face to face.

    Source: geometry.

    >>> row_length(15.00, 82.00, 10.00, 82.00, 15.00)
    204.00
    """
    return total(*widths)


def row_closure(row_length: Length, deck_length: Length) -> Length:
    """Sum of the widths less the deck length read in one go: one wrong width shows by exactly its
    error.

    Source: geometry.

    >>> row_closure(row_length=204.03, deck_length=204.00)
    0.03
    """
    return row_length - deck_length


def land_after_boring(
    land: Length,
    front_bore: Length,
    front_finished_bore: Length,
    rear_bore: Length,
    rear_finished_bore: Length,
) -> Length:
    """Land left between two neighbours once each is bored from its present to its finished size
    about its own centre.

    Each bore takes half of what it grows from the land. `land` and the two bores are read at the
    same depth.

    Source: geometry.

    >>> land_after_boring(
    ...     10.00, front_bore=82.00, front_finished_bore=82.50, rear_bore=82.10,
    ...     rear_finished_bore=82.50,
    ... )
    9.55
    """
    return land - (front_finished_bore - front_bore) / 2 - (rear_finished_bore - rear_bore) / 2


def land_set_over(land_after_boring: Length, front_offset: Length, rear_offset: Length) -> Length:
    """Land left once the two bores beside it are set over along the row, each towards the rear
    where above zero.

    Source: geometry.

    >>> land_set_over(9.55, front_offset=0.02, rear_offset=-0.03)
    9.50
    """
    return land_after_boring + rear_offset - front_offset


def chamfer_width(height: Length, angle: Angle) -> Length:
    """Radial width of the chamfer round a bore mouth, from its height and its angle, measured from
    the bore axis.

    Source: geometry.

    >>> chamfer_width(height=0.5, angle=0.7853981634)
    0.500
    """
    return height * tangent(angle)


def gasket_margin(gasket_hole: Length, bore: Length, height: Length, angle: Angle) -> Length:
    """How far the edge of the gasket's bore hole keeps from the chamfer of the bore; below zero it
    hangs over it.

    height, angle: of the chamfer, the angle from the bore axis.

    Source: geometry.

    >>> gasket_margin(gasket_hole=84.0, bore=82.5, height=0.5, angle=0.7853981634)
    0.25
    """
    return (gasket_hole - bore) / 2 - chamfer_width(height, angle)


def clamping_land(land: Length, chamfer_width: Length) -> Length:
    """Flat left for the gasket between two bores: the land less a chamfer on either side.

    Source: geometry.

    >>> clamping_land(land=8.50, chamfer_width=0.50)
    7.50
    """
    return land - 2 * chamfer_width
