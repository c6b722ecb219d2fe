"""Tightening: friction of thread and head apart, turn and stretch, and the strength of what is
tightened.
"""

from __future__ import annotations

from datumbook.formulas.functions import PI, largest, smallest, square_root, taken_as
from datumbook.formulas.kinds import Angle, Area, Force, Length, Ratio, Stiffness, Stress, Torque

COSINE_OF_THIRTY = square_root(3) / 2


def friction_diameter(head_face: Length, hole: Length) -> Length:
    """Mean diameter on which the face that turns, of head or nut, rubs.

    head_face: outer diameter of that face; hole: diameter of the hole under it (mm).

    Source: [VDI 2230], DKm = (dW + Dki) / 2.

    >>> friction_diameter(head_face=22.5, hole=17.5)
    20.0
    """
    return (head_face + hole) / 2


def friction_lever(
    pitch: Length,
    effective: Length,
    friction_diameter: Length,
    thread_friction: Ratio,
    head_friction: Ratio,
) -> Length:
    """Arm at which the clamp resists the torque: what the pitch, the thread and the face under the
    head each take; for threads of 60 degrees.

    effective: basic pitch diameter (mm); thread_friction, head_friction: coefficients of friction.

    Source: [VDI 2230] and Motosh alike: T = F (P / 2 pi + mu_t d2 / (2 cos 30) + mu_h DKm / 2).

    >>> friction_lever(
    ...     pitch=1.5, effective=15.0257, friction_diameter=20.0, thread_friction=0.12,
    ...     head_friction=0.12,
    ... )
    2.4797
    """
    thread = thread_friction * effective / (2 * COSINE_OF_THIRTY)
    return pitch / (2 * PI) + thread + head_friction * friction_diameter / 2


def torque_by_friction(
    clamp: Force,
    pitch: Length,
    effective: Length,
    friction_diameter: Length,
    thread_friction: Ratio,
    head_friction: Ratio,
) -> Torque:
    """Torque that a fastener needs to clamp with a force, friction of thread and head apart.

    clamp: force wanted (N); the others as friction_lever.

    Source: as friction_lever

    >>> torque_by_friction(
    ...     clamp=128750.0, pitch=1.5, effective=15.0257, friction_diameter=20.0,
    ...     thread_friction=0.12, head_friction=0.12,
    ... )
    319267.0
    """
    return clamp * friction_lever(
        pitch, effective, friction_diameter, thread_friction, head_friction
    )


def nut_factor_by_friction(
    pitch: Length,
    effective: Length,
    friction_diameter: Length,
    thread_friction: Ratio,
    head_friction: Ratio,
    diameter: Length,
) -> Ratio:
    """Nut factor K that the friction of thread and head amounts to.

    diameter: major diameter (mm); the others as friction_lever.

    Source: [VDI 2230] beside [Shigley] eq. 8-27: the lever over the diameter.

    >>> nut_factor_by_friction(
    ...     pitch=1.5, effective=15.0257, friction_diameter=20.0, thread_friction=0.12,
    ...     head_friction=0.12, diameter=16.0,
    ... )
    0.15498
    """
    return (
        friction_lever(pitch, effective, friction_diameter, thread_friction, head_friction)
        / diameter
    )


def clamp_at_yield_share(
    share: Ratio,
    yield_strength: Stress,
    area: Area,
    pitch: Length,
    effective: Length,
    thread_friction: Ratio,
) -> Force:
    """Clamp at which pull and twist together reach a share of the yield strength while a fastener
    is tightened by torque.

    share: 0.9 in the tables of VDI 2230; yield_strength (MPa); area: tensile stress area (mm²), of
    a waisted bolt that of its shank; pitch, effective: of the thread (mm); thread_friction:
    coefficient of friction.

    Source: [VDI 2230] 5.5.1, the assembly preload of table A1, with 1.155 = 1 / cos 30.

    >>> clamp_at_yield_share(
    ...     share=0.9, yield_strength=940.0, area=167.25, pitch=1.5, effective=15.0257,
    ...     thread_friction=0.12,
    ... )
    128755.5
    """
    across = square_root(4 * area / PI)
    slope = pitch / (PI * effective) + thread_friction / COSINE_OF_THIRTY
    twist = 3 / 2 * effective / across * slope
    return share * yield_strength * area / square_root(1 + 3 * twist**2)


def round_area(diameter: Length) -> Area:
    """Area of a round shank.

    Source: geometry.

    >>> round_area(diameter=12.0)
    113.1
    """
    return PI / 4 * diameter**2


def bolt_stiffness(
    shank_length: Length, shank_area: Area, thread_length: Length, area: Area, modulus: Stress
) -> Stiffness:
    """Force for each unit of stretch of a fastener, shank and thread apart.

    shank_length, thread_length: what stretches of each, from the middle of one nut or thread
    engaged to the other's (mm); shank_area, area: of the shank, and the stress area (mm²); modulus:
    of elasticity (MPa).

    Source: [Shigley] eq. 8-17; [NAVEDTRA 14119] has stretch = F L / (A E).

    >>> bolt_stiffness(
    ...     shank_length=0.0, shank_area=1.0, thread_length=5.0, area=0.1419, modulus=30e6
    ... )
    851400.0
    """
    return modulus / (shank_length / shank_area + thread_length / area)


