"""Valves and rings: the shares of a drop are found here by coordinates, without an angle's name."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import valves

drops = st.floats(0, 1.0)
leans = st.floats(0, 0.7)


@given(st.floats(1, 5), st.floats(1, 5), drops, leans)
def test_valve_gap_after_and_radial_gap_after_by_moving_the_crown_in_coordinates(
    gap: float, radial: float, drop: float, lean: float
) -> None:
    """The stem's own frame, turned by rotation; the pocket moves up the bore by the drop."""
    stem = np.array([[math.cos(lean), -math.sin(lean)], [math.sin(lean), math.cos(lean)]])
    valve, pocket = np.zeros(2), stem @ np.array([radial, -gap])
    left = stem.T @ (pocket + np.array([0.0, drop]) - valve)
    assert valves.valve_gap_after(gap, drop, lean) == pytest.approx(-left[1], abs=1e-12)
    # sideways the pocket's wall comes by the drop's share, towards or away as the valve leans
    assert valves.radial_gap_after(radial, drop, lean) == pytest.approx(
        radial - abs(left[0] - radial), abs=1e-12
    )


@given(drops, drops, drops)
def test_head_drop_is_what_crown_rise_head_and_gasket_come_to(
    deck: float, head: float, gasket: float
) -> None:
    rise = valves.crown_rise(deck, 0.0, 80.0)
    assert valves.head_drop(rise, head, gasket) == pytest.approx(math.fsum((deck, head, gasket)))
    assert valves.head_drop(rise, float("nan"), float("nan")) == pytest.approx(deck)
    assert valves.head_drop(float("nan"), head, gasket) is None


@given(st.floats(0, 5), st.floats(0, 5))
def test_pocket_deeper_just_restores_the_room(gap: float, least: float) -> None:
    assert gap + valves.pocket_deeper(gap, least) == pytest.approx(max(gap, least))


@given(st.floats(60, 120), st.floats(0.2, 1.0), st.floats(2, 6))
def test_ring_back_clearance_is_the_gap_between_two_circles(
    bore: float, gap: float, wall: float
) -> None:
    root = bore - 2 * (wall + gap)
    assert valves.ring_back_clearance(bore, root, wall) == pytest.approx(gap)
