"""Crank journals and shells: worked by hand, and turned round."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import bearings
from datumbook.equations.clearances import end_float

sizes = st.floats(min_value=20, max_value=120)
rooms = st.floats(min_value=0.01, max_value=0.5)


@given(sizes, sizes)
def test_journal_out_of_round_does_not_care_which_reading_was_first(
    one: float, other: float
) -> None:
    assert (
        bearings.journal_out_of_round(one, other) == bearings.journal_out_of_round(other, one) >= 0
    )


def test_journal_taper_is_above_zero_where_the_front_is_larger() -> None:
    assert bearings.journal_taper(front=57.148, rear=57.143) == pytest.approx(0.005)
    assert bearings.journal_taper(front=57.143, rear=57.148) == pytest.approx(-0.005)


@pytest.mark.parametrize(("per_journal", "clearance"), [(0.00075, 0.0017), (0.001, 0.00225)])
def test_oil_clearance_by_rule_on_a_journal_of_two_inches_and_a_quarter(
    per_journal: float, clearance: float
) -> None:
    # common practice, no source: 0.00075 to 0.001 in to the inch of journal
    assert bearings.oil_clearance_by_rule(2.25, per_journal) == pytest.approx(clearance, abs=5e-5)


def test_crush_adds_what_stands_proud_of_both_halves() -> None:
    assert bearings.crush(0.025, 0.030) == pytest.approx(0.055)
    assert bearings.crush(0.025, -0.005) == pytest.approx(0.020)


@given(sizes, rooms, st.floats(min_value=1, max_value=5))
def test_thrust_width_leaves_the_end_float_between_the_cheeks(
    saddle: float, room: float, washer: float
) -> None:
    journal = saddle + 2 * washer + room
    assert end_float(journal, bearings.thrust_width(saddle, washer, washer)) == pytest.approx(room)
