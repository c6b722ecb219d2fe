"""A hole and a shaft; the published fits stand in tests/support/published/fits.toml."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations.fits import (
    fit_clearance,
    greatest_clearance,
    interference_per_size,
    least_clearance,
)

sizes = st.floats(min_value=1, max_value=500)
tolerances = st.floats(min_value=0, max_value=0.5)
shares = st.floats(min_value=0, max_value=1)


@given(sizes, tolerances, tolerances, shares, shares, st.floats(min_value=-0.5, max_value=0.5))
def test_fit_clearance_of_parts_within_limits_lies_between_least_clearance_and_greatest_clearance(
    hole: float,
    hole_tolerance: float,
    shaft_tolerance: float,
    one: float,
    other: float,
    below: float,
) -> None:
    shaft = hole - below
    measured = fit_clearance(hole + one * hole_tolerance, shaft + other * shaft_tolerance)
    least = least_clearance(hole, shaft + shaft_tolerance)
    greatest = greatest_clearance(hole + hole_tolerance, shaft)
    assert least - 1e-9 <= measured <= greatest + 1e-9
    assert greatest - least == pytest.approx(hole_tolerance + shaft_tolerance, abs=1e-9)


def test_fit_clearance_is_below_zero_where_the_shaft_must_be_pressed_in() -> None:
    assert fit_clearance(hole=85.010, shaft=85.080) == pytest.approx(-0.070)


@given(sizes, st.floats(min_value=0.0001, max_value=0.003))
def test_interference_per_size_is_the_same_in_inches_and_millimetres(
    diameter: float, share: float
) -> None:
    assert interference_per_size(share * diameter, diameter) == pytest.approx(share)
    assert interference_per_size(share * diameter * 25.4, diameter * 25.4) == pytest.approx(share)
