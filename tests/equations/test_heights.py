"""Heights: how faces lie, the metal ledger, and the closure that must survive any work."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import heights

lengths = st.floats(min_value=1, max_value=500)
slopes = st.floats(min_value=-0.1, max_value=0.1)

CORNERS = (9.6712, 9.6698, 9.6735, 9.6721)  # front left, front right, rear left, rear right


def test_the_worked_corners() -> None:
    # geometry, derived
    assert heights.tilt_lengthwise(*CORNERS) == pytest.approx(0.0023)
    assert heights.tilt_crosswise(*CORNERS) == pytest.approx(0.0014)
    assert heights.twist(*CORNERS) == pytest.approx(0.0000, abs=1e-12)


@given(st.lists(lengths, min_size=4, max_size=4))
def test_above_lowest_is_nought_at_the_lowest_corner_and_never_less(corners: list[float]) -> None:
    above = [heights.above_lowest(corner, heights.lowest_corner(*corners)) for corner in corners]
    assert min(above) == 0
    assert max(above) == pytest.approx(max(corners) - min(corners))


def test_twist_betrays_a_corner_written_with_two_digits_swapped() -> None:
    # geometry, derived: 9.6698 written 9.6968 is 0.0270 out, and the twist is half of it
    front_left, _, rear_left, rear_right = CORNERS
    assert heights.twist(front_left, 9.6968, rear_left, rear_right) == pytest.approx(-0.0135)


@given(lengths, slopes, slopes)
def test_twist_of_a_true_plane_is_nothing_and_its_tilts_are_its_slopes(
    height: float, back: float, left: float
) -> None:
    corners = (height + left, height, height + left + back, height + back)
    assert heights.twist(*corners) == pytest.approx(0, abs=1e-9)
    assert heights.tilt_lengthwise(*corners) == pytest.approx(back, abs=1e-9)
    assert heights.tilt_crosswise(*corners) == pytest.approx(left, abs=1e-9)


@given(lengths, lengths, lengths, lengths)
def test_tilt_lengthwise_tilt_crosswise_twist_and_mean_height_tell_all_four_corners(
    front_left: float, front_right: float, rear_left: float, rear_right: float
) -> None:
    corners = (front_left, front_right, rear_left, rear_right)
    middle = heights.mean_height(*corners)
    back, left, twist = (
        heights.tilt_lengthwise(*corners),
        heights.tilt_crosswise(*corners),
        heights.twist(*corners),
    )
    assert middle - back / 2 + left / 2 + twist / 2 == pytest.approx(front_left)
    assert middle + back / 2 - left / 2 + twist / 2 == pytest.approx(rear_right)


@given(st.lists(lengths, min_size=1, max_size=6))
def test_lowest_corner_is_below_no_corner_and_not_above_the_mean_height(
    corners: list[float],
) -> None:
    lowest = heights.lowest_corner(*corners)
    assert lowest in corners
    assert all(lowest <= corner for corner in corners)
    assert lowest <= heights.mean_height(*corners) + 1e-9


def test_the_worked_stack_under_its_deck() -> None:
    # geometry, derived: deck 9.670 over a stack of 9.650
    stack = heights.piston_stack(stroke=3.600, rod_length=6.250, compression_height=1.600)
    assert heights.deck_clearance(9.670, stack) == pytest.approx(0.020)


@given(lengths, lengths, lengths)
def test_piston_stack_takes_half_of_a_longer_stroke(
    stroke: float, rod: float, crown: float
) -> None:
    assert heights.piston_stack(stroke + 2, rod, crown) == pytest.approx(
        heights.piston_stack(stroke, rod, crown) + 1
    )


def test_deck_clearance_is_below_zero_where_the_piston_stands_proud() -> None:
    assert heights.deck_clearance(deck_height=9.645, piston_stack=9.650) == pytest.approx(-0.005)


def test_metal_removed_and_metal_removable_of_a_block_once_cut() -> None:
    # arithmetic, derived: 8.890 new, 8.860 now, limit 8.850
    assert heights.metal_removed(standard_height=8.890, height=8.860) == pytest.approx(0.030)
    assert heights.metal_removable(height=8.860, least_height=8.850) == pytest.approx(0.010)


@given(lengths, lengths, lengths)
def test_metal_removed_and_metal_removable_share_one_budget(
    standard: float, height: float, least: float
) -> None:
    used, left = heights.metal_removed(standard, height), heights.metal_removable(height, least)
    assert used + left == pytest.approx(standard - least, abs=1e-9)


def test_metal_removable_is_below_zero_past_the_limit() -> None:
    assert heights.metal_removable(height=8.845, least_height=8.850) == pytest.approx(-0.005)


@given(lengths, slopes, slopes)
def test_end_closure_is_exactly_the_error_of_the_bottom_height_read_there(
    bottom: float, across: float, error: float
) -> None:
    corners = (bottom + across, bottom - across)
    assert heights.end_closure(*corners, bottom + error) == pytest.approx(-error, abs=1e-9)
    # one corner of two counts half
    misread = heights.end_closure(corners[0] + error, corners[1], bottom)
    assert misread == pytest.approx(error / 2, abs=1e-9)


@given(slopes, slopes)
def test_height_closure_is_that_of_the_worse_end_with_its_sign(front: float, rear: float) -> None:
    found = heights.height_closure(front, rear)
    assert found in {front, rear}
    assert abs(found) == pytest.approx(max(abs(front), abs(rear)), abs=1e-9)


def test_least_deck_height_leaves_exactly_the_least_clearance() -> None:
    # [geometry], derived
    least = heights.least_deck_height(9.650, 0.005)
    assert heights.deck_clearance(least, 9.650) == pytest.approx(0.005, abs=1e-12)


@given(lengths, slopes, slopes, st.floats(min_value=0, max_value=1))
def test_deck_height_at_any_place_of_a_true_plane_is_the_planes_own(
    height: float, along: float, across: float, at: float
) -> None:
    corners = [height + along * end + across * side for end in (0, 1) for side in (1, -1)]
    assert heights.deck_height_at(*corners, centre=at * 400, deck_length=400) == pytest.approx(
        height + along * at, abs=1e-9
    )


def test_deck_height_at_the_second_bore_of_the_worked_corners() -> None:
    # geometry, worked by hand: ends 9.6705 and 9.6728, 148 of 394 mm along: 9.6705 + 0.0023 x
    # 0.37563
    assert heights.deck_height_at(*CORNERS, centre=148, deck_length=394) == pytest.approx(
        9.67136, abs=5e-6
    )
