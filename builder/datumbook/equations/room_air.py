"""Room air: what the gas of a chill does to the air of a room, how much of it a room bears, and
what boils away for a liner.
"""

from __future__ import annotations

from datumbook.equations.heat_and_cold import DROPS_IN, FREEZER, NITROGEN
from datumbook.equations.verdicts import NOTHING_ASKED
from datumbook.formulas.functions import (
    PI,
    any_of,
    at_least,
    at_most,
    blank,
    empirical,
    equal,
    missing,
    more_than,
    numbers_in,
    only_where,
    rounded,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import (
    Expansion,
    Length,
    Measure,
    Ratio,
    Share,
    Temperature,
    Volume,
    Words,
)

BORNE, NOT_BORNE, BOILS_UNKNOWN = "borne in still air", "TOO MUCH IN STILL AIR", "NOT KNOWN"


def gas_that_thins_oxygen(room: Volume, oxygen: Ratio, least_oxygen: Ratio) -> Volume:
    """Gas that, let into an unventilated room, brings its oxygen down to the least one may work in.

    room: (mm3); oxygen: share of it in air; least_oxygen: the limit.

    Source: geometry, the gas takes the place of as much air.

    >>> gas_that_thins_oxygen(room=30e9, oxygen=0.209, least_oxygen=0.195)
    2.01e9
    """
    return room * (oxygen - least_oxygen) / oxygen


def nitrogen_that_thins_oxygen(
    room: Volume, oxygen: Ratio, least_oxygen: Ratio, liquid_to_gas: Ratio
) -> Volume:
    """Liquid nitrogen that, boiled away in an unventilated room, brings its oxygen down to the
    least one may work in.

    room: (mm3); oxygen: share of it in air; least_oxygen: the limit; liquid_to_gas: how many times
    the liquid's volume the gas takes.

    Source: geometry; USDA's page on cryogens, 694 for nitrogen at 20 degC.

    >>> nitrogen_that_thins_oxygen(room=30e9, oxygen=0.209, least_oxygen=0.195, liquid_to_gas=694)
    2.90e6
    """
    return gas_that_thins_oxygen(room, oxygen, least_oxygen) / liquid_to_gas


@empirical(gives="L", nitrogen_that_thins_oxygen="L", share="")
def nitrogen_borne(nitrogen_that_thins_oxygen: Volume, share: Share) -> Volume:
    """Liquid nitrogen that a room bears in still air: no more than a share of what brings its
    oxygen to the limit, for the gas is cold and lies at the floor; rounded down to 0.1 L.

    nitrogen_that_thins_oxygen: (mm3); share: that is let in.

    Source: common practice, no source.

    >>> nitrogen_borne(nitrogen_that_thins_oxygen=2.90e6, share=0.5)
    1.4e6
    """
    return rounded(share * nitrogen_that_thins_oxygen - 0.05, "", 1)


def dry_ice_borne(dry_ice_kilograms: Ratio, share: Share) -> Ratio:
    """Dry ice, in kilograms, that a room bears in still air, as nitrogen_borne; rounded down to
    0.01 kg.

    dry_ice_kilograms: that bring it to the limit; share: that is let in.

    Source: common practice, no source.

    >>> dry_ice_borne(dry_ice_kilograms=0.251, share=0.5)
    0.12
    """
    return rounded(share * dry_ice_kilograms - 0.005, "", 2)


def nitrogen_boiled_off(
    outside_diameter: Length, liner_bore: Length, liner_length: Length, nitrogen_to_iron: Ratio
) -> Volume:
    """Liquid nitrogen that boils away while a liner is chilled in it.

    outside_diameter, liner_bore, liner_length: (mm); nitrogen_to_iron: how many times the metal's
    own volume boils away, the vessel's share with it.

    Source: geometry, a ring.

    >>> nitrogen_boiled_off(
    ...     outside_diameter=114.3, liner_bore=108.0, liner_length=200.0, nitrogen_to_iron=7.6
    ... )
    1.67e6
    """
    return PI / 4 * (outside_diameter**2 - liner_bore**2) * liner_length * nitrogen_to_iron


@takes_blanks
def nitrogen_for_one(
    chilled_by: Words,
    outside_diameter: Length,
    liner_bore: Length,
    liner_length: Length,
    nitrogen_to_iron: Ratio,
) -> Volume:
    """Liquid nitrogen that boils away for one liner of several: as nitrogen_boiled_off, none where
    it is not chilled by nitrogen; blank while its sizes are not read.

    chilled_by: the means; the rest as of nitrogen_boiled_off.

    Source: as nitrogen_boiled_off.

    >>> nitrogen_for_one("dry ice", 114.3, 108.0, 200.0, 7.6)
    0.0
    """
    read = at_least(numbers_in(outside_diameter, liner_bore, liner_length), 3)
    boiled = nitrogen_boiled_off(outside_diameter, liner_bore, liner_length, nitrogen_to_iron)
    return where(equal(chilled_by, NITROGEN), only_where(read, boiled), 0.0)


def nitrogen_all_told(*nitrogen_for_one: Volume) -> Volume:
    """Liquid nitrogen that boils away for all liners of a block.

    nitrogen_for_one: (mm3).

    Source: count.

    >>> nitrogen_all_told(1.67e6, 0.0)
    1.67e6
    """
    return total(*nitrogen_for_one)


@takes_blanks
def air_of_the_room(nitrogen_all_told: Volume, nitrogen_borne: Volume) -> Words:
    """Whether a room bears what boils away in it while liners are chilled; blank where nothing
    does, not known while bore and length of a liner are not read.

    nitrogen_all_told, nitrogen_borne: (mm3).

    Source: as nitrogen_borne.

    >>> air_of_the_room(nitrogen_all_told=1.67e6, nitrogen_borne=1.4e6)
    'TOO MUCH IN STILL AIR'
    """
    return _borne(nitrogen_all_told, nitrogen_borne)


def _borne(all_told: Measure, borne: Measure) -> Words:
    """Whether what boils off of a gas is no more than a room bears."""
    said = where(at_most(all_told, borne), BORNE, NOT_BORNE)
    some = where(more_than(all_told, 0), said, NOTHING_ASKED)
    return where(any_of(missing(all_told), missing(borne)), BOILS_UNKNOWN, some)


def dry_ice_boiled_off(
    outside_diameter: Length,
    liner_bore: Length,
    liner_length: Length,
    temperature: Temperature,
    reached: Temperature,
    iron_of_a_kilogram: Volume,
    dry_ice_for_a_degree: Expansion,
) -> Ratio:
    """Dry ice, in kilograms, that boils away while a liner is chilled to its temperature.

    outside_diameter, liner_bore, liner_length: (mm); temperature: of the shop (degC); reached: of
    dry ice (degC); iron_of_a_kilogram: (mm3); dry_ice_for_a_degree: that boils away, as a share of
    the iron's weight, while that cools by a degree, the box's share with it (1/degC): the heat a
    kilogram of iron gives off over what a kilogram of dry ice takes up.

    Source: geometry, a ring, and the balance of heat.

    >>> dry_ice_boiled_off(
    ...     outside_diameter=114.3, liner_bore=108.0, liner_length=200.0, temperature=20.0,
    ...     reached=-78.5, iron_of_a_kilogram=138.9e3, dry_ice_for_a_degree=1.61e-3,
    ... )
    0.251
    """
    ring = PI / 4 * (outside_diameter**2 - liner_bore**2) * liner_length
    return ring / iron_of_a_kilogram * dry_ice_for_a_degree * (temperature - reached)


@takes_blanks
def dry_ice_for_one(
    chilled_by: Words,
    outside_diameter: Length,
    liner_bore: Length,
    liner_length: Length,
    temperature: Temperature,
    reached: Temperature,
    iron_of_a_kilogram: Volume,
    dry_ice_for_a_degree: Expansion,
) -> Ratio:
    """Dry ice, in kilograms, that boils away for one liner of several, by itself or with the block
    warmed besides: as dry_ice_boiled_off, none where a freezer or no cold at all does it; blank
    while its sizes are not read.

    chilled_by: the means of cold alone; the rest as of dry_ice_boiled_off.

    Source: as dry_ice_boiled_off.

    >>> dry_ice_for_one("freezer", 114.3, 108.0, 200.0, 20.0, -78.5, 138.9e3, 1.61e-3)
    0.0
    """
    sizes = outside_diameter, liner_bore, liner_length
    boiled = dry_ice_boiled_off(
        *sizes, temperature, reached, iron_of_a_kilogram, dry_ice_for_a_degree
    )
    none = any_of(blank(chilled_by), *(equal(chilled_by, one) for one in (FREEZER, DROPS_IN)))
    return where(none, 0.0, only_where(at_least(numbers_in(*sizes), 3), boiled))


def dry_ice_all_told(*dry_ice_for_one: Ratio) -> Ratio:
    """Dry ice, in kilograms, that boils away for all liners of a block.

    Source: count.

    >>> dry_ice_all_told(0.25, 0.25)
    0.5
    """
    return total(*dry_ice_for_one)


@takes_blanks
def air_with_dry_ice(dry_ice_all_told: Ratio, dry_ice_borne: Ratio) -> Words:
    """Whether a room bears the dry ice that boils away in it while liners are chilled, as
    air_of_the_room.

    dry_ice_all_told, dry_ice_borne: in kilograms.

    Source: as dry_ice_borne.

    >>> air_with_dry_ice(dry_ice_all_told=0.25, dry_ice_borne=0.12)
    'TOO MUCH IN STILL AIR'
    """
    return _borne(dry_ice_all_told, dry_ice_borne)


def dry_ice_kilograms(
    room: Volume, most_carbon_dioxide: Ratio, carbon_dioxide: Ratio, gas_of_a_kilogram: Volume
) -> Ratio:
    """Dry ice, in kilograms, whose gas fills an unventilated room up to the limit of carbon
    dioxide.

    room: (mm3); most_carbon_dioxide: the limit, a share; carbon_dioxide: the share that the air
    holds before; gas_of_a_kilogram: of dry ice, at the room's temperature (mm3).

    Source: geometry.

    >>> dry_ice_kilograms(
    ...     room=30e9, most_carbon_dioxide=0.005, carbon_dioxide=0.00042, gas_of_a_kilogram=0.547e9
    ... )
    0.251
    """
    return room * (most_carbon_dioxide - carbon_dioxide) / gas_of_a_kilogram
