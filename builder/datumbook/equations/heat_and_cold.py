"""Heat and cold: how a size changes with temperature, how cold a liner or how hot a block must be
for the one to drop into the other, and by what that is reached.

Expansion falls in the cold and rises in the heat. It is taken here as two figures, the expansion at
the shop's temperature and the mean from there to a far temperature, between which the mean runs
straight with the temperature; so the change of a size is a quadratic, which is solved. The far
temperature is the bound of the figures and of what a shop can reach: beyond it there is no answer.
The figures are those of a shop at 20 °C; in one at 5 °C they promise 2 % too much, less than tables
differ.
"""

from __future__ import annotations

from datumbook.equations.verdicts import NOTHING_ASKED
from datumbook.formulas.functions import (
    any_of,
    at_least,
    at_most,
    empirical,
    largest,
    missing,
    only_where,
    square_root,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Expansion, Length, Ratio, Share, Temperature, Words

FREEZER, DRY_ICE, NITROGEN = "freezer", "dry ice", "nitrogen"
HOT_WATER, OIL_BATH, OVEN = "hot water", "oil bath", "oven"
DROPS_IN, NO_COLD, NO_HEAT = "none needed", "NOT BY COLD", "NOT BY HEAT"


def thermal_growth(
    size: Length,
    expansion: Expansion,
    far_expansion: Expansion,
    temperature: Temperature,
    far: Temperature,
    reached: Temperature,
) -> Length:
    """How much larger a size is at another temperature; below zero it has shrunk.

    size: at the shop's temperature (mm); expansion: there (1/degC); far_expansion: the mean from
    there to the far temperature (1/degC); temperature, far, reached: of the shop, of that mean, and
    the other temperature, which lies between the two (degC).

    Source: geometry, the mean straight with the temperature: L0 (1 + a t + b t**2), the form in
    which tables print the expansion of iron.

    >>> thermal_growth(
    ...     size=86.0, expansion=10.8e-6, far_expansion=8.5e-6, temperature=20.0, far=-196.0,
    ...     reached=-78.5,
    ... )
    -0.0826
    """
    rise = (expansion - far_expansion) / (temperature - far)
    return size * (expansion + rise * (reached - temperature)) * (reached - temperature)


@empirical(gives="degC", expansion="1/degC", far_expansion="1/degC", temperature="degC", far="degC")
def _temperature_at(
    change: Ratio,
    expansion: Expansion,
    far_expansion: Expansion,
    temperature: Temperature,
    far: Temperature,
) -> Temperature:
    """The temperature at which a size has changed by a share of itself: the root, nearer to the
    shop's temperature, of change = (a + b x) x.
    """
    rise = (expansion - far_expansion) / (temperature - far)
    under = largest(0.0, expansion**2 + 4 * rise * change)
    return temperature + 2 * change / (expansion + square_root(under))


def chilling_temperature(
    liner_interference: Length,
    assembly_clearance: Length,
    outside_diameter: Length,
    expansion: Expansion,
    cold_expansion: Expansion,
    temperature: Temperature,
    coldest: Temperature,
) -> Temperature:
    """Temperature at which a liner drops with some room into a block left at the shop's
    temperature; blank where it lies beyond the coldest there is.

    liner_interference, assembly_clearance: on the diameter (mm); outside_diameter: of the liner
    (mm); expansion: of the liner (1/degC); cold_expansion: its mean down to the coldest (1/degC);
    temperature: at which liner and hole were measured, and the block stays (degC); coldest: that a
    shop can reach (degC).

    Source: geometry, with thermal_growth solved for the temperature.

    >>> chilling_temperature(
    ...     liner_interference=0.075, assembly_clearance=0.05, outside_diameter=86.0,
    ...     expansion=10.8e-6, cold_expansion=8.5e-6, temperature=20.0, coldest=-196.0,
    ... )
    -139.7
    """
    shrink = (liner_interference + assembly_clearance) / outside_diameter
    within = at_most(shrink, cold_expansion * (temperature - coldest))
    return only_where(
        within, _temperature_at(-shrink, expansion, cold_expansion, temperature, coldest)
    )


def heating_temperature(
    liner_interference: Length,
    assembly_clearance: Length,
    hole: Length,
    expansion: Expansion,
    hot_expansion: Expansion,
    temperature: Temperature,
    hottest: Temperature,
) -> Temperature:
    """Temperature of the block at which a liner left at the shop's temperature drops in with some
    room; blank where it lies beyond the hottest that does not hurt the block.

    liner_interference, assembly_clearance: on the diameter (mm); hole: in the block (mm);
    expansion: of the block (1/degC); hot_expansion: its mean up to the hottest (1/degC);
    temperature: at which liner and hole were measured, and the liner stays (degC); hottest: that
    the block may be warmed to (degC).

    Source: geometry, a hole grows like the metal round it; thermal_growth solved for the
    temperature.

    >>> heating_temperature(
    ...     liner_interference=0.075, assembly_clearance=0.05, hole=86.0, expansion=10.8e-6,
    ...     hot_expansion=11.0e-6, temperature=20.0, hottest=200.0,
    ... )
    152.8
    """
    growth = (liner_interference + assembly_clearance) / hole
    within = at_most(growth, hot_expansion * (hottest - temperature))
    return only_where(
        within, _temperature_at(growth, expansion, hot_expansion, temperature, hottest)
    )


def temperature_on_leaving(
    wanted: Temperature, temperature: Temperature, lost: Share, farthest: Temperature
) -> Temperature:
    """Temperature at which a part leaves box or oven, for it to be in its place before it is back
    past the one wanted; the shop's where that is enough, blank beyond the farthest there is.

    wanted: in its place; temperature: of the shop (degC); lost: on the way, of the difference from
    the shop; farthest: that box or oven reaches (degC).

    Source: geometry; a part in air goes back by a share of what it differs from it.

    >>> temperature_on_leaving(wanted=-70.0, temperature=20.0, lost=0.10, farthest=-196.0)
    -80.0
    """
    way = (wanted - temperature) / (farthest - temperature) / (1 - lost)
    leaving = where(at_most(way, 0), temperature, _away_from(temperature, wanted, 1 / (1 - lost)))
    return only_where(at_most(way, 1), leaving)


@empirical(gives="degC", temperature="degC", other="degC", share="")
def _away_from(temperature: Temperature, other: Temperature, share: Ratio) -> Temperature:
    """The temperature that lies so many times as far away as another."""
    return temperature + (other - temperature) * share


def temperature_in_place(
    reached: Temperature, temperature: Temperature, lost: Share
) -> Temperature:
    """Temperature a part still has in its place: what box or oven gave it, less what is lost on the
    way.

    reached: in box or oven; temperature: of the shop (degC); lost: on the way, of the difference.

    Source: geometry, as temperature_on_leaving.

    >>> temperature_in_place(reached=-80.0, temperature=20.0, lost=0.10)
    -70.0
    """
    return _away_from(temperature, reached, 1 - lost)


@takes_blanks
def temperature_of_the_shop(read: Temperature, usual: Temperature) -> Temperature:
    """Temperature of the shop: as read, or the usual one where it is not.

    read, usual: (degC).

    Source: none needed.

    >>> temperature_of_the_shop(read=float("nan"), usual=20.0)
    20.0
    """
    return where(missing(read), usual, read)


def interference_left(liner_interference: Length, thermal_growth: Length) -> Length:
    """How tight a liner is while it is cold, or a block while it is hot; below zero it drops in.

    liner_interference: at the shop's temperature, on the diameter (mm); thermal_growth: of the
    liner, below zero in the cold (mm).

    Source: geometry.

    >>> interference_left(liner_interference=0.100, thermal_growth=-0.0826)
    0.0174
    """
    return liner_interference + thermal_growth


@takes_blanks
def chilled_by(
    liner_interference: Length,
    outside_diameter: Length,
    chilling_temperature: Temperature,
    temperature: Temperature,
    freezer: Temperature,
    dry_ice: Temperature,
) -> Words:
    """By what a liner is chilled to the temperature it needs: the mildest that reaches it, or
    that no cold does.

    liner_interference, outside_diameter: blank while not measured (mm); chilling_temperature: blank
    where it lies beyond the coldest (degC); temperature: of the shop; freezer, dry_ice: what these
    reach (degC).

    Source: common practice, no source.

    >>> chilled_by(0.075, 86.0, -139.7, 20.0, -18.0, -78.5)
    'nitrogen'
    """
    by = where(
        at_least(chilling_temperature, freezer),
        FREEZER,
        where(at_least(chilling_temperature, dry_ice), DRY_ICE, NITROGEN),
    )
    reached = where(at_least(chilling_temperature, temperature), DROPS_IN, by)
    return where(
        any_of(missing(liner_interference), missing(outside_diameter)),
        NOTHING_ASKED,
        where(missing(chilling_temperature), NO_COLD, reached),
    )


@takes_blanks
def heated_by(
    liner_interference: Length,
    hole: Length,
    heating_temperature: Temperature,
    temperature: Temperature,
    hot_water: Temperature,
    oil_bath: Temperature,
) -> Words:
    """By what a block is warmed to the temperature it needs: the mildest that reaches it, or
    that no heat does without hurting it.

    liner_interference, hole: blank while not measured (mm); heating_temperature: blank where it
    lies beyond the hottest (degC); temperature: of the shop; hot_water, oil_bath: what these reach
    (degC).

    Source: common practice, no source.

    >>> heated_by(0.075, 86.0, 152.8, 20.0, 90.0, 150.0)
    'oven'
    """
    by = where(
        at_most(heating_temperature, hot_water),
        HOT_WATER,
        where(at_most(heating_temperature, oil_bath), OIL_BATH, OVEN),
    )
    reached = where(at_most(heating_temperature, temperature), DROPS_IN, by)
    return where(
        any_of(missing(liner_interference), missing(hole)),
        NOTHING_ASKED,
        where(missing(heating_temperature), NO_HEAT, reached),
    )
