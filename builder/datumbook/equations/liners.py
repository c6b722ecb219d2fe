"""Liners, the dry ones pressed into the block: the hole, the pressure, both hoop stresses, what
moves, and how to get them in.

The block round a liner is taken for a ring no thicker than its least wall, and the formulas are
Lamé's for two thick rings of two materials. Interferences are on the diameter, as they are
measured. Two figures of stress at the hole are in use and are named apart here: the plain hoop
stress, and hoop stress + Poisson's ratio x pressure.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    at_least,
    decided,
    empirical,
    equal,
    largest,
    mean,
    numbers_in,
    only_where,
    smallest,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Expansion, Length, Ratio, Stress, Temperature, Words

YES = "yes"


def hole_for_liner(outside_diameter: Length, interference_wanted: Length) -> Length:
    """Size to bore the block to for a measured liner.

    outside_diameter: of the liner (mm); interference_wanted: on the diameter (mm).

    Source: geometry.

    >>> hole_for_liner(outside_diameter=86.060, interference_wanted=0.050)
    86.010
    """
    return outside_diameter - interference_wanted


@takes_blanks
def suggested_bore(liner: Words, standard: Length, next_oversize: Length) -> Length:
    """Finish bore suggested for one cylinder: the standard size in a new liner, else the next
    oversize.

    liner: "yes" where the cylinder gets one; standard, next_oversize: (mm), the latter blank where
    none cleans.

    Source: common practice, no source.

    >>> suggested_bore(liner="yes", standard=82.000, next_oversize=82.500)
    82.000
    """
    return where(
        equal(liner, YES),
        standard,
        only_where(at_least(numbers_in(next_oversize), 1), next_oversize),
    )


@decided
@takes_blanks
def bore_in_block(liner: Words, hole: Length, finish_bore: Length) -> Length:
    """What the block itself is bored to: the hole for the liner where one goes in, else the finish
    bore.

    liner: "yes" where the cylinder gets one; hole, finish_bore: (mm).

    Source: none needed.

    >>> bore_in_block(liner="yes", hole=86.010, finish_bore=82.000)
    86.010
    """
    planned = only_where(at_least(numbers_in(finish_bore), 1), finish_bore)
    return where(equal(liner, YES), only_where(at_least(numbers_in(hole), 1), hole), planned)


def wall_needed(liner: Words, parent_wall: Length, wall: Length) -> Length:
    """Wall of the block a cylinder must keep: less behind a liner than round a bare bore.

    liner: "yes" where the cylinder gets one; parent_wall, wall: the two limits (mm).

    Source: none needed.

    >>> wall_needed(liner="yes", parent_wall=2.3, wall=3.8)
    2.3
    """
    return where(equal(liner, YES), parent_wall, wall)


def wall_counted(limit: Length, *spares: Length) -> Length:
    """The worst of several walls that have limits of their own, counted against one of them.

    limit: the one (mm); spares: what each wall has above its own limit (mm).

    Source: geometry.

    >>> wall_counted(3.8, 0.9, 0.4, 1.2)
    4.2
    """
    return limit + smallest(*spares)


def parent_wall(wall: Length, bore: Length, hole: Length) -> Length:
    """Wall of the block left behind a liner whose hole is bored about the old axis.

    wall: least wall now (mm); bore: bore that wall was measured at (mm); hole: hole for the liner
    (mm).

    Source: geometry.

    >>> parent_wall(wall=5.50, bore=82.00, hole=86.00)
    3.50
    """
    return wall - (hole - bore) / 2


def liner_land(bore_pitch: Length, front_outside: Length, rear_outside: Length) -> Length:
    """Metal left between two neighbouring liners; at zero they touch, below zero they cut into each
    other.

    bore_pitch: distance of the two centres (mm); front_outside, rear_outside: outside diameters of
    the liners (mm).

    Source: geometry.

    >>> liner_land(bore_pitch=92.00, front_outside=86.00, rear_outside=86.00)
    6.00
    """
    return bore_pitch - (front_outside + rear_outside) / 2


def parent_ring(hole: Length, parent_wall: Length) -> Length:
    """Outside diameter of the ring that the block round a liner is taken for.

    hole: hole for the liner (mm); parent_wall: least wall of the block behind it (mm).

    Source: geometry.

    >>> parent_ring(hole=86.0, parent_wall=9.0)
    104.0
    """
    return hole + 2 * parent_wall


def parent_hoop_factor(parent_ring: Length, outside_diameter: Length) -> Ratio:
    """Hoop stress at the hole of the block for each unit of pressure in it.

    parent_ring: outside diameter of the block as a ring (mm); outside_diameter: of the liner (mm).

    Source: Shigley eq. 3-56, its first bracket.

    >>> parent_hoop_factor(parent_ring=104.0, outside_diameter=86.0)
    5.325
    """
    return (parent_ring**2 + outside_diameter**2) / (parent_ring**2 - outside_diameter**2)


def liner_hoop_factor(outside_diameter: Length, liner_bore: Length) -> Ratio:
    """Hoop compression at the outside of the liner for each unit of pressure on it.

    outside_diameter, liner_bore: of the liner as it is pressed in (mm).

    Source: Shigley eq. 3-56, its second bracket.

    >>> liner_hoop_factor(outside_diameter=86.0, liner_bore=80.0)
    13.851
    """
    return (outside_diameter**2 + liner_bore**2) / (outside_diameter**2 - liner_bore**2)


def contact_pressure(
    liner_interference: Length,
    outside_diameter: Length,
    parent_hoop_factor: Ratio,
    liner_hoop_factor: Ratio,
    parent_modulus: Stress,
    parent_poisson: Ratio,
    liner_modulus: Stress,
    liner_poisson: Ratio,
) -> Stress:
    """Pressure between a liner and the block, each of its own material.

    liner_interference: on the diameter (mm); outside_diameter: of the liner (mm); the two hoop
    factors as above; moduli of elasticity (MPa) and Poisson's ratios of block and liner. Below zero
    the liner is loose.

    Source: Shigley eq. 3-56, with diameters for radii on both sides.

    >>> contact_pressure(
    ...     liner_interference=0.075, outside_diameter=86.0, parent_hoop_factor=5.325147,
    ...     liner_hoop_factor=13.851406,
    ...     parent_modulus=110e3, parent_poisson=0.26, liner_modulus=110e3, liner_poisson=0.26,
    ... )
    5.0025
    """
    parent = (parent_hoop_factor + parent_poisson) / parent_modulus
    liner = (liner_hoop_factor - liner_poisson) / liner_modulus
    return liner_interference / outside_diameter / (parent + liner)


def contact_pressure_one_material(
    liner_interference: Length,
    outside_diameter: Length,
    parent_ring: Length,
    liner_bore: Length,
    modulus: Stress,
) -> Stress:
    """Pressure between a liner and a block of one and the same material; Poisson's ratio drops out.

    liner_interference: on the diameter (mm); outside_diameter, liner_bore: of the liner (mm);
    parent_ring: outside diameter of the block as a ring (mm); modulus: of elasticity (MPa).

    Source: Shigley eq. 3-57, with diameters for radii.

    >>> contact_pressure_one_material(
    ...     liner_interference=0.075, outside_diameter=86.0, parent_ring=104.0, liner_bore=80.0,
    ...     modulus=110e3
    ... )
    5.0025
    """
    rings = (
        (parent_ring**2 - outside_diameter**2)
        * (outside_diameter**2 - liner_bore**2)
        / (parent_ring**2 - liner_bore**2)
    )
    return modulus * liner_interference * rings / (2 * outside_diameter**3)


def parent_hoop_stress(contact_pressure: Stress, parent_hoop_factor: Ratio) -> Stress:
    """Plain hoop stress in the block at the hole, where it is greatest; above zero is tension.

    contact_pressure: between liner and block (MPa); parent_hoop_factor: as above.

    Source: Shigley eq. 3-56, from the same rings.

    >>> parent_hoop_stress(contact_pressure=5.0025, parent_hoop_factor=5.325147)
    26.64
    """
    return contact_pressure * parent_hoop_factor


def parent_strain_stress(
    contact_pressure: Stress, parent_hoop_factor: Ratio, parent_poisson: Ratio
) -> Stress:
    """Hoop stress + Poisson's ratio x pressure at the hole of the block: the pull that gives the
    same greatest strain.

    Handbook tables of shrink fits on steel use this figure, which is larger than the plain hoop
    stress: name which one a limit is for. contact_pressure: (MPa); parent_hoop_factor: as above;
    parent_poisson: of the block.

    Source: Machinery's Handbook p. 644, the factor C of steel hubs, derived.

    >>> parent_strain_stress(contact_pressure=57.95, parent_hoop_factor=2.6, parent_poisson=1 / 3)
    169.99
    """
    return contact_pressure * (parent_hoop_factor + parent_poisson)


def liner_hoop_stress(contact_pressure: Stress, liner_hoop_factor: Ratio) -> Stress:
    """Plain hoop stress in the liner at its bore, where it is greatest; below zero is compression.

    contact_pressure: between liner and block (MPa); liner_hoop_factor: as above.

    Source: Shigley eq. 3-56, from the same rings.

    >>> liner_hoop_stress(contact_pressure=5.0025, liner_hoop_factor=13.851406)
    -74.29
    """
    return -contact_pressure * (1 + liner_hoop_factor)


def bore_closing(
    contact_pressure: Stress, liner_hoop_factor: Ratio, liner_bore: Length, liner_modulus: Stress
) -> Length:
    """How much smaller the liner's bore is on the diameter once it is pressed in: the stock it
    needs for finishing.

    contact_pressure: (MPa); liner_hoop_factor: as above; liner_bore: before pressing (mm);
    liner_modulus: (MPa).

    Source: Shigley eq. 3-56, from the same rings.

    >>> bore_closing(
    ...     contact_pressure=5.0025, liner_hoop_factor=13.851406, liner_bore=80.0,
    ...     liner_modulus=110e3,
    ... )
    0.0540
    """
    return contact_pressure * (1 + liner_hoop_factor) * liner_bore / liner_modulus


def bore_after_pressing(liner_bore: Length, bore_closing: Length) -> Length:
    """Bore of the liner once it is pressed in.

    liner_bore: before pressing (mm); bore_closing: on the diameter (mm).

    Source: geometry.

    >>> bore_after_pressing(liner_bore=80.000, bore_closing=0.054)
    79.946
    """
    return liner_bore - bore_closing


def liner_shrinkage(
    contact_pressure: Stress,
    outside_diameter: Length,
    liner_hoop_factor: Ratio,
    liner_modulus: Stress,
    liner_poisson: Ratio,
) -> Length:
    """How much smaller the outside of the liner is on the diameter once it is pressed in.

    contact_pressure: (MPa); outside_diameter: of the liner (mm); liner_hoop_factor, liner_modulus
    (MPa), liner_poisson: as above.

    Source: Shigley eq. 3-56, the liner's part of it.

    >>> liner_shrinkage(
    ...     contact_pressure=5.0025, outside_diameter=86.0, liner_hoop_factor=13.851406,
    ...     liner_modulus=110e3, liner_poisson=0.26
    ... )
    0.0532
    """
    return contact_pressure * outside_diameter * (liner_hoop_factor - liner_poisson) / liner_modulus


def parent_growth(
    contact_pressure: Stress,
    outside_diameter: Length,
    parent_hoop_factor: Ratio,
    parent_modulus: Stress,
    parent_poisson: Ratio,
) -> Length:
    """How much larger the hole of the block is on the diameter once the liner is in.

    With the liner's shrinkage it makes up the whole interference. contact_pressure: (MPa);
    outside_diameter: of the liner (mm); parent_hoop_factor, parent_modulus (MPa), parent_poisson:
    as above.

    Source: Shigley eq. 3-56, the block's part of it.

    >>> parent_growth(
    ...     contact_pressure=5.0025,
    ...     outside_diameter=86.0,
    ...     parent_hoop_factor=5.325147,
    ...     parent_modulus=110e3,
    ...     parent_poisson=0.26,
    ... )
    0.0218
    """
    return (
        contact_pressure * outside_diameter * (parent_hoop_factor + parent_poisson) / parent_modulus
    )


@empirical(gives="degC", expansion="1/degC", temperature="degC")
def heating_temperature(
    liner_interference: Length,
    assembly_clearance: Length,
    hole: Length,
    expansion: Expansion,
    temperature: Temperature,
) -> Temperature:
    """Temperature to warm the block to, for a liner left cold to drop in with some room.

    liner_interference, assembly_clearance: on the diameter (mm); hole: in the block (mm);
    expansion: of the block (1/degC); temperature: at which liner and hole were measured, and the
    liner stays (degC).

    Source: geometry, a hole grows like the metal round it: L x a x (T - Tref).

    >>> heating_temperature(
    ...     liner_interference=0.075, assembly_clearance=0.05, hole=86.0, expansion=10.8e-6,
    ...     temperature=20.0,
    ... )
    154.6
    """
    return temperature + (liner_interference + assembly_clearance) / hole / expansion


@empirical(gives="degC", expansion="1/degC", temperature="degC")
def chilling_temperature(
    liner_interference: Length,
    assembly_clearance: Length,
    outside_diameter: Length,
    expansion: Expansion,
    temperature: Temperature,
) -> Temperature:
    """Temperature to chill a liner to, for it to drop with some room into a block left at the
    shop's temperature.

    liner_interference, assembly_clearance: on the diameter (mm); outside_diameter: of the liner
    (mm); expansion: of the liner (1/degC), which falls in the cold, so chill a little further;
    temperature: of the block (degC).

    Source: geometry, a liner shrinks as L x a x (T - Tref).

    >>> chilling_temperature(
    ...     liner_interference=0.05, assembly_clearance=0.02, outside_diameter=86.0,
    ...     expansion=10.8e-6, temperature=20.0
    ... )
    -55.4
    """
    return temperature - (liner_interference + assembly_clearance) / outside_diameter / expansion


def ledge_spread(*ledge_depths: Length) -> Length:
    """How far the ledge for a liner's flange is from level: the deepest reading round it less the
    shallowest.

    ledge_depths: depths of the ledge below the deck (mm).

    Source: geometry.

    >>> ledge_spread(8.012, 8.020, 8.015, 8.010)
    0.010
    """
    return largest(*ledge_depths) - smallest(*ledge_depths)


def ledge_depth(*ledge_depths: Length) -> Length:
    """Depth at which a flange sits, or how far a liner stands out: the mean of the readings round
    it.

    ledge_depths: (mm).

    Source: common practice, no source.

    >>> ledge_depth(8.012, 8.020, 8.015, 8.013)
    8.015
    """
    return mean(*ledge_depths)


def stand_out_after(stand_out: Length, deck_cut: Length) -> Length:
    """How far a liner stands out once the deck is cut and its ledge is not: further by the whole
    cut.

    stand_out, deck_cut: (mm).

    Source: geometry.

    >>> stand_out_after(stand_out=0.100, deck_cut=0.150)
    0.250
    """
    return stand_out + deck_cut


def ledge_cup(depth_at_edge: Length, depth_near_wall: Length) -> Length:
    """How much deeper the ledge for a liner's flange lies at its outer edge than near the wall of
    the bore.

    depth_at_edge, depth_near_wall: below the deck, at one place of the round (mm). Above zero the
    flange is held at its inner edge and may be broken off.

    Source: geometry.

    >>> ledge_cup(depth_at_edge=8.020, depth_near_wall=8.012)
    0.008
    """
    return depth_at_edge - depth_near_wall


def stand_out_spread(*stand_outs: Length) -> Length:
    """How unlike the liners under one head stand out of the deck: the proudest less the least
    proud.

    stand_outs: above the deck (mm).

    Source: geometry.

    >>> stand_out_spread(0.090, 0.105, 0.100, 0.095)
    0.015
    """
    return largest(*stand_outs) - smallest(*stand_outs)
