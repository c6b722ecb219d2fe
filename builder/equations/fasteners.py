"""Studs and bolts: what a tightening torque clamps, and what a larger thread gains."""

from __future__ import annotations

from builder.kinds import Area, Force, Length, Ratio, Stress, Torque


def clamp_load(torque: Torque, nut_factor: Ratio, diameter: Length) -> Force:
    """Force with which a fastener clamps when tightened to a torque.

    torque: tightening torque (N·mm); nut_factor: K, about 0.20 for dry threads; diameter: major diameter (mm).

    Source: [Shigley] eq. 8-27, T = K F d; tests scatter by a quarter either way.

    >>> clamp_load(torque=25474.0, nut_factor=0.2, diameter=8.0)
    15921.2
    """
    return torque / (nut_factor * diameter)


def torque_for_clamp(clamp: Force, nut_factor: Ratio, diameter: Length) -> Torque:
    """Torque that a fastener needs to clamp with a force.

    clamp: force wanted (N); nut_factor: K, about 0.20 for dry threads; diameter: major diameter (mm).

    Source: [Shigley] eq. 8-27, T = K F d.

    >>> torque_for_clamp(clamp=15921.0, nut_factor=0.2, diameter=8.0)
    25473.6
    """
    return nut_factor * clamp * diameter


def tightened_stress(clamp: Force, area: Area) -> Stress:
    """Stress that the clamping force alone puts in the thread.

    clamp: clamping force (N); area: tensile stress area (mm²).

    Source: [Shigley] example 8-3, F / At.

    >>> tightened_stress(clamp=15921.0, area=36.61)
    434.9
    """
    return clamp / area


def clamp_gain(area_after: Area, area_before: Area) -> Ratio:
    """Share by which a larger thread can clamp harder at the same stress in the fastener.

    area_after: stress area of the new thread (mm²); area_before: stress area of the old one (mm²).

    Source: force is stress times area ([Shigley] example 8-3); the block's own thread may still be the weaker member.

    >>> clamp_gain(area_after=0.1419, area_before=0.1063)
    0.335
    """
    return area_after / area_before - 1


def torque_at_same_stress(
    torque: Torque, area_before: Area, area_after: Area, diameter_before: Length, diameter_after: Length
) -> Torque:
    """Torque that puts the same stress in a larger thread as the old torque put in the old one.

    torque: old torque (N·mm); area_before, area_after: stress areas (mm²); diameter_before, diameter_after: major
    diameters (mm); the nut factor is taken to stay as it was.

    Source: from T = K F d and stress = F / At ([Shigley] eq. 8-27).

    >>> torque_at_same_stress(
    ...     torque=65.0, area_before=0.1063, area_after=0.1419, diameter_before=0.4375, diameter_after=0.5
    ... )
    99.2
    """
    return torque * (area_after / area_before) * (diameter_after / diameter_before)
