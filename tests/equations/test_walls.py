"""The walls: cases by hand stand in tests/support/published/walls.toml; here what must hold
whatever was read.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import clearances, lands, walls

thicknesses = st.floats(min_value=1, max_value=20)
moves = st.floats(min_value=-0.5, max_value=0.5)
turns = st.floats(min_value=0, max_value=2 * math.pi)
sizes = st.floats(min_value=40, max_value=150)
cuts = st.floats(min_value=0, max_value=3)
offsets = st.lists(st.floats(min_value=-0.5, max_value=0.5), min_size=1, max_size=8)


@given(st.lists(thicknesses, min_size=1, max_size=24))
def test_least_wall_and_twice_the_core_shift_reach_the_thickest(row: list[float]) -> None:
    assert walls.least_wall(*row) + 2 * walls.core_shift(*row) == pytest.approx(max(row))


@given(thicknesses, thicknesses, sizes, cuts, cuts)
def test_wall_after_boring_on_opposite_sides_loses_each_side_cut(
    front: float, rear: float, bore: float, front_cut: float, rear_cut: float
) -> None:
    finished = bore + front_cut + rear_cut
    shift = (rear_cut - front_cut) / 2  # of the middle between what is left on either side
    assert walls.wall_after_boring(front, bore, finished, -shift) == pytest.approx(
        front - front_cut, abs=1e-9
    )
    assert walls.wall_after_boring(rear, bore, finished, shift) == pytest.approx(
        rear - rear_cut, abs=1e-9
    )


@given(sizes, st.floats(min_value=2, max_value=10), cuts)
def test_liner_wall_and_the_metal_behind_it_make_up_the_wall_but_for_half_the_interference(
    bore: float, wall: float, interference: float
) -> None:
    hole = bore + 3
    outside = hole + interference
    behind = walls.wall_after_boring(wall, bore, hole, 0)
    assert clearances.liner_interference(outside, hole) == pytest.approx(interference, abs=1e-9)
    assert behind + walls.liner_wall(outside, bore) == pytest.approx(wall + interference / 2)


def largest_left(row: list[float], shift: float) -> float:
    return max(abs(offset + shift) for offset in row)


@given(offsets, st.floats(min_value=-1, max_value=1))
def test_row_shift_leaves_no_larger_offset_than_any_other_shift(
    row: list[float], other: float
) -> None:
    least = largest_left(row, walls.row_shift(*row))
    assert least == pytest.approx((max(row) - min(row)) / 2, abs=1e-12)
    assert least <= largest_left(row, other) + 1e-12


@given(offsets)
def test_boring_offset_puts_every_centre_back_into_the_shifted_row(row: list[float]) -> None:
    shift = walls.row_shift(*row)
    for standard, offset in enumerate(row):
        centre = standard * 90 + offset + walls.boring_offset(offset, shift)
        assert lands.offset(centre, standard * 90 - shift) == pytest.approx(0, abs=1e-9)


@given(thicknesses, sizes, cuts, moves, moves, turns)
def test_wall_set_over_on_opposite_sides_loses_the_growth_between_them(
    wall: float, bore: float, growth: float, offset: float, across: float, angle: float
) -> None:
    here, there = (
        walls.wall_set_over(
            wall, bore=bore, finished_bore=bore + growth, offset=offset, across=across, angle=at
        )
        for at in (angle, angle + math.pi)
    )
    assert here + there == pytest.approx(2 * wall - growth, abs=1e-9)


@given(thicknesses, sizes, cuts, moves, moves, turns)
def test_wall_set_over_anyhow_is_the_thinnest_that_any_side_can_be(
    wall: float, bore: float, growth: float, offset: float, across: float, angle: float
) -> None:
    known = {"bore": bore, "finished_bore": bore + growth, "offset": offset, "across": across}
    anyhow = walls.wall_set_over_anyhow(wall, **known)
    assert anyhow <= walls.wall_set_over(wall, **known, angle=angle) + 1e-9
    towards = math.atan2(-across, -offset)
    assert anyhow == pytest.approx(walls.wall_set_over(wall, **known, angle=towards), abs=1e-9)
