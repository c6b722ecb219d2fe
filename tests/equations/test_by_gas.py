"""Rooms that fill with gas breath by breath, and liners that cool degree by degree.

Sources: the balance of what is in a room; the sizes are invented.
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq

from datumbook.equations import heat_and_cold as heat
from datumbook.equations import liners
from datumbook.equations import room_air as air
from witnesses import witness


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


@witness(
    air.dry_ice_kilograms, air.gas_that_thins_oxygen, air.nitrogen_that_thins_oxygen, by="solver"
)
def test_a_room_in_which_a_gas_takes_the_place_of_air() -> None:
    room, oxygen, least = 30e9, 0.209, 0.195

    def left(gas: float) -> float:
        """Share of oxygen in the room once so much air has gone out for the gas."""
        return (room - gas) * oxygen / room

    gas = brentq(lambda gas: left(gas) - least, 0, room, xtol=1e-3)
    assert air.gas_that_thins_oxygen(room, oxygen, least) == near(gas, 1.0)
    liquid = air.nitrogen_that_thins_oxygen(room, oxygen, least, 694)
    assert left(liquid * 694) == near(least)
    kilograms = brentq(lambda kg: 0.0004 + kg * 0.547e9 / room - 0.005, 0, 100, xtol=1e-12)
    assert air.dry_ice_kilograms(room, 0.005, 0.0004, 0.547e9) == near(kilograms)


@witness(heat.chilling_temperature, heat.heating_temperature, heat.interference_left, by="solver")
def test_a_liner_chilled_or_a_block_warmed_until_it_drops_in() -> None:
    size, pull, room = 86.0, 0.05, 0.02
    for limit, mean, sought in (
        (-196.0, 8.5e-6, heat.chilling_temperature),
        (200.0, 11.2e-6, heat.heating_temperature),
    ):
        way = 1 if limit > 20 else -1

        def tight(warm: float, limit: float = limit, mean: float = mean, way: int = way) -> float:
            grown = heat.thermal_growth(size, 10.8e-6, mean, 20.0, limit, warm)
            return heat.interference_left(pull, -grown if way > 0 else grown)

        found = sought(pull, room, size, 10.8e-6, mean, 20.0, limit)
        assert found == near(brentq(lambda warm: tight(warm) + room, 20.0, limit, xtol=1e-10), 1e-6)
        assert sought(1.0, room, size, 10.8e-6, mean, 20.0, limit) is None, "beyond what there is"


@witness(air.nitrogen_borne, air.dry_ice_borne, by="counting")
def test_what_a_room_bears_is_the_largest_step_under_its_share() -> None:
    for limit, share in ((2.896, 0.5), (5.0, 0.5), (0.251, 0.5), (2.0, 0.7)):
        tenths = max(step for step in range(1000) if step / 10 <= limit * share + 1e-12)
        assert air.nitrogen_borne(limit * 1e6, share) == near(tenths * 1e5, 1e-3)
        hundredths = max(step for step in range(1000) if step / 100 <= limit * share + 1e-12)
        assert air.dry_ice_borne(limit, share) == near(hundredths / 100)


@witness(air.nitrogen_boiled_off, air.nitrogen_for_one, air.nitrogen_all_told, by="counting")
def test_what_boils_off_a_ring_is_that_of_many_thin_ones() -> None:
    outside, bore, length, times, slices = 114.3, 108.0, 200.0, 7.6, 4000
    wall = (outside - bore) / 2 / slices
    iron = sum(
        2 * math.pi * (bore / 2 + (one + 0.5) * wall) * wall * length for one in range(slices)
    )
    assert air.nitrogen_boiled_off(outside, bore, length, times) == near(iron * times, 1.0)
    one = air.nitrogen_for_one("nitrogen", outside, bore, length, times)
    assert one == near(iron * times, 1.0)
    assert air.nitrogen_for_one("freezer", outside, bore, length, times) == 0
    assert air.nitrogen_all_told(one, one, 0.0) == near(2 * iron * times, 1.0)


@witness(heat.temperature_on_leaving, heat.temperature_in_place, by="solver")
def test_a_part_on_its_way_goes_back_by_a_share() -> None:
    for wanted, shop, far in ((-70.0, 20.0, -196.0), (120.0, 5.0, 200.0)):
        leaving = brentq(
            lambda it, shop=shop, wanted=wanted: it - 0.1 * (it - shop) - wanted, far, shop
        )
        assert heat.temperature_on_leaving(wanted, shop, 0.1, far) == near(leaving, 1e-6)
        assert heat.temperature_in_place(leaving, shop, 0.1) == near(wanted, 1e-6)
    assert heat.temperature_of_the_shop(float("nan"), 20.0) == 20.0
    assert heat.temperature_of_the_shop(5.0, 20.0) == 5.0


@witness(liners.middle_of_hole, by="solver")
def test_the_middle_of_a_hole_is_as_far_from_both_ends() -> None:
    least, most = 85.96, 86.01
    middle = brentq(lambda hole: (hole - least) - (most - hole), least, most)
    assert liners.middle_of_hole(least, most) == near(middle)
    assert liners.middle_of_hole(most, least) is None


@witness(air.dry_ice_boiled_off, air.dry_ice_for_one, air.dry_ice_all_told, by="counting")
def test_what_dry_ice_boils_off_a_liner_is_the_heat_it_gives_degree_by_degree() -> None:
    """The liner cools by small steps, each of whose heat turns so much dry ice to gas. Iron 0.46
    kJ/(kg K), sublimation 571 kJ/kg: handbooks, from memory.
    """
    outside, bore, length, shop, ice, slices = 114.3, 108.0, 200.0, 20.0, -78.5, 1000
    wall = (outside - bore) / 2 / slices
    litres = sum(
        2 * math.pi * (bore / 2 + (one + 0.5) * wall) * wall * length / 1e6 for one in range(slices)
    )
    mass, warm, gone, step = 7.2 * litres, shop, 0.0, 0.01
    while warm > ice + step / 2:
        gone += 2 * mass * 0.46 * step / 571
        warm -= step
    sizes = (outside, bore, length, shop, ice, 1e6 / 7.2, 2 * 0.46 / 571)
    assert air.dry_ice_boiled_off(*sizes) == near(gone, 1e-6)
    assert air.dry_ice_for_one("dry ice", *sizes) == near(gone, 1e-6)
    assert air.dry_ice_all_told(gone, gone, 0.0) == near(2 * gone)
