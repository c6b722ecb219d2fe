"""The air of a room while liners are chilled: what is not known is not borne. The sums behind it
stand in test_by_gas.py and test_heat_and_cold.py.
"""

from __future__ import annotations

import math

from datumbook.equations import room_air as air


def test_air_of_the_room_is_known_only_where_all_that_boils_off_is() -> None:
    nan = math.nan
    assert air.air_of_the_room(1.0e6, 1.4e6) == air.BORNE
    assert air.air_of_the_room(1.5e6, 1.4e6) == air.NOT_BORNE
    assert air.air_of_the_room(nan, 1.4e6) == air.BOILS_UNKNOWN
    assert air.air_of_the_room(0.0, 1.4e6) == ""
    assert air.nitrogen_for_one("nitrogen", 114.3, nan, 200.0, 7.6) is None
    assert air.nitrogen_for_one("", nan, nan, nan, 7.6) == 0


def test_air_with_dry_ice_is_known_only_where_all_that_boils_off_is() -> None:
    nan, ring = math.nan, (114.3, 108.0, 200.0, 20.0, -78.5, 138.9e3, 1.61e-3)
    assert air.air_with_dry_ice(0.1, 0.12) == air.BORNE
    assert air.air_with_dry_ice(0.13, 0.12) == air.NOT_BORNE
    assert air.air_with_dry_ice(nan, 0.12) == air.BOILS_UNKNOWN
    assert air.air_with_dry_ice(0.0, 0.12) == ""
    assert air.dry_ice_for_one("dry ice", 114.3, nan, *ring[2:]) is None
    assert air.dry_ice_for_one("", *ring) == air.dry_ice_for_one("none needed", *ring) == 0
    # NOT BY COLD alone: in dry ice with the block warmed it still takes as much
    some = {one: air.dry_ice_for_one(one, *ring) for one in ("dry ice", "nitrogen", "NOT BY COLD")}
    assert len(set(some.values())) == 1
