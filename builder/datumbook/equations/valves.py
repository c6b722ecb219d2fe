"""Room of valves over the pistons, and of rings in their grooves: what is read, and what is left of
it once metal is off.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    cosine,
    largest,
    more_than,
    numbers_in,
    only_where,
    sine,
    takes_blanks,
    total,
)
from datumbook.formulas.kinds import Angle, Length, Ratio


def crown_rise(nearer_at_middle: Length, steepest_slope: Ratio, bore: Length) -> Length:
    """How much nearer to the head one crown comes by deck cut and line bore together, where it
    comes nearest: over the middle of its bore, and half the bore up the slope.

    nearer_at_middle: what the deck loses over the crank line there (mm); steepest_slope: of that
    loss, where more goes off at one end or side than at the other.

    Source: geometry.

    >>> crown_rise(nearer_at_middle=0.30, steepest_slope=0.0005, bore=80.0)
    0.32
    """
    return nearer_at_middle + bore / 2 * steepest_slope


@takes_blanks
def head_drop(crown_rise: Length, head_cut: Length, gasket_thinner: Length) -> Length:
    """How much nearer head and crown come in all, along the bore.

    head_cut: off the head. gasket_thinner: old gasket less new one, both as pressed. Either blank:
    nothing.

    Source: geometry.

    >>> head_drop(crown_rise=0.008, head_cut=0.004, gasket_thinner=float("nan"))
    0.012
    """
    nearer = crown_rise + total(head_cut) + total(gasket_thinner)
    return only_where(more_than(numbers_in(crown_rise), 0), nearer)


def valve_gap_after(valve_gap: Length, head_drop: Length, lean: Angle) -> Length:
    """Room of a valve over its piston along the stem, once head and crown are nearer.

    lean: of the valve to the bore.

    Source: geometry, the share of the drop along the stem.

    >>> valve_gap_after(valve_gap=0.095, head_drop=0.012, lean=0.3490659)
    0.0837
    """
    return valve_gap - head_drop * cosine(lean)


def radial_gap_after(radial_gap: Length, head_drop: Length, lean: Angle) -> Length:
    """Room between the edge of a valve and its pocket, once head and crown are nearer, where the
    valve leans towards that wall.

    Source: geometry, the share of the drop across the stem.

    >>> radial_gap_after(radial_gap=0.060, head_drop=0.012, lean=0.3490659)
    0.0559
    """
    return radial_gap - head_drop * sine(lean)


def pocket_deeper(valve_gap_after: Length, least_gap: Length) -> Length:
    """How much deeper the pocket is to be cut along the valve's own axis; nothing where there is
    room.

    Source: geometry.

    >>> pocket_deeper(valve_gap_after=0.0837, least_gap=0.100)
    0.0163
    """
    return largest(least_gap - valve_gap_after, 0)


def ring_back_clearance(bore: Length, groove_root: Length, ring_wall: Length) -> Length:
    """Room behind a ring that is pushed into its groove to the wall of the bore.

    groove_root: diameter at the bottom of the groove. ring_wall: of the ring, radial.

    Source: geometry.

    >>> ring_back_clearance(bore=3.130, groove_root=2.802, ring_wall=0.148)
    0.016
    """
    return (bore - groove_root) / 2 - ring_wall
