"""A hole and a shaft of one nominal size: the room between them; below zero one is pressed into the
other.
"""

from __future__ import annotations

from datumbook.formulas.kinds import Length, Ratio


def fit_clearance(hole: Length, shaft: Length) -> Length:
    """Room of a measured shaft in a measured hole; below zero the shaft is the larger and must be
    pressed in.

    hole, shaft: diameters (mm).

    Source: geometry.

    >>> fit_clearance(hole=50.012, shaft=49.960)
    0.052
    """
    return hole - shaft


def least_clearance(smallest_hole: Length, largest_shaft: Length) -> Length:
    """Tightest pair two sets of limits allow; below zero the greatest interference.

    smallest_hole, largest_shaft: limits of size (mm).

    Source: ISO 286-1, the definition of clearance.

    >>> least_clearance(smallest_hole=85.000, largest_shaft=85.093)
    -0.093
    """
    return smallest_hole - largest_shaft


def greatest_clearance(largest_hole: Length, smallest_shaft: Length) -> Length:
    """Loosest pair two sets of limits allow; below zero the least interference.

    largest_hole, smallest_shaft: limits of size (mm).

    Source: ISO 286-1, the definition of clearance.

    >>> greatest_clearance(largest_hole=85.035, smallest_shaft=85.071)
    -0.036
    """
    return largest_hole - smallest_shaft


def interference_per_size(interference: Length, diameter: Length) -> Ratio:
    """Interference as a share of the diameter it is held on, as shop rules state it (so much to the
    inch).

    interference, diameter: on the diameter (mm).

    Source: geometry.

    >>> interference_per_size(interference=0.043, diameter=86.0)
    0.0005
    """
    return interference / diameter
