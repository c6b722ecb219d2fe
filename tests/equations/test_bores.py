"""Bores: TRADE facts worked by hand ("derived geometry"), and what must hold for any readings."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import bores, verdicts

sizes = st.floats(min_value=40, max_value=200)
groups = st.lists(sizes, min_size=1, max_size=8)


@given(sizes, sizes)
def test_out_of_round_is_the_same_whichever_way_it_is_read_and_never_below_zero(
    one: float, other: float
) -> None:
    assert bores.out_of_round(one, other) == bores.out_of_round(other, one) >= 0


@given(sizes)
def test_out_of_round_of_a_round_bore_is_nothing(size: float) -> None:
    assert bores.out_of_round(size, size) == 0


@given(sizes, sizes)
def test_taper_changes_its_sign_when_top_and_bottom_are_swapped(top: float, bottom: float) -> None:
    assert bores.taper(top, bottom) == -bores.taper(bottom, top)


def test_taper_is_above_zero_where_the_top_is_worn() -> None:
    assert bores.taper(top=82.078, bottom=82.031) == pytest.approx(0.047)


@given(groups)
def test_mean_size_lies_between_the_smallest_and_the_largest_size(diameters: list[float]) -> None:
    mean = bores.mean_size(*diameters)
    assert min(diameters) - 1e-9 <= mean <= bores.largest_size(*diameters) + 1e-9


@given(groups)
def test_largest_size_does_not_depend_on_the_order_of_reading(diameters: list[float]) -> None:
    assert bores.largest_size(*diameters) == bores.largest_size(*reversed(diameters))


def test_mean_size_and_largest_size_of_a_bore_worn_at_the_top() -> None:
    # arithmetic, derived
    diameters = (82.078, 82.051, 82.031, 82.020)
    assert bores.mean_size(*diameters) == pytest.approx(82.045)
    assert bores.largest_size(*diameters) == 82.078


def test_wear_is_counted_from_the_unworn_lip_not_from_the_standard_size() -> None:
    standard, lip = (
        82.000,
        82.509,
    )  # a bore that was once taken to its first half-millimetre oversize
    assert bores.wear(largest_size=82.560, unworn_lip=lip) == pytest.approx(0.051)
    assert bores.wear(largest_size=82.560, unworn_lip=standard) == pytest.approx(0.560)


def test_clean_up_size_takes_the_wear_twice() -> None:
    # geometry, derived: 3.1000 worn to 3.1088 on one side, 0.003 for the hone
    assert bores.clean_up_size(3.1000, 3.1088, 0.003) == pytest.approx(3.1206, abs=1e-9)


@given(sizes, st.floats(min_value=0, max_value=1))
def test_clean_up_size_of_an_unworn_bore_is_the_bore_and_the_stock(
    lip: float, stock: float
) -> None:
    assert bores.clean_up_size(lip, lip, stock) == pytest.approx(lip + stock)


@given(st.floats(min_value=82, max_value=83), st.floats(min_value=0, max_value=0.5))
def test_clean_up_size_reaches_the_worn_wall_on_one_side(lip: float, wear: float) -> None:
    axis_to_worn_wall = lip / 2 + wear  # all the wear on one wall, so the diameter grew by the wear
    assert bores.clean_up_size(lip, lip + wear, 0) / 2 == pytest.approx(axis_to_worn_wall)


@given(groups)
def test_worst_clean_up_is_enough_for_every_bore(clean_up_sizes: list[float]) -> None:
    worst = bores.worst_clean_up(*clean_up_sizes)
    assert worst in clean_up_sizes
    assert all(size <= worst for size in clean_up_sizes)


def test_next_oversize_passes_over_one_that_just_misses() -> None:
    # geometry, derived: 3.1206 is wanted; +0.020 gives 3.1200 and just misses, +0.030 gives 3.130
    assert bores.next_oversize(3.1206, 3.1000, 0.020, 0.030, 0.040) == pytest.approx(3.130)


def test_next_oversize_that_is_exactly_enough_is_enough() -> None:
    assert 82.1 + 0.3 < 82.4  # the last bit lies; the guard does not
    assert bores.next_oversize(82.4, 82.1, 0.3, 0.6) == pytest.approx(82.4)


def test_next_oversize_is_missing_where_the_largest_is_too_small() -> None:
    assert bores.next_oversize(83.001, 82.0, 0.25, 0.50, 0.75, 1.00) is None


@given(st.floats(min_value=81, max_value=82.9))
def test_next_oversize_never_falls_short(worst: float) -> None:
    finished = bores.next_oversize(worst, 82.0, 0.25, 0.50, 0.75, 1.00)
    assert finished >= worst - 1e-9
    assert finished == 82.0 or finished - 0.25 < worst + 1e-9


def test_bore_before_honing_leaves_the_stock_for_the_hone() -> None:
    # arithmetic: half a millimetre over 82, 0.06 mm on the diameter left for the hone
    assert bores.bore_before_honing(82.5, 0.06) == pytest.approx(82.44)


@given(st.floats(min_value=82, max_value=82.9), st.floats(min_value=0, max_value=0.1))
def test_bore_before_honing_still_cleans_a_bore_whose_clean_up_size_holds_the_same_stock(
    lip: float, stock: float
) -> None:
    clean_up = bores.clean_up_size(lip, lip + 0.04, stock)
    assert bores.bore_before_honing(clean_up, stock) == pytest.approx(
        bores.clean_up_size(lip, lip + 0.04, 0)
    )


@given(sizes, st.floats(min_value=0, max_value=0.1), st.floats(min_value=0, max_value=0.1))
def test_least_finished_and_largest_finished_lie_round_the_size_as_far_apart_as_both_tolerances(
    size: float, plus: float, minus: float
) -> None:
    least, most = bores.least_finished(size, minus), bores.largest_finished(size, plus)
    assert least <= size <= most
    assert most - least == pytest.approx(plus + minus, abs=1e-9)


@given(sizes, sizes)
def test_swept_volume_grows_with_the_square_of_the_bore(bore: float, stroke: float) -> None:
    assert bores.swept_volume(2 * bore, stroke) == pytest.approx(
        4 * bores.swept_volume(bore, stroke)
    )


def test_swept_volume_of_the_worked_example_before_and_after_boring() -> None:
    # geometry, derived: 3.600 in stroke; bore 3.100 in is 445.26 cm3, bored to 3.130 in it is
    # 453.92 cm3
    cubic_inch = 16.387064
    assert bores.swept_volume(3.100, 3.600) * cubic_inch == pytest.approx(445.26, abs=0.005)
    assert bores.swept_volume(3.130, 3.600) * cubic_inch == pytest.approx(453.92, abs=0.005)
    assert bores.swept_volume(2, 1) == pytest.approx(math.pi)


@given(groups)
def test_smallest_size_is_one_of_the_readings_and_none_is_below_it(diameters: list[float]) -> None:
    least = bores.smallest_size(*diameters)
    assert least in diameters
    assert least <= bores.mean_size(*diameters) + 1e-9
    assert bores.smallest_size(*(-size for size in diameters)) == -bores.largest_size(*diameters)


@given(groups, st.floats(50, 110), st.floats(0, 1), st.floats(0, 0.01))
def test_smallest_and_largest_size_within_limits_mean_that_every_diameter_is(
    diameters: list[float], low: float, width: float, uncertainty: float
) -> None:
    high = low + width
    small = verdicts.verdict_at_least(bores.smallest_size(*diameters), low, uncertainty)
    large = verdicts.verdict_at_most(bores.largest_size(*diameters), high, uncertainty)
    each = {verdicts.verdict_between(one, low, high, uncertainty) for one in diameters}
    assert ({small, large} == {verdicts.OK}) == (each == {verdicts.OK})
    assert (verdicts.OUT in (small, large)) == (verdicts.OUT in each)


def read_across(lobes: int, height: float, turned: float, degrees: float) -> float:
    """The distance of the two points at which a gauge touches a bore with lobes, from their places
    in the plane.
    """
    at = np.radians([degrees, degrees + 180])
    radius = 41 + height * np.cos(lobes * (at - np.radians(turned)))
    ends = radius * np.exp(1j * at)
    return float(abs(ends[0] - ends[1]))


@pytest.mark.parametrize("lobes", [2, 3, 4, 5, 6])
@pytest.mark.parametrize("turned", [0.0, 3.0, 11.25, 22.5, 40.0])
def test_out_of_round_all_of_bores_with_lobes(lobes: int, turned: float) -> None:
    height = 0.01
    read = [read_across(lobes, height, turned, degrees) for degrees in (0, 90, 45, 135)]
    by_two, by_four = bores.out_of_round(*read[:2]), bores.out_of_round_all(*read)
    if lobes % 2:
        assert by_four == pytest.approx(0, abs=1e-12)
    elif lobes == 4:
        assert by_two == pytest.approx(0, abs=1e-12)
        seen = abs(np.cos(np.radians(4 * turned)))
        assert by_four == pytest.approx(4 * height * seen, abs=1e-12)
    assert by_four >= by_two - 1e-12
    most = [read_across(lobes, height, turned, degrees) for degrees in np.arange(0, 180, 0.25)]
    assert by_four <= max(most) - min(most) + 1e-12


@given(
    st.lists(st.floats(min_value=81, max_value=83), min_size=2, max_size=6),
    st.floats(min_value=81, max_value=84),
)
def test_whether_bored_asks_whether_a_size_takes_metal_anywhere(
    diameters: list[float], size: float
) -> None:
    # geometry: a size of the smallest diameter read takes nothing off, one larger than all does;
    # what is typed smaller than any is no size of this bore
    assert bores.whether_bored(min(diameters), 0.015, *diameters) == "no"
    if size > max(diameters) or size < min(diameters) - 0.016:
        assert bores.whether_bored(size, 0.015, *diameters) == "yes"
