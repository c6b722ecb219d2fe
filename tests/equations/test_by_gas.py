"""Rooms that fill with gas breath by breath, and liners that cool degree by degree.

Sources: the balance of what is in a room; the sizes are invented.
"""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from datumbook.equations import heat_and_cold as heat
from witnesses import witness


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


@witness(
    heat.dry_ice_kilograms, heat.gas_that_thins_oxygen, heat.nitrogen_that_thins_oxygen, by="solver"
)
def test_a_room_in_which_a_gas_takes_the_place_of_air() -> None:
    room, oxygen, least = 30e9, 0.209, 0.195

    def left(gas: float) -> float:
        """Share of oxygen in the room once so much air has gone out for the gas."""
        return (room - gas) * oxygen / room

    gas = brentq(lambda gas: left(gas) - least, 0, room, xtol=1e-3)
    assert heat.gas_that_thins_oxygen(room, oxygen, least) == near(gas, 1.0)
    liquid = heat.nitrogen_that_thins_oxygen(room, oxygen, least, 694)
    assert left(liquid * 694) == near(least)
    kilograms = brentq(lambda kg: kg * 0.547e9 / room - 0.005, 0, 100, xtol=1e-12)
    assert heat.dry_ice_kilograms(room, 0.005, 0.547e9) == near(kilograms)


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
