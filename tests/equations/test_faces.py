"""Faces at their corners, and what a cut parallel to something leaves: worked figures, and planes
laid by least squares through points.

Sources: geometry; the heights are invented. Planes by numpy.linalg.lstsq know nothing of corners.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import faces, heights
from engines import Results
from faces_cut import (
    CUTS,
    NAMES,
    POINTS,
    above,
    after,
    bottoms,
    decks,
    fitted,
    metal,
    milled,
    planes,
    to,
)
from two_roads import Work, differences
from witnesses import witness

OFF_AT = [
    faces.off_at_front_left,
    faces.off_at_front_right,
    faces.off_at_rear_left,
    faces.off_at_rear_right,
]

Corners = Sequence[float]
NAN = math.nan


@witness(faces.on_plane, by="solver")
@given(decks)
def test_on_plane_is_the_plane_of_least_squares_and_has_no_twist(deck: list[float]) -> None:
    assert planes(deck) == pytest.approx(fitted(deck), abs=1e-9)
    assert heights.twist(*planes(deck)) == pytest.approx(0, abs=1e-9)
    # and what is left of the corners is half the twist, up and down in turn
    half = heights.twist(*deck) / 2
    assert [one - plane for one, plane in zip(deck, planes(deck), strict=True)] == to(
        [half, -half, -half, half]
    )


@witness(
    faces.height_after,
    faces.infeed,
    faces.above_base,
    faces.base,
    faces.base_without_opposite,
    faces.cut_taken,
    heights.lowest_corner,
    by="coordinates",
)
@given(decks, bottoms, metal, st.sampled_from(CUTS))
def test_height_after_is_a_plane_brought_down_below_the_lowest_corner(
    deck: list[float], bottom: list[float], cut: float, parallel_to: str
) -> None:
    found = after(deck, parallel_to, cut, bottom)
    assert found == pytest.approx(milled(deck, parallel_to, cut, bottom), abs=1e-9)
    assert found == pytest.approx(fitted(found), abs=1e-9), "a cut leaves a plane"
    off = [one - other for one, other in zip(deck, found, strict=True)]
    assert min(off) == pytest.approx(cut, abs=1e-9)
    stand = above(deck, parallel_to, bottom)
    assert off[stand.index(min(stand))] == pytest.approx(cut, abs=1e-9)


@given(decks, bottoms, metal, metal, st.sampled_from([*CUTS, faces.NOT_CUT]))
def test_overall_at_corner_is_what_was_there_less_what_came_off_either_face(
    deck: list[float], overall_less: list[float], cut: float, bottom_cut: float, parallel_to: str
) -> None:
    overall = [one + other for one, other in zip(deck, overall_less, strict=True)]
    bottom = [faces.bottom_at_corner(*one) for one in zip(overall, deck, strict=True)]
    bottom_after = after(bottom, faces.ALONG_ITSELF, bottom_cut)
    deck_after = after(deck, parallel_to, cut, bottom_after)
    for at in range(4):
        off = (deck[at] - deck_after[at]) + (bottom[at] - bottom_after[at])
        found = faces.overall_at_corner(deck_after[at], bottom_after[at])
        assert found == pytest.approx(overall[at] - off, abs=1e-9)
        left = faces.bottom_at_corner(found, deck_after[at])
        assert heights.end_closure(left, left, bottom_after[at]) == pytest.approx(0, abs=1e-9)


@given(decks, metal)
def test_a_face_not_cut_stays_as_it_is_whatever_cut_taken_stands_beside(
    deck: list[float], cut: float
) -> None:
    for beside in (cut, NAN):
        assert after(deck, faces.NOT_CUT, beside) == to(deck)
        assert faces.cut_taken(faces.NOT_CUT, beside) == 0
    assert faces.cut_taken(faces.ALONG_AXIS, NAN) is None


def test_base_is_missing_until_it_is_chosen_and_where_its_own_input_is_missing() -> None:
    for blank in ("", "crank", "opposite"):
        assert faces.base(blank, 220.0, 220.0, 80.0) is None
    assert faces.base(faces.ALONG_OPPOSITE, 220.0, 220.0, NAN) is None
    assert faces.base(faces.ALONG_ITSELF, 220.0, NAN, 80.0) is None
    assert faces.base(faces.NOT_CUT, NAN, 220.0, 80.0) is None
    assert faces.base(faces.ALONG_AXIS, 220.0, 220.0, NAN) == 0, "the bottom need not be read"


@given(decks)
def test_base_without_opposite_is_base_but_for_the_opposite_face(deck: list[float]) -> None:
    for parallel_to in (faces.ALONG_AXIS, faces.ALONG_ITSELF, faces.NOT_CUT):
        assert faces.base_without_opposite(parallel_to, deck[0], deck[1]) == faces.base(
            parallel_to, deck[0], deck[1], 80.0
        )
    assert faces.base_without_opposite(faces.ALONG_OPPOSITE, deck[0], deck[1]) is None


def test_base_clocked_gives_a_deck_level_with_the_mandrel_and_not_with_the_crank_line() -> None:
    """A worn saddle in front: the mandrel is 0.04 up there, 0.01 behind, and the deck follows."""
    seats, deck = [0.04, 0.04, 0.01, 0.01], [220.0] * 4
    axis = [faces.base_clocked(faces.ALONG_AXIS, 0.0, one) for one in seats]
    stand = list(map(faces.above_base, deck, axis))
    down = faces.infeed(0.02, faces.highest_corner(*stand), heights.lowest_corner(*stand))
    found = [
        faces.height_after(faces.ALONG_AXIS, faces.highest_corner(*stand), down, one, 0.0)
        for one in axis
    ]
    assert [one - seat for one, seat in zip(found, seats, strict=True)] == to([219.94] * 4)
    assert faces.base_clocked(faces.ALONG_OPPOSITE, 80.0, 0.04) == 80.0, "stood on its bottom"
    assert faces.base_clocked(faces.ALONG_ITSELF, -220.0, 0.04) == -220.0, "clocked on itself"


# --- worked figures


TILTED, LEANING = [220.03, 220.03, 219.99, 219.99], [300.00, 300.00, 300.04, 300.04]


def test_bottom_at_corner_of_the_worked_block() -> None:
    bottom = [faces.bottom_at_corner(*one) for one in zip(LEANING, TILTED, strict=True)]
    assert bottom == to([79.97, 79.97, 80.05, 80.05])


@pytest.mark.parametrize(
    ("parallel_to", "deck", "overall"),
    [
        (faces.ALONG_AXIS, [219.97] * 4, [299.94, 299.94, 300.02, 300.02]),
        (faces.ALONG_OPPOSITE, [220.01, 220.01, 219.93, 219.93], [299.98] * 4),
        (faces.ALONG_ITSELF, [220.01, 220.01, 219.97, 219.97], [299.98, 299.98, 300.02, 300.02]),
        (faces.NOT_CUT, TILTED, LEANING),
    ],
)
def test_height_after_on_a_tilted_deck_hangs_on_what_the_cut_is_parallel_to(
    parallel_to: str, deck: list[float], overall: list[float]
) -> None:
    bottom = [79.97, 79.97, 80.05, 80.05]
    found = after(TILTED, parallel_to, 0.02, bottom)
    assert found == to(deck)
    assert list(map(faces.overall_at_corner, found, bottom)) == to(overall)


def test_the_least_overall_after_a_cut_along_the_axis_is_not_the_lowest_less_the_cut() -> None:
    found = after(TILTED, faces.ALONG_AXIS, 0.02)
    overall = map(faces.overall_at_corner, found, [79.97, 79.97, 80.05, 80.05])
    assert heights.lowest_corner(*overall) == pytest.approx(299.94)
    assert heights.lowest_corner(*LEANING) - 0.02 == pytest.approx(299.98)


def test_a_twisted_deck_clocked_true_comes_out_level() -> None:
    deck = [220.00, 219.97, 219.97, 220.00]
    assert after(deck, faces.ALONG_ITSELF, 0.02) == to([219.95] * 4)


def test_a_twisted_bottom_under_a_level_deck_gives_it_its_plane() -> None:
    bottom = [80.00, 80.00, 80.00, 79.94]
    found = after([220.0] * 4, faces.ALONG_OPPOSITE, 0.02, bottom)
    assert found == to([219.92, 219.95, 219.95, 219.98])
    assert list(map(faces.overall_at_corner, found, bottom)) == to([299.92, 299.95, 299.95, 299.92])


def test_deck_after_line_bore_and_bottom_after_line_bore_where_the_rear_rises_more() -> None:
    lifts = [faces.on_line(0.05, 0.13, place, 20.0, 480.0) for place, _ in POINTS]
    assert lifts == to([0.05, 0.05, 0.13, 0.13])
    deck = [faces.deck_after_line_bore(220.00, lift) for lift in lifts]
    found = after(deck, faces.ALONG_AXIS, 0.02)
    assert found == to([219.85] * 4)
    assert [one - other for one, other in zip(deck, found, strict=True)] == to(
        [0.10, 0.10, 0.02, 0.02]
    )
    bottom = [faces.bottom_after_line_bore(80.00, lift) for lift in lifts]
    assert bottom == to([80.05, 80.05, 80.13, 80.13])
    assert list(map(faces.overall_at_corner, deck, bottom)) == to([300.0] * 4), "boring cuts none"


@witness(faces.on_line, by="coordinates")
@given(st.floats(-1, 1), st.floats(-0.001, 0.001), st.floats(0, 500))
def test_on_line_at_any_place_of_a_line_is_the_line(
    level: float, slope: float, place: float
) -> None:
    line = [level + slope * at for at in (20.0, 480.0, place)]
    assert faces.on_line(line[0], line[1], place, 20.0, 480.0) == pytest.approx(line[2], abs=1e-12)


@given(decks, metal)
def test_infeed_from_the_highest_corner_comes_to_the_plane_of_the_cut_off_the_lowest(
    deck: list[float], cut: float
) -> None:
    highest, lowest = faces.highest_corner(*deck), heights.lowest_corner(*deck)
    assert highest == max(deck)
    down = faces.infeed(cut, highest, lowest)
    assert highest - down == pytest.approx(after(deck, faces.ALONG_AXIS, cut)[0], abs=1e-9)


def test_infeed_of_the_tilted_deck_is_what_comes_off_its_front() -> None:
    assert faces.infeed(0.02, 220.03, 219.99) == pytest.approx(0.06)


@given(st.sampled_from(NAMES), *[st.floats(-0.05, 0.05)] * 3)
def test_off_at_front_left_off_at_front_right_off_at_rear_left_off_at_rear_right_are_a_plane(
    touched: str, infeed: float, along: float, across: float
) -> None:
    off = [one(touched, infeed, along, across) for one in OFF_AT]
    assert off[NAMES.index(touched)] == infeed, "only touch and infeed are off where it touched"
    assert heights.tilt_lengthwise(*off) == pytest.approx(along, abs=1e-12)
    assert heights.tilt_crosswise(*off) == pytest.approx(across, abs=1e-12)
    assert heights.twist(*off) == pytest.approx(0, abs=1e-12)


def test_sound_heights_are_those_whose_closure_is_not_out() -> None:
    for verdict, found in (("OK", 220.0), ("UNSURE", 220.0), ("OUT", None), ("OPEN", None)):
        assert faces.sound(220.0, verdict) == found


@given(decks, metal)
def test_most_taken_is_the_infeed_where_the_cut_is_level(deck: list[float], cut: float) -> None:
    taken = [
        one - other for one, other in zip(deck, after(deck, faces.ALONG_AXIS, cut), strict=True)
    ]
    down = faces.infeed(cut, max(deck), min(deck))
    assert faces.most_taken(*taken) == pytest.approx(down, abs=1e-9)


def test_height_after_takes_what_the_work_is_off_by_of_a_face_that_is_cut_alone() -> None:
    assert faces.height_after(faces.ALONG_AXIS, 220.03, 0.06, 0.0, 0.005) == pytest.approx(219.975)
    assert faces.height_after(faces.NOT_CUT, 0.0, 0.0, -220.03, 0.005) == pytest.approx(220.03)


@given(decks, st.floats(79.9, 80.1), st.floats(-0.1, 0.1), st.floats(-0.1, 0.1))
def test_above_base_on_a_bottom_that_does_not_rock_is_the_overall_height(
    deck: list[float], height: float, back: float, left: float
) -> None:
    bottom = [height + left, height, height + left + back, height + back]
    overall = map(faces.overall_at_corner, deck, bottom)
    assert above(deck, faces.ALONG_OPPOSITE, bottom) == to(list(overall))


# --- both roads


HEIGHTS = {"height": 220.0, "plane": 219.985, "opposite_plane": 79.97}
WORKS: list[Work] = [
    (faces.bottom_at_corner, {"overall_height": 300.04, "deck_height": 219.99}),
    (
        faces.on_line,
        {"front": 0.05, "rear": 0.13, "place": 250.0, "front_place": 20.0, "rear_place": 480.0},
    ),
    (faces.deck_after_line_bore, {"deck_height": 220.0, "lift": 0.13}),
    (faces.bottom_after_line_bore, {"bottom_height": 80.0, "lift": 0.13}),
    (
        faces.on_plane,
        {"height": 220.0, "next_along": 219.97, "next_across": 219.98, "opposite": 220.01},
    ),
    *(
        (equation, {"parallel_to": words} | {name: HEIGHTS[name] for name in names} | missing)
        for equation, names in (
            (faces.base_without_opposite, ["height", "plane"]),
            (faces.base, list(HEIGHTS)),
        )
        for words in (*CUTS, faces.NOT_CUT, "", None)
        for missing in ({}, *({name: None} for name in names))
    ),
    *(
        (faces.base_clocked, {"parallel_to": words, "base": -220.0, "mandrel_when_cut": 0.03})
        for words in (faces.ALONG_AXIS, faces.ALONG_ITSELF)
    ),
    (faces.above_base, {"height": 219.99, "base": 80.05}),
    (faces.highest_corner, {"corners": TILTED}),
    *(
        (faces.cut_taken, {"parallel_to": words, "cut": cut})
        for words in (faces.ALONG_AXIS, faces.NOT_CUT, None)
        for cut in (0.02, None)
    ),
    *(
        (
            faces.height_after,
            {"parallel_to": words, "highest_above_base": 300.0, "infeed": 0.02}
            | {"base": 79.97, "work_off": 0.005},
        )
        for words in (*CUTS, faces.NOT_CUT)
    ),
    *(
        (equation, {"touch_on": words, "infeed_off": 0.005, "along_off": 0.02, "across_off": 0.01})
        for equation in OFF_AT
        for words in NAMES
    ),
    (faces.overall_at_corner, {"deck_after": 219.97, "bottom_after": 79.97}),
    (faces.infeed, {"cut_taken": 0.02, "highest_above_base": 220.03, "lowest_above_base": 219.99}),
]


def test_both_roads_of_every_equation_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    assert not differences(engine, tmp_path / "faces.xlsx", WORKS)
