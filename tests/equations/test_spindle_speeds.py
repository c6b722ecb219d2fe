"""How fast a spindle turns, worked by hand and turned round."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import spindle_speeds

lengths = st.floats(min_value=0.1, max_value=200)


@pytest.mark.parametrize(
    ("feet_a_minute", "inches", "turns"),
    [(40, 0.530, 288), (70, 0.422, 634), (90, 0.272, 1264), (80, 0.500, 611)],
)
def test_spindle_speed_in_feet_a_minute_and_inches(
    feet_a_minute: float, inches: float, turns: int
) -> None:
    # geometry, derived
    speed = spindle_speeds.spindle_speed(feet_a_minute * 304.8 / 60, inches * 25.4)
    assert speed * 60 == pytest.approx(turns, abs=0.5)


def test_spindle_speed_in_metres_a_minute_and_millimetres() -> None:
    # geometry, derived: 13.5 mm at 12 m/min
    assert spindle_speeds.spindle_speed(12_000 / 60, 13.5) * 60 == pytest.approx(283, abs=0.5)


@given(lengths, lengths)
def test_spindle_speed_carries_the_rim_at_its_cutting_speed(speed: float, diameter: float) -> None:
    assert spindle_speeds.spindle_speed(speed, diameter) * math.pi * diameter == pytest.approx(
        speed
    )


def test_feed_speed_of_seven_hundred_turns() -> None:
    # arithmetic: 0.1 mm a turn at 700 turns a minute goes down 70 mm a minute
    assert spindle_speeds.feed_speed(0.1, 700 / 60) * 60 == pytest.approx(70)


def test_speed_cut_off_is_never_above_what_was_worked_out() -> None:
    # arithmetic, derived: 764 turns a minute are told as 760, 97.6 as 97
    assert spindle_speeds.speed_cut_off(764 / 60) * 60 == pytest.approx(760)
    assert spindle_speeds.speed_cut_off(97.6 / 60) * 60 == pytest.approx(97)


def test_speed_of_machine_is_the_fastest_that_is_slow_enough() -> None:
    # arithmetic, derived
    speeds = [280 / 60, 500 / 60, 900 / 60]
    assert spindle_speeds.speed_of_machine(764 / 60, *speeds) * 60 == pytest.approx(500)
    assert spindle_speeds.speed_of_machine(500 / 60, *speeds) * 60 == pytest.approx(500)
    assert spindle_speeds.speed_of_machine(200 / 60, *speeds) is None
