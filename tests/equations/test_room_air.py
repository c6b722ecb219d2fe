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
