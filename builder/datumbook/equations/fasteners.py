"""Studs and bolts: what a tightening torque clamps, what a larger thread gains, what strips
first.
"""

from __future__ import annotations

from datumbook.formulas.functions import PI, square_root
from datumbook.formulas.kinds import Area, Count, Force, Length, Ratio, Share, Stress, Torque

ROOT_THREE = square_root(3)


def clamp_load(torque: Torque, nut_factor: Ratio, diameter: Length) -> Force:
    """Force with which a fastener clamps when tightened to a torque.

    torque: tightening torque (N·mm); nut_factor: K, about 0.20 for dry threads; diameter: major
    diameter (mm).

    Source: [Shigley] eq. 8-27, T = K F d; tests scatter by a quarter either way.

    >>> clamp_load(torque=25474.0, nut_factor=0.2, diameter=8.0)
    15921.2
    """
    return torque / (nut_factor * diameter)


def torque_for_clamp(clamp: Force, nut_factor: Ratio, diameter: Length) -> Torque:
    """Torque that a fastener needs to clamp with a force.

    clamp: force wanted (N); nut_factor: K, about 0.20 for dry threads; diameter: major diameter
    (mm).

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


def clamp_gain(area_after: Area, area_before: Area) -> Share:
    """Share by which a larger thread can clamp harder at the same stress in the fastener.

    area_after: stress area of the new thread (mm²); area_before: stress area of the old one (mm²).

    Source: force is stress times area ([Shigley] example 8-3); the block's own thread may still be
    the weaker member.

    >>> clamp_gain(area_after=0.1419, area_before=0.1063)
    0.335
    """
    return area_after / area_before - 1


def torque_at_same_stress(
    torque: Torque,
    area_before: Area,
    area_after: Area,
    diameter_before: Length,
    diameter_after: Length,
) -> Torque:
    """Torque that puts the same stress in a larger thread as the old torque put in the old one.

    torque: old torque (N·mm); area_before, area_after: stress areas (mm²); diameter_before,
    diameter_after: major diameters (mm); the nut factor is taken to stay as it was.

    Source: from T = K F d and stress = F / At ([Shigley] eq. 8-27).

    >>> torque_at_same_stress(
    ...     torque=65.0, area_before=0.1063, area_after=0.1419, diameter_before=0.4375,
    ...     diameter_after=0.5
    ... )
    99.2
    """
    return torque * (area_after / area_before) * (diameter_after / diameter_before)


def stress_area_ratio(area_after: Area, area_before: Area) -> Ratio:
    """How many times the stress area of the old thread the new one has: the clamp gained, and one.

    Source: as clamp_gain

    >>> stress_area_ratio(area_after=0.1419, area_before=0.1063)
    1.335
    """
    return area_after / area_before


def clamp_at_same_torque(clamp: Force, diameter_before: Length, diameter_after: Length) -> Force:
    """Force with which a larger thread clamps at the old torque: less than the old one did.

    clamp: force of the old thread (N); the nut factor is taken to stay as it was.

    Source: [Shigley] eq. 8-27, T = K F d.

    >>> clamp_at_same_torque(clamp=8914.0, diameter_before=0.4375, diameter_after=0.5)
    7799.75
    """
    return clamp * diameter_before / diameter_after


def proof_load(proof_strength: Stress, area: Area) -> Force:
    """Force that a fastener carries without lasting stretch.

    Source: [Shigley] eq. 8-31, Fp = At Sp.

    >>> proof_load(proof_strength=580.0, area=36.61)
    21233.8
    """
    return proof_strength * area


def preload(proof_load: Force, proof_share: Ratio) -> Force:
    """Clamping force aimed at, as a share of the proof load: 0.75 for fasteners used again, 0.90
    for those that stay.

    Source: [Shigley] eq. 8-31.

    >>> preload(proof_load=21233.8, proof_share=0.75)
    15925.4
    """
    return proof_share * proof_load


def share_of_proof(clamp: Force, proof_load: Force) -> Share:
    """Share of the proof load that the clamping force takes up.

    Source: [Shigley] eq. 8-31.

    >>> share_of_proof(clamp=15921.0, proof_load=21233.8)
    0.7498
    """
    return clamp / proof_load


def least_clamp(clamp: Force, scatter: Ratio) -> Force:
    """Clamping force that may be all there is, where it strays by this share at one torque.

    Source: [Shigley] table 8-14; the share is the shop's to choose.

    >>> least_clamp(clamp=34.18, scatter=0.17)
    28.37
    """
    return clamp * (1 - scatter)


def greatest_clamp(clamp: Force, scatter: Ratio) -> Force:
    """Clamping force that may be reached, where it strays by this share at one torque.

    Source: [Shigley] table 8-14; the share is the shop's to choose.

    >>> greatest_clamp(clamp=34.18, scatter=0.17)
    39.99
    """
    return clamp * (1 + scatter)


def torque_of_step(torque: Torque, step: Count, steps: Count) -> Torque:
    """Torque of one round of a tightening sequence that reaches the whole in equal steps.

    Source: common practice, no source.

    >>> torque_of_step(torque=90.0, step=2, steps=3)
    60.0
    """
    return torque * step / steps


def hole_shear_area_per_length(
    smallest_major: Length, largest_effective: Length, pitch: Length
) -> Length:
    """Shear area of the thread in the hole for each unit of engagement, at least metal; for forms
    of 60 degrees.

    smallest_major: of the bolt; largest_effective: of the hole (mm); an area over a length is a
    length.

    Source: [FED-STD-H28] part 2B table II.B.1, formula 2a.

    >>> hole_shear_area_per_length(smallest_major=0.4876, largest_effective=0.4565, pitch=1 / 13)
    1.1235
    """
    return (
        PI
        * smallest_major
        / pitch
        * (pitch / 2 + (smallest_major - largest_effective) / ROOT_THREE)
    )


def bolt_shear_area_per_length(
    largest_minor: Length, smallest_effective: Length, pitch: Length
) -> Length:
    """Shear area of the bolt's thread for each unit of engagement, at least metal; for forms of 60
    degrees.

    largest_minor: of the hole; smallest_effective: of the bolt (mm); an area over a length is a
    length.

    Source: [FED-STD-H28] part 2B table II.B.1, formula 4a.

    >>> bolt_shear_area_per_length(largest_minor=0.434, smallest_effective=0.4435, pitch=1 / 13)
    0.7789
    """
    return (
        PI * largest_minor / pitch * (pitch / 2 + (smallest_effective - largest_minor) / ROOT_THREE)
    )


def engagement_for_bolt_thread(stress_area: Area, bolt_shear_area_per_length: Length) -> Length:
    """Engagement at which the bolt breaks before its own thread strips; shear strength taken as
    half the tensile.

    Source: [FED-STD-H28] part 2B table II.B.1, formula 14.

    >>> engagement_for_bolt_thread(stress_area=0.1419, bolt_shear_area_per_length=0.7789)
    0.3644
    """
    return 2 * stress_area / bolt_shear_area_per_length


def engagement_for_hole_thread(
    stress_area: Area, hole_shear_area_per_length: Length, strength_ratio: Ratio
) -> Length:
    """Engagement at which the bolt breaks before the thread in the hole strips, from tensile
    strengths alone.

    strength_ratio: tensile strength of the block over that of the bolt.

    Source: [FED-STD-H28] part 2B table II.B.1, formula 16.

    >>> engagement_for_hole_thread(
    ...     stress_area=0.1419, hole_shear_area_per_length=1.1235, strength_ratio=26 / 120,
    ... )
    1.1659
    """
    return 2 * stress_area / hole_shear_area_per_length / strength_ratio


def engagement_by_strength(
    stress_area: Area,
    hole_shear_area_per_length: Length,
    tensile_strength: Stress,
    shear_strength: Stress,
) -> Length:
    """Engagement at which the bolt breaks before the thread in the hole strips, by the block's own
    shear strength.

    tensile_strength: of the bolt; shear_strength: of the block, for grey iron above half its
    tensile strength.

    Source: as engagement_for_hole_thread

    >>> engagement_by_strength(
    ...     stress_area=0.058, hole_shear_area_per_length=0.6632, tensile_strength=120,
    ...     shear_strength=32
    ... )
    0.328
    """
    return stress_area * tensile_strength / (hole_shear_area_per_length * shear_strength)


def stripping_load(
    shear_area_per_length: Length, engaged_length: Length, shear_strength: Stress
) -> Force:
    """Force that strips a thread over its engaged length.

    Source: [FED-STD-H28] part 2B table II.B.1: shear area times shear strength.

    >>> stripping_load(shear_area_per_length=0.6632, engaged_length=0.328, shear_strength=32)
    6.96
    """
    return shear_area_per_length * engaged_length * shear_strength


def stripping_margin(stripping_load: Force, clamp: Force) -> Ratio:
    """How many times the clamping force the thread in the block could take.

    Source: common practice, no source.

    >>> stripping_margin(stripping_load=6.96, clamp=3.48)
    2.0
    """
    return stripping_load / clamp