def bolt_stretch(clamp: Force, bolt_stiffness: Stiffness) -> Length:
    """How much longer a fastener gets while it clamps.

    clamp: force (N); bolt_stiffness: as bolt_stiffness gives it (N/mm).

    Source: [NAVEDTRA 14119], stretch = F L / (A E).

    >>> bolt_stretch(clamp=4257.0, bolt_stiffness=851400.0)
    0.0050
    """
    return clamp / bolt_stiffness


def clamp_at_stretch(stretch: Length, bolt_stiffness: Stiffness) -> Force:
    """Clamp of a fastener that was stretched by so much, below its yield.

    Source: as bolt_stretch

    >>> clamp_at_stretch(stretch=0.0050, bolt_stiffness=851400.0)
    4257.0
    """
    return stretch * bolt_stiffness


def joint_stiffness(bolt_stiffness: Stiffness, stiffer: Ratio) -> Stiffness:
    """Force for each unit that the clamped parts give, from how many times stiffer than the
    fastener they are.

    Source: [Shigley] eq. 8-23 gives it; as a multiple of the fastener's common practice, no source.

    >>> joint_stiffness(bolt_stiffness=851400.0, stiffer=4.0)
    3405600.0
    """
    return bolt_stiffness * stiffer


def joint_squeeze(clamp: Force, joint_stiffness: Stiffness) -> Length:
    """How much thinner the clamped parts get.

    Source: as bolt_stretch

    >>> joint_squeeze(clamp=12989.0, joint_stiffness=3405600.0)
    0.0038
    """
    return clamp / joint_stiffness


def angle_of_turn(bolt_stretch: Length, joint_squeeze: Length, pitch: Length) -> Angle:
    """Angle through which nut or bolt turns for what the fastener stretches and the joint gives.

    Source: geometry: a turn advances by one pitch.

    >>> angle_of_turn(bolt_stretch=0.108, joint_squeeze=0.0, pitch=1.5)
    0.4524
    """
    return taken_as(2 * PI * (bolt_stretch + joint_squeeze) / pitch, Angle)


def clamp_after_turn(
    snug_clamp: Force,
    turn: Angle,
    pitch: Length,
    bolt_stiffness: Stiffness,
    joint_stiffness: Stiffness,
) -> Force:
    """Clamp after a turn from snug, below yield: what the advance adds, shared between fastener and
    joint by their stiffness.

    snug_clamp: of the torque before the turn (N); turn: in radians.

    Source: [VDI 2230], two springs in a row; F = turn / (2 pi) P kb kc / (kb + kc).

    >>> clamp_after_turn(
    ...     snug_clamp=4257.0, turn=1.0472, pitch=1 / 13, bolt_stiffness=851400.0,
    ...     joint_stiffness=3405600.0,
    ... )
    12989.3
    """
    advance = taken_as(turn, Ratio) / (2 * PI) * pitch
    return snug_clamp + advance / (1 / bolt_stiffness + 1 / joint_stiffness)


def clamp_to_gain(preload: Force, snug_clamp: Force) -> Force:
    """Clamp that the turn has to add to what the torque before it clamps.

    Source: geometry.

    >>> clamp_to_gain(preload=57315.0, snug_clamp=22222.0)
    35093.0
    """
    return preload - snug_clamp


def weaker_area(area: Area, other_area: Area) -> Area:
    """Area of the weaker of two sections of a fastener, at which it breaks: of the two ends of a
    stud, of the thread and a shank that is waisted.

    area, other_area: stress area of a thread, or the area of a shank.

    Source: [VDI 2230] 5.5.1, for a waisted bolt the section of the shank stands for the stress
    area.

    >>> weaker_area(area=0.1063, other_area=0.1187)
    0.1063
    """
    return smallest(area, other_area)


def thread_on_fastener(length_in_hole: Length, incomplete_end: Ratio, pitch: Length) -> Length:
    """Depth to which the thread of a fastener is full: its length in the hole less the incomplete
    turns at its end.

    Source: [ISO 4753], incomplete thread u of at most 2 P.

    >>> thread_on_fastener(length_in_hole=0.9, incomplete_end=2.0, pitch=1 / 14)
    0.757
    """
    return length_in_hole - incomplete_end * pitch


def incomplete_mouth(*depths: Length) -> Length:
    """Depth of a hole's mouth where no full thread holds: the deepest of relief, countersink and
    the stud's run-out.

    Source: geometry.

    >>> incomplete_mouth(2.4, 1.0, 3.8)
    3.8
    """
    return largest(*depths)


def shear_of_iron(tensile_strength: Stress, shear_ratio: Ratio) -> Stress:
    """Shear strength of grey iron, from its tensile strength.

    shear_ratio: 1.1 for a thread; rupture in torsion of a test bar gives more.

    Source: [VDI 2230], 1.1 for grey iron (from memory).

    >>> shear_of_iron(tensile_strength=26000.0, shear_ratio=1.1)
    28600.0
    """
    return tensile_strength * shear_ratio
