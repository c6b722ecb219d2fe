"""The cam's drive: cases by hand stand in tests/support/published/drives.toml; here what must hold
for every drive.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import drives

distances = st.floats(min_value=80, max_value=400)
shifts = st.floats(min_value=-0.3, max_value=0.3)
angles = st.floats(min_value=-math.pi, max_value=math.pi)


@given(distances, shifts, angles)
def test_centre_change_is_that_of_two_points_on_paper(
    distance: float, shift: float, angle: float
) -> None:
    across, up = distance * math.sin(angle), distance * math.cos(angle) - shift
    assert drives.centre_change(distance, shift, angle) == pytest.approx(
        math.hypot(across, up) - distance, abs=1e-9
    )


def test_centre_change_across_the_line_of_centres_is_hardly_any() -> None:
    assert abs(drives.centre_change(133.35, 0.1, math.pi / 2)) < 0.0001


@given(shifts, st.floats(min_value=0.1, max_value=0.6))
def test_backlash_change_of_centres_drawn_apart_is_above_nothing(
    change: float, pressure: float
) -> None:
    assert math.copysign(1, drives.backlash_change(change, pressure)) == math.copysign(1, change)


@given(distances, st.floats(min_value=1e-3, max_value=0.5))
def test_chain_sag_is_that_of_an_arc_as_long_as_the_chain(span: float, excess: float) -> None:
    # an arc of circle of this sag over this span is longer than it by the excess
    sag = drives.chain_sag(span, excess)
    radius = (span**2 / 4 + sag**2) / (2 * sag)
    arc = 2 * radius * math.asin(span / 2 / radius)
    assert arc - span == pytest.approx(excess, rel=0.01)


@given(distances, st.floats(min_value=-0.5, max_value=0))
def test_chain_sag_is_nothing_without_excess(span: float, excess: float) -> None:
    assert drives.chain_sag(span, excess) == 0


def test_four_thousandths_of_line_boring_make_an_eighth_of_an_inch_of_slack() -> None:
    # geometry, derived: from axis shift to chain excess and sag, all in inches
    excess = drives.chain_excess(drives.centre_change(5.250, 0.004, 0))
    assert excess == pytest.approx(0.008)
    assert drives.chain_sag(5.250, excess) == pytest.approx(0.125, abs=0.0005)


def test_cam_retard_and_crank_retard_of_four_thousandths_on_a_sprocket_of_1_600() -> None:
    # geometry, derived: 0.14 degrees of cam, 0.29 of crank; centres drawn apart make it early
    late = drives.cam_retard(-0.004, 1.600)
    assert math.degrees(late) == pytest.approx(0.14, abs=0.005)
    assert math.degrees(drives.crank_retard(late)) == pytest.approx(0.29, abs=0.005)
    assert drives.cam_retard(0.004, 1.600) < 0
