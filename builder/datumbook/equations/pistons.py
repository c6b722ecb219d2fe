"""Pistons and rings: room in the bore, gaps of the rings, where the crown stops, how evenly the set
weighs.

The shop's rules of so much to the inch of bore are rules of thumb: the figure is an argument, and
the spec's own limit or the piston maker's comes first.
"""

from __future__ import annotations

from datumbook.formulas.functions import largest, smallest
from datumbook.formulas.kinds import Length, Measure, Ratio


def piston_clearance(bore: Length, piston: Length) -> Length:
    """Room of a piston in its bore, on the diameter; below zero it does not go in.

    bore: at its tightest (mm); piston: diameter at the height its maker gauges it (mm).

    Source: geometry.

    >>> piston_clearance(bore=82.512, piston=82.470)
    0.042
    """
    return bore - piston


def piston_clearance_by_rule(bore: Length, clearance_per_bore: Ratio) -> Length:
    """Piston clearance by the rule of so much to the inch of bore.

    bore: (mm); clearance_per_bore: 0.0005 to 0.001 for cast pistons, more for forged ones.

    Source: common practice, no source.

    >>> piston_clearance_by_rule(bore=82.5, clearance_per_bore=0.0005)
    0.04125
    """
    return bore * clearance_per_bore


def ring_gap_by_rule(bore: Length, gap_per_bore: Ratio) -> Length:
    """Least gap of a piston ring in its bore by the rule of so much to the inch of bore.

    bore: (mm); gap_per_bore: 0.0035 to 0.004 for a top ring, more under sustained load.

    Source: common practice, no source.

    >>> ring_gap_by_rule(bore=82.5, gap_per_bore=0.004)
    0.33
    """
    return bore * gap_per_bore


def largest_protrusion(*deck_clearances: Length) -> Length:
    """How far the proudest crown under one head stands over the deck; below zero every crown stops
    short of it.

    deck_clearances: of all cylinders under the head (mm), below zero for a proud crown.

    Source: geometry.

    >>> largest_protrusion(0.10, -0.05, 0.08)
    0.05
    """
    return -smallest(*deck_clearances)


def gasket_for_protrusion(largest_protrusion: Length, least_squish: Length) -> Length:
    """Thinnest pressed gasket that keeps the proudest piston off the head.

    largest_protrusion: of all cylinders under one head (mm); least_squish: room wanted above the
    crown (mm).

    Source: geometry.

    >>> gasket_for_protrusion(largest_protrusion=0.52, least_squish=0.70)
    1.22
    """
    return largest_protrusion + least_squish


def weight_spread(*weights: Measure) -> Measure:
    """How unevenly a set of pistons or rods weighs: the heaviest less the lightest.

    weights: all in one unit.

    Source: common practice, no source.

    >>> weight_spread(412.0, 409.0, 411.0, 414.0)
    5.0
    """
    return largest(*weights) - smallest(*weights)
