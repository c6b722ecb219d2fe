"""What a hole is opened to: found among the choices, and what grows with its thread."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import openings

CHOICES = ("as drawn", "3/8-16 UNC", "7/16-14 UNC")


def test_place_among_finds_what_is_typed_capitals_or_not_and_the_usual_where_nothing_is() -> None:
    assert openings.place_among("7/16-14 unc", CHOICES[0], *CHOICES) == 3
    assert openings.place_among("", CHOICES[0], *CHOICES) == 1
    assert openings.place_among("7/16", CHOICES[0], *CHOICES) is None
    assert openings.place_among("", "", *CHOICES) is None


@given(st.integers(1, 3))
def test_value_at_is_the_figure_that_stands_in_its_place(place: int) -> None:
    assert (
        openings.value_at(float(place), 0.3125, 0.375, 0.4375) == (0.3125, 0.375, 0.4375)[place - 1]
    )


def test_relief_opened_stands_as_far_over_the_new_thread_as_over_the_old() -> None:
    # counterbore sizes of common practice: 15/32 over 7/16, 17/32 over 1/2
    assert openings.relief_opened(15 / 32, 7 / 16, 1 / 2) == 17 / 32


def test_relief_deepened_takes_as_many_turns_away() -> None:
    deep = openings.relief_deepened(depth=3 / 32, drawn_pitch=1 / 14, pitch=1 / 13)
    assert deep * 13 == pytest.approx(3 / 32 * 14), "in pitches"


def test_major_before_is_the_drawn_thread_once_the_hole_is_opened_beyond_it() -> None:
    assert openings.major_before(option=3.0, before=0.0, drawn=8.0) == 8
    assert openings.major_before(option=1.0, before=0.0, drawn=8.0) == 0
    assert openings.major_before(option=1.0, before=6.0, drawn=8.0) == 6


def test_cutter_of_relief_names_no_size_it_does_not_know() -> None:
    nan = float("nan")
    assert openings.cutter_of_relief(nan, "counterbore 8.5 mm") == "counterbore 8.5 mm"
    assert "8.5" not in openings.cutter_of_relief(9.0, "counterbore 8.5 mm")
    assert openings.cutter_of_relief(nan, "") == ""


def test_tools_in_words_says_a_change_of_thread_or_of_drill() -> None:
    said = [openings.tools_in_words(*at) for at in ((1.0, 1.0), (2.0, 1.0), (1.0, 2.0))]
    assert said[0] == "as drawn"
    assert said[1] == said[2] != said[0]


def test_relief_at_least_and_relief_at_most_are_the_ends_of_its_tolerance() -> None:
    assert openings.relief_at_least(1.6, 0.2) == pytest.approx(1.4)
    assert openings.relief_at_most(1.6, 0.4) == pytest.approx(2.0)


def test_decided_by_whom_wants_initials_of_what_is_not_as_drawn() -> None:
    assert openings.decided_by_whom("", "") == ""
    assert openings.decided_by_whom("as drawn", "") == ""
    assert openings.decided_by_whom("1/2-13 UNC", "") == "OPEN"
    assert openings.decided_by_whom("1/2-13 UNC", "A. N.") == "OK"
