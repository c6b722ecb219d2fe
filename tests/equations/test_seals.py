"""Seals and housings: what an indicator shows is drawn here point by point round a true circle."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import seals

small = st.floats(-0.2, 0.2)


def swept(across: float, up: float, radius: float, points: int) -> np.ndarray:
    """What an indicator reads round a bore whose middle the crank's axis is off by so much: as
    much less as the wall is farther, anticlockwise from the right.
    """
    angles = np.arange(points) * 2 * np.pi / points
    ways = np.stack([np.cos(angles), np.sin(angles)])
    centre = np.array([across, up])
    along = centre @ ways  # the axis, seen from the middle, along each ray
    wall = -along + np.sqrt(along**2 + radius**2 - centre @ centre)
    return -wall


@given(small, small, small, st.floats(40, 250))
def test_run_out_after_lift_is_what_an_indicator_then_shows_all_round(
    across: float, up: float, lift: float, radius: float
) -> None:
    shown = swept(across, up + lift, radius, 3600)
    found = seals.run_out_after_lift(across, up, lift)
    assert found == pytest.approx(np.ptp(shown), abs=2e-6)


@given(small, small, st.floats(40, 250))
def test_crank_offset_and_indicator_two_ways_from_four_readings(
    across: float, up: float, radius: float
) -> None:
    right, top, left, bottom = swept(across, up, radius, 4)
    assert seals.crank_offset(right, left) == pytest.approx(across, abs=1e-9)
    assert seals.crank_offset(top, bottom) == pytest.approx(up, abs=1e-9)
    both = seals.indicator_two_ways(top, right, bottom, left)
    assert both == pytest.approx(2 * (abs(across) + abs(up)), abs=1e-9)
    assert both >= seals.run_out_all_round(top, right, bottom, left) - 1e-9


@given(st.floats(0.001, 0.3), st.floats(0, 2 * np.pi), st.floats(40, 250))
def test_run_out_all_round_of_a_round_bore_is_that_of_the_whole_sweep_at_any_angle(
    off: float, way: float, radius: float
) -> None:
    shown = swept(off * np.cos(way), off * np.sin(way), radius, 3600)
    right, top, left, bottom = shown[::900]
    found = seals.run_out_all_round(top, right, bottom, left)
    assert found == pytest.approx(np.ptp(shown), abs=2e-6)


@given(
    st.floats(0.0, 0.3),
    st.floats(0, 2 * np.pi),
    st.floats(0, 0.1),
    st.integers(2, 9),
    st.floats(0, 2 * np.pi),
)
def test_run_out_all_round_never_reads_under_the_offset_nor_beyond_the_form_of_the_bore(
    off: float, way: float, form: float, lobes: int, turned: float
) -> None:
    """An even count of lobes drops out of what is opposite, so that the offset is seen whole; of
    an odd one no four readings tell the lobes from an offset, by as much as the lobes are high.
    """
    angles = np.arange(3600) * 2 * np.pi / 3600
    bore = form / 2 * np.cos(lobes * angles + turned)
    shown = off * np.cos(angles - way) + bore
    right, top, left, bottom = shown[::900]
    found = seals.run_out_all_round(top, right, bottom, left)
    blind = np.ptp(bore) if lobes % 2 else 0.0
    assert found >= 2 * off - blind - 1e-5
    assert found >= np.ptp(shown) - np.ptp(bore) - blind - 1e-5
