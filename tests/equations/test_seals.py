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
    assert found == pytest.approx(seals.indicator_total(*shown), abs=2e-6)


@given(small, small, st.floats(40, 250))
def test_crank_offset_and_indicator_two_ways_from_four_readings(
    across: float, up: float, radius: float
) -> None:
    right, top, left, bottom = swept(across, up, radius, 4)
    assert seals.crank_offset(right, left) == pytest.approx(across, abs=1e-9)
    assert seals.crank_offset(top, bottom) == pytest.approx(up, abs=1e-9)
    both = seals.indicator_two_ways(top, right, bottom, left)
    assert both == pytest.approx(2 * (abs(across) + abs(up)), abs=1e-9)
    assert both >= seals.indicator_total(top, right, bottom, left) - 1e-9
