"""Room air: what the gas of a chill does to the air of a room, how much of it a room bears, and
what boils away for a liner.
"""

from __future__ import annotations

from datumbook.equations.heat_and_cold import NITROGEN
from datumbook.equations.verdicts import NOTHING_ASKED
from datumbook.formulas.functions import (
    PI,
    any_of,
    at_least,
    at_most,
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
from datumbook.formulas.kinds import Length, Ratio, Share, Volume, Words

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
    said = where(at_most(nitrogen_all_told, nitrogen_borne), BORNE, NOT_BORNE)
    some = where(more_than(nitrogen_all_told, 0), said, NOTHING_ASKED)
    return where(any_of(missing(nitrogen_all_told), missing(nitrogen_borne)), BOILS_UNKNOWN, some)


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
