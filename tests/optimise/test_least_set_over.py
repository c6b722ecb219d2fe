"""The least set-over of a row: the closed form where no limit stands in the way, and what trying
every set-over finds.

Sources: geometry; the search by trial is the witness.
"""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.equations import walls
from datumbook.optimise.least_metal import SizeLimit
from datumbook.optimise.least_set_over import across_of, least_set_over
from long_runs import examples

STEP, MOST = 0.01, 3  # a grid of set-overs, so many steps to either side
steps = st.integers(-MOST, MOST).map(lambda number: number * STEP)


def limit(coefficients: dict[str, float], before: float) -> SizeLimit:
    return SizeLimit("a wall", coefficients, before, "low", 1.0, "invented")


@st.composite
def rows(draw: st.DrawFn) -> tuple[dict[str, float], list[SizeLimit]]:
    """Two or three bores, walls before and behind each with little to spare, a land between
    neighbours now and then.
    """
    bores = [str(number) for number in range(1, draw(st.integers(2, 3)) + 1)]
    limits = []
    for bore in bores:
        limits += [
            limit({bore: side}, 1.0 + draw(st.integers(-1, MOST)) * STEP) for side in (1.0, -1.0)
        ]
    for front, rear in itertools.pairwise(bores):
        if draw(st.booleans()):
            limits.append(limit({front: -1.0, rear: 1.0}, 1.0 + draw(st.integers(-2, 2)) * STEP))
    return {bore: draw(steps) for bore in bores}, limits


def left_out(off_place: dict[str, float], offsets: dict[str, float], shift: float) -> float:
    return sum(abs(off + offsets[bore] + shift) for bore, off in off_place.items())


def tried(off_place: dict[str, float], limits: list[SizeLimit]) -> list[tuple[float, float]]:
    """What every set-over on the grid that keeps the limits leaves out of the row, and its
    largest.
    """
    grid = [number * STEP / 2 for number in range(-2 * MOST, 2 * MOST + 1)]
    found = []
    for each in itertools.product(grid, repeat=len(off_place)):
        offsets = dict(zip(off_place, each, strict=True))
        if all(one.margin(offsets) >= 0 for one in limits):
            shifts = [
                -off_place[bore] - offsets[bore] for bore in off_place
            ]  # the best shift puts one bore back
            found.append(
                (min(left_out(off_place, offsets, shift) for shift in shifts), max(map(abs, each)))
            )
    return found


@settings(max_examples=examples(60), deadline=None)
@given(rows())
def test_least_set_over_is_what_trying_every_set_over_finds(
    row: tuple[dict[str, float], list[SizeLimit]],
) -> None:
    off_place, limits = row
    answer, found = least_set_over(off_place, limits), tried(*row)
    assert (answer.sizes is None) == (not found)
    if answer.sizes is None:
        return
    assert all(one.margin(answer.sizes) >= 0 for one in limits)
    offsets = {bore: answer.sizes[bore] for bore in off_place}
    assert {answer.sizes[across_of(bore)] for bore in off_place} == {0.0}
    best, largest = min((round(left, 9), most) for left, most in found)
    shifts = [-off_place[bore] - offsets[bore] for bore in off_place]
    assert min(left_out(off_place, offsets, shift) for shift in shifts) == pytest.approx(
        best, abs=1e-7
    )
    assert max(map(abs, offsets.values())) <= largest + 1e-7


@settings(max_examples=examples(60), deadline=None)
@given(rows())
def test_every_limit_of_a_conflict_is_needed_for_it(
    row: tuple[dict[str, float], list[SizeLimit]],
) -> None:
    off_place, limits = row
    answer = least_set_over(off_place, limits)
    if answer.sizes is None:
        assert least_set_over(off_place, answer.conflict).sizes is None
        for out in answer.conflict:
            assert (
                least_set_over(off_place, [one for one in answer.conflict if one is not out]).sizes
                is not None
            )
    else:
        assert answer.conflict == ()


@given(st.lists(st.floats(-0.3, 0.3), min_size=1, max_size=6))
def test_with_no_limit_in_the_way_it_is_the_closed_form_of_the_sheet(off: list[float]) -> None:
    off = [round(each, 4) for each in off]
    found = least_set_over({str(number): each for number, each in enumerate(off)}, []).sizes
    assert found is not None
    shift = walls.row_shift(*off)
    assert [found[str(number)] for number in range(len(off))] == pytest.approx(
        [walls.boring_offset(each, shift) for each in off], abs=1e-7
    )


def test_set_overs_are_rounded_where_the_limits_leave_room() -> None:
    off = {"1": 0.012, "2": 0.0}  # each goes 0.006 its way
    level = {across_of("1"): 0.0, across_of("2"): 0.0}
    assert least_set_over(off, []).rounded(2) == {"1": -0.01, "2": 0.01} | level
    tight = [limit({"2": -1.0}, 1.006)]
    assert least_set_over(off, tight).rounded(2) == {"1": -0.006, "2": 0.006} | level
    assert [one.coefficients for one in least_set_over(off, tight).binding] == [{"2": -1.0}]


walls_round = st.lists(
    st.tuples(st.integers(0, 11), st.integers(-2, 4)), min_size=1, max_size=5
)  # at which hour, and how much it has to spare


@settings(max_examples=examples(60), deadline=None)
@given(walls_round)
def test_no_way_across_that_keeps_every_wall_is_shorter(walls_read: list[tuple[int, int]]) -> None:
    limits = [
        limit(
            {"1": math.cos(hour * math.pi / 6), across_of("1"): math.sin(hour * math.pi / 6)},
            1.0 + spare * STEP,
        )
        for hour, spare in walls_read
    ]
    answer = least_set_over({"1": 0.0}, limits)
    grid = [number * STEP / 2 for number in range(-20, 21)]
    tries = [
        each
        for each in itertools.product(grid, repeat=2)
        if all(one.margin({"1": each[0], across_of("1"): each[1]}) >= 0 for one in limits)
    ]
    if answer.sizes is None:
        assert not tries
        for out in answer.conflict:
            rest = [one for one in answer.conflict if one is not out]
            assert least_set_over({"1": 0.0}, rest).sizes is not None
    else:
        assert all(one.margin(answer.sizes) >= -1e-8 for one in limits)
        least = min((abs(across) for _, across in tries), default=math.inf)
        assert abs(answer.sizes[across_of("1")]) <= least + 1e-7
