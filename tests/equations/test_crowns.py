"""Room above the pistons: a bound for each cylinder, held against the deck point by point.

Source: geometry; the sizes are invented.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import clean_cuts, crowns, faces, heights
from engines import Results
from two_roads import Work, differences
from witnesses import witness

FRONT, REAR, ACROSS, BORE = 20.0, 480.0, 180.0, 100.0  # mm; corners as far left as right
NAN = math.nan

decks = st.lists(st.floats(219.9, 220.1), min_size=4, max_size=4)
tilts = st.floats(-0.2, 0.2)
slopes = st.floats(0, 1e-3)
places = st.floats(FRONT + BORE / 2, REAR - BORE / 2)


def bound(deck: list[float], place: float, hollow: float = 0.0) -> float:
    """The lowest place over a bore, from cell to cell as on a sheet."""
    twist = heights.twist(*deck)
    along = crowns.edge_slope(heights.tilt_lengthwise(*deck), twist, REAR - FRONT)
    across = crowns.edge_slope(heights.tilt_crosswise(*deck), twist, ACROSS)
    front, rear = heights.mean_height(*deck[:2]), heights.mean_height(*deck[2:])
    over = faces.on_line(front, rear, place, FRONT, REAR)
    return crowns.lowest_over_bore(over, crowns.steepest_slope(along, across), BORE, hollow)


def surface(deck: list[float], x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The deck at any place, straight along every line that runs along or across."""
    left, back = y / ACROSS + 0.5, (x - FRONT) / (REAR - FRONT)
    front_left, front_right, rear_left, rear_right = deck
    return np.asarray(
        (1 - back) * (left * front_left + (1 - left) * front_right)
        + back * (left * rear_left + (1 - left) * rear_right)
    )


def over_bore(deck: list[float], place: float) -> float:
    turn, far = np.meshgrid(np.linspace(0, 2 * np.pi, 721), np.linspace(0, BORE / 2, 11))
    return float(surface(deck, place + far * np.cos(turn), far * np.sin(turn)).min())


@given(decks, places)
def test_lowest_over_bore_is_never_above_any_place_of_the_deck_over_it(
    deck: list[float], place: float
) -> None:
    assert bound(deck, place) <= over_bore(deck, place) + 1e-9


@witness(
    crowns.lowest_over_bore,
    crowns.edge_slope,
    crowns.steepest_slope,
    heights.tilt_lengthwise,
    heights.tilt_crosswise,
    heights.mean_height,
    faces.on_line,
    by="coordinates",
)
@given(st.floats(219.9, 220.1), tilts, tilts, places)
def test_lowest_over_bore_of_a_plane_is_its_lowest_place_there(
    height: float, back: float, left: float, place: float
) -> None:
    deck = [height + left, height, height + left + back, height + back]
    assert bound(deck, place) == pytest.approx(over_bore(deck, place), abs=1e-6)


@given(decks, places, st.floats(0, 0.1))
def test_lowest_over_bore_goes_down_by_the_hollow_that_is_left(
    deck: list[float], place: float, hollow: float
) -> None:
    assert bound(deck, place, hollow) == pytest.approx(bound(deck, place) - hollow, abs=1e-9)


@given(decks)
def test_edge_slope_is_that_of_the_steeper_edge(deck: list[float]) -> None:
    front_left, front_right, rear_left, rear_right = deck
    steeper = max(abs(rear_left - front_left), abs(rear_right - front_right)) / (REAR - FRONT)
    found = crowns.edge_slope(heights.tilt_lengthwise(*deck), heights.twist(*deck), REAR - FRONT)
    assert found == pytest.approx(steeper, abs=1e-12)


@given(slopes, slopes)
def test_steepest_slope_is_the_hypotenuse_and_nought_of_a_level_face(
    along: float, across: float
) -> None:
    assert crowns.steepest_slope(along, across) == pytest.approx(
        math.hypot(along, across), abs=1e-9
    )
    assert crowns.steepest_slope(0.0, 0.0) == 0


def test_deck_clearance_over_each_bore_of_the_tilted_deck_after_a_cut_along_the_opposite_face() -> (
    None
):
    # 220.01 front, 219.93 rear, 0.08 in 460: over 100 mm of bore it falls 0.0087 to either side;
    # 0.01 of a hollow is left; crowns 219.80 over the crank line
    deck = [220.01, 220.01, 219.93, 219.93]
    stack = heights.piston_stack(stroke=90.0, rod_length=140.0, compression_height=34.8)
    found = [
        heights.deck_clearance(bound(deck, place, clean_cuts.hollow_left(0.03, 0.02)), stack)
        for place in (100.0, 200.0, 300.0, 400.0)
    ]
    hand = [0.21 - 0.08 * (at - 20) / 460 - 50 * 0.08 / 460 - 0.01 for at in (100, 200, 300, 400)]
    assert found == pytest.approx(hand, abs=1e-9)
    assert all(one > other for one, other in pairwise(found)), "the rear piston has least room"


def test_sizes_from_says_whose_sizes_stand_under_a_crown() -> None:
    assert crowns.sizes_from(45.0, 140.0, 34.8) == crowns.IN_HAND
    assert crowns.sizes_from(45.0, NAN, 34.8) == crowns.PARTLY_IN_HAND
    assert crowns.sizes_from(NAN, NAN, NAN) == crowns.AS_DRAWN


WORKS: list[Work] = [
    *(
        (crowns.edge_slope, {"tilt": tilt, "twist": twist, "apart": 460.0})
        for tilt in (-0.08, 0.0, 0.08)
        for twist in (-0.03, 0.0)
    ),
    (crowns.steepest_slope, {"slope_along": 0.0003, "slope_across": 0.0004}),
    (crowns.steepest_slope, {"slope_along": 0.0, "slope_across": 0.0}),
    (
        crowns.lowest_over_bore,
        {"height": 219.95, "steepest_slope": 0.0001, "bore": 100.0, "hollow_left": 0.01},
    ),
    *(
        (crowns.sizes_from, {"measured": [45.0, rod, crown]})
        for rod, crown in ((140.0, 34.8), (None, 34.8))
    ),
    (crowns.sizes_from, {"measured": [None, None, None]}),
]


def test_both_roads_of_every_equation_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    assert not differences(engine, tmp_path / "crowns.xlsx", WORKS)


def test_in_hand_is_the_part_measured_as_soon_as_it_is() -> None:
    assert crowns.in_hand(178.08, drawn=178.05) == 178.08
    assert crowns.in_hand(float("nan"), drawn=178.05) == 178.05


def test_stroke_ground_is_twice_the_throw() -> None:
    assert crowns.stroke_ground(47.5) == 95.0
