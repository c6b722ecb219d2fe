"""The main-bearing tunnels, caps on and torqued: size, shape, one line of centres, and what the
shells are held by.
"""

from __future__ import annotations

from datumbook.formulas.functions import largest, smallest
from datumbook.formulas.kinds import Length


def tunnel_out_of_round(*diameters: Length) -> Length:
    """Largest less smallest of the diameters read at one depth of a tunnel.

    Source: common practice, no source.

    >>> tunnel_out_of_round(61.062, 61.060, 61.058)
    0.004
    """
    return largest(*diameters) - smallest(*diameters)


def tunnel_taper(front: Length, rear: Length) -> Length:
    """Diameter at the front of a tunnel less the diameter at its rear, in one direction; the sign
    is kept.

    Source: common practice, no source.

    >>> tunnel_taper(front=61.062, rear=61.057)
    0.005
    """
    return front - rear


def size_spread(*tunnel_sizes: Length) -> Length:
    """Largest tunnel of the row less the smallest.

    Source: common practice, no source.

    >>> size_spread(61.060, 61.064, 61.058)
    0.006
    """
    return largest(*tunnel_sizes) - smallest(*tunnel_sizes)


def misalignment(
    centre: Length,
    place: Length,
    front_centre: Length,
    front_place: Length,
    rear_centre: Length,
    rear_place: Length,
) -> Length:
    """How far a tunnel's centre lies off the straight line through the first and the last, in the
    direction read.

    centre: how high, or how far to the side, a centre was read; place: distance along the block
    (mm).

    Source: geometry.

    >>> misalignment(
    ...     0.015, place=200, front_centre=0.000, front_place=0, rear_centre=0.020, rear_place=400,
    ... )
    0.005
    """
    along = (place - front_place) / (rear_place - front_place)
    return centre - front_centre - (rear_centre - front_centre) * along


def adjacent_misalignment(misalignment: Length, next_misalignment: Length) -> Length:
    """How far two neighbouring tunnels are out of line with each other; an end tunnel's own
    misalignment is zero.

    Source: common practice, no source.

    >>> adjacent_misalignment(misalignment=0.005, next_misalignment=-0.003)
    0.008
    """
    return abs(misalignment - next_misalignment)


def overall_misalignment(*misalignments: Length) -> Length:
    """Greatest less least misalignment of the whole row, the two end tunnels among them.

    Source: common practice, no source.

    >>> overall_misalignment(0.0, 0.005, -0.003, 0.0)
    0.008
    """
    return largest(*misalignments) - smallest(*misalignments)


def cap_height_after(cap_height: Length, cap_cut: Length) -> Length:
    """Height of a main bearing cap once its joint face is cut.

    Source: geometry.

    >>> cap_height_after(cap_height=48.10, cap_cut=0.15)
    47.95
    """
    return cap_height - cap_cut


def register_interference(cap_width: Length, block_width: Length) -> Length:
    """How much wider a main bearing cap is than the register it sits in, at one end; below zero
    where it is loose.

    Source: geometry.

    >>> register_interference(cap_width=70.05, block_width=70.00)
    0.05
    """
    return cap_width - block_width
