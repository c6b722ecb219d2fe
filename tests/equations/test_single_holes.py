"""A hole decided by itself: what its line says, and what the lines of its group no longer say."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import single_holes

NAN = float("nan")
PAIRS = ("Studs", "as drawn", "Studs", "1/2-13 UNC", "Rail", "as drawn")
sizes = st.floats(min_value=0.1, max_value=100)


def test_line_among_finds_group_and_choice_together_and_line_found_nothing_for_none() -> None:
    found = single_holes.line_among
    assert found("studs", "1/2-13 unc", "as drawn", *PAIRS) == 2
    assert found("Rail", "", "as drawn", *PAIRS) == 3
    assert found("Rail", "1/2-13 UNC", "as drawn", *PAIRS) == 0
    assert [single_holes.line_found(at) for at in (0.0, 2.0)] == [None, 2.0]


@given(st.integers(1, 8), sizes)
def test_own_or_shared_is_the_line_s_own_figure_where_a_line_decides(
    at: int, shared: float
) -> None:
    own = [float(number) for number in range(1, 9)]
    assert single_holes.own_or_shared(float(at), shared, *own) == at
    assert single_holes.own_or_shared(NAN, shared, *own) == shared


def test_own_or_shared_and_own_or_shared_words_never_fall_back_on_the_group() -> None:
    assert single_holes.own_or_shared(1.0, 6.8, NAN, 8.5) is None
    assert single_holes.own_or_shared_words(1.0, "M8x1.25", "", "M10x1.5") == ""
    assert single_holes.own_or_shared_words(NAN, "M8x1.25", "", "M10x1.5") == "M8x1.25"


def test_unless_own_leaves_the_hole_to_its_line() -> None:
    assert [single_holes.unless_own(line, 21.5) for line in (NAN, 2.0)] == [21.5, None]


def test_tool_unless_own_and_hand_unless_own_say_that_the_hole_is_not_done_here() -> None:
    assert single_holes.tool_unless_own(NAN, "drill F") == "drill F"
    assert single_holes.tool_unless_own(3.0, "drill F") == single_holes.hand_unless_own(3.0)
    assert single_holes.hand_unless_own(NAN) == "by hand"


def test_left_out_in_words_is_said_once_any_hole_of_the_card_has_a_line() -> None:
    assert single_holes.left_out_in_words(NAN, NAN) == ""
    assert "LEAVE OUT" in single_holes.left_out_in_words(NAN, 2.0)


def test_major_there_is_the_group_s_thread_only_where_the_hole_is_opened_beyond_it() -> None:
    assert [single_holes.major_there(major, 8.0) for major in (8.0, 10.0)] == [0, 8.0]


def test_relief_alike_grows_with_the_thread_and_is_none_where_the_group_has_none() -> None:
    assert single_holes.relief_alike(15 / 32, 7 / 16, 1 / 2) == 17 / 32  # common practice
    assert single_holes.relief_alike(0.0, 7 / 16, 1 / 2) == 0


def test_single_wall_and_single_wall_after_are_blank_where_nothing_is_stated() -> None:
    assert single_holes.single_wall(50.0, 12.7, 80.0) == pytest.approx(3.65)
    assert single_holes.single_wall(0.0, 12.7, 80.0) is None
    assert single_holes.single_wall_after(0.250, 0.4375, 0.5) == pytest.approx(0.21875)
    assert single_holes.single_wall_after(0.0, 0.4375, 0.5) is None


ASKED = pytest.mark.parametrize(
    ("hole", "known", "verdict"),
    [("D4", 1.0, "OUT"), ("", 1.0, ""), ("D4", 0.0, ""), ("D4", NAN, "OPEN"), ("", NAN, "")],
)


@ASKED
def test_single_at_least_single_at_most_and_single_between_judge_a_line_in_use(
    hole: str, known: float, verdict: str
) -> None:
    assert single_holes.single_at_least(hole, known, 1.0, 2.0) == verdict
    assert single_holes.single_at_most(hole, known, 3.0, 2.0) == verdict
    assert single_holes.single_between(hole, known, 3.0, 1.0, 2.0) == verdict


@ASKED
def test_gauged_at_most_gauged_between_and_single_done_judge_what_is_found_of_it(
    hole: str, known: float, verdict: str
) -> None:
    assert single_holes.gauged_at_most(hole, known, 3.0, 2.0, 0.1) == verdict
    assert single_holes.gauged_between(hole, known, 3.0, 1.0, 2.0, 0.1) == verdict
    assert single_holes.single_done(hole, known, "half") == verdict


def test_a_size_that_is_not_there_leaves_the_line_open() -> None:
    assert single_holes.single_between("D4", 1.0, NAN, 1.0, 2.0) == "OPEN"
    assert single_holes.single_at_least("D4", 1.0, 2.0, NAN) == "OPEN"
    assert single_holes.gauged_at_most("D4", 1.0, NAN, 2.0, 0.1) == "OPEN"


def test_named_once_and_new_hole_know_a_name_capitals_or_not() -> None:
    assert single_holes.named_once("d4", "D4", "", "d4") == "OUT"
    assert single_holes.named_once("", "", "") == ""
    assert [single_holes.new_hole(name, "D1", "D4") for name in ("d4", "X1", "")] == [0, 1, None]


@pytest.mark.parametrize(
    ("verdicts", "worst"),
    [
        (("OK", "", "UNSURE"), "UNSURE"),
        (("UNSURE", "OPEN"), "OPEN"),
        (("OPEN", "OUT", "OK"), "OUT"),
        (("", "OK"), "OK"),
        (("", ""), ""),
    ],
)
def test_worst_of_is_what_says_most_against_the_line(verdicts: tuple[str, ...], worst: str) -> None:
    assert single_holes.worst_of(*verdicts) == worst


def test_forbidden_or_left_out_says_first_what_forbids_the_cut() -> None:
    stopped, left = "DO NOT DRILL: floor OUT", "LEAVE OUT the holes that have a line of their own"
    assert single_holes.forbidden_or_left_out(stopped, NAN, 1.0) == stopped
    assert single_holes.forbidden_or_left_out("", NAN, 1.0) == left
    assert single_holes.forbidden_or_left_out("", NAN, NAN) == ""
