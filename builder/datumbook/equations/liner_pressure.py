"""Liner pressure: what a dry liner presses on the block round it, both hoop stresses, and what
moves.

The block round a liner is taken for a ring no thicker than its least wall, and the formulas are
Lamé's for two thick rings of two materials. Interferences are on the diameter, as they are
measured. Two figures of stress at the hole are in use and are named apart here: the plain hoop
stress, and hoop stress + Poisson's ratio x pressure.
"""

from __future__ import annotations

from datumbook.formulas.kinds import Length, Ratio, Stress


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
