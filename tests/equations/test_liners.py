"""Liners: holes, walls and lands of dry ones, ledges and stand-outs of the others.

Cases: tests/support/published/liners.toml
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import liners

walls = st.floats(min_value=1, max_value=20)
bores = st.floats(min_value=50, max_value=150)
pulls = st.floats(min_value=0.01, max_value=0.2)


@given(bores, pulls)
def test_hole_for_liner_leaves_the_interference_wanted(outside: float, wanted: float) -> None:
    assert outside - liners.hole_for_liner(outside, wanted) == pytest.approx(wanted, abs=1e-9)


def test_ledge_spread_is_between_the_deepest_and_the_least_deep() -> None:
    assert liners.ledge_spread(8.012, 8.020, 8.015, 8.010) == pytest.approx(0.010)
    assert liners.ledge_spread(8.012, 8.012) == 0


def test_stand_out_spread_is_between_the_proudest_and_the_least_proud() -> None:
    assert liners.stand_out_spread(0.090, 0.105, 0.100, -0.005) == pytest.approx(0.110)


def test_a_lined_cylinder_counts_as_the_standard_bore_whatever_it_is_worn_to() -> None:
    assert liners.size_among_others("yes", 84.648, 82.0) == 82.0
    assert liners.size_among_others("yes", math.nan, 82.0) == 82.0
    assert liners.size_among_others("no", 82.2, 82.0) == 82.2
    assert liners.size_among_others("", math.nan, 82.0) is None


def test_suggested_bore_of_a_liner_is_that_of_the_others() -> None:
    assert liners.suggested_bore(82.5, 82.0, liner="yes", next_oversize=82.25) == 82.5
    assert liners.suggested_bore(82.5, 82.0, liner="no", next_oversize=82.25) == 82.25
    assert liners.suggested_bore(82.0, math.nan, liner="yes", next_oversize=82.25) is None


def test_bore_in_block_is_the_hole_of_a_liner_or_the_finish_bore() -> None:
    assert liners.bore_in_block("yes", hole=86.01, finish_bore=math.nan) == 86.01
    assert liners.bore_in_block("", hole=math.nan, finish_bore=82.5) == 82.5
    assert liners.bore_in_block("yes", hole=math.nan, finish_bore=82.5) is None
    assert liners.bore_in_block("no", hole=86.01, finish_bore=math.nan) is None


def test_wall_needed_is_less_behind_a_liner() -> None:
    assert [liners.wall_needed(said, parent_wall=2.3, wall=3.8) for said in ("yes", "no", "")] == [
        2.3,
        3.8,
        3.8,
    ]
