"""What a card says of a cut by its verdicts: common practice, no source."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import forbidden_cuts


@pytest.mark.parametrize(
    ("verdicts", "said"),
    [
        (("OK", "OK", "OK"), ""),
        (("", "", ""), ""),
        (("OPEN", "UNSURE", "STALE"), "DO NOT DRILL YET: depth, floor, wall in doubt"),
        (("OK", "STALE", ""), "DO NOT DRILL YET: floor in doubt"),
        (("OPEN", "OK", "UNSURE"), "DO NOT DRILL YET: depth, wall in doubt"),
        (("OUT", "OK", ""), "DO NOT DRILL: depth OUT"),
        (("", "OUT", "OK"), "DO NOT DRILL: floor OUT"),
        (("OK", "OPEN", "OUT"), "DO NOT DRILL: wall OUT"),
        (("OUT", "OUT", "UNSURE"), "DO NOT DRILL: depth, floor OUT"),
        (("OUT", "OK", "OUT"), "DO NOT DRILL: depth, wall OUT"),
        (("OK", "OUT", "OUT"), "DO NOT DRILL: floor, wall OUT"),
        (("OK", "OK", "", "OUT"), "DO NOT DRILL: hole OUT"),
        (("OUT", "", "OUT", "OUT"), "DO NOT DRILL: depth, wall, hole OUT"),
        (("OK", "STALE", "OK", "UNSURE"), "DO NOT DRILL YET: floor, hole in doubt"),
        (("OUT", "OUT", "OUT"), "DO NOT DRILL: depth, floor, wall OUT"),
    ],
)
def test_forbidden_names_all_that_is_out_or_else_all_that_is_in_doubt(
    verdicts: tuple[str, ...], said: str
) -> None:
    assert forbidden_cuts.forbidden(*(*verdicts, "")[:4]) == said


@pytest.mark.parametrize(
    ("verdicts", "about"),
    [
        (("OK", "OK", ""), ""),
        (("OPEN", "OK", "OK"), "depth OPEN: "),
        (("OPEN", "UNSURE", "OK"), "floor UNSURE: "),
        (("OPEN", "UNSURE", "STALE"), "wall STALE: "),
        (("STALE", "OUT", "OUT"), "floor OUT: "),
        (("OUT", "OUT", "OUT"), "depth OUT: "),
        (("OK", "UNSURE", "OK", "OUT"), "hole OUT: "),
    ],
)
def test_before_the_cut_tells_of_the_worst_verdict_what_to_do(
    verdicts: tuple[str, ...], about: str
) -> None:
    verdicts = (*verdicts, "")[:4]
    said = forbidden_cuts.before_the_cut(*verdicts)
    assert said.startswith(about)
    assert bool(said) == bool(forbidden_cuts.forbidden(*verdicts)) == (len(said) > len(about))


@given(st.tuples(*[st.sampled_from(["OK", "", "OUT", "STALE", "UNSURE", "OPEN"])] * 4))
def test_counterbore_forbidden_says_the_same_in_its_own_word(
    verdicts: tuple[str, str, str, str],
) -> None:
    said = forbidden_cuts.forbidden(*verdicts)
    assert forbidden_cuts.counterbore_forbidden(*verdicts) == said.replace("DRILL", "COUNTERBORE")


@given(st.tuples(*[st.sampled_from(["OK", "", "OUT", "STALE", "UNSURE", "OPEN"])] * 4))
def test_forbidden_and_before_the_cut_are_silent_only_where_nothing_is_against_a_cut(
    verdicts: tuple[str, str, str, str],
) -> None:
    clear = set(verdicts) <= {"OK", ""}
    assert (forbidden_cuts.forbidden(*verdicts) == "") == clear
    assert (forbidden_cuts.before_the_cut(*verdicts) == "") == clear


@pytest.mark.parametrize(
    ("drilled", "probed", "held"),
    [  # each with how its check stands
        (("OK", "passes"), ("", "passes"), ""),
        (("OUT", "holds"), ("", "passes"), "OUT"),
        (("OUT", "conceded"), ("", "passes"), ""),
        (("OUT", "passes"), ("OK", "passes"), ""),  # answered by the first hole
        (("OUT", "passes"), ("OUT", "holds"), "OUT"),
        (("OK", "passes"), ("UNSURE", "holds"), "UNSURE"),
        (("OUT", "passes"), ("OUT", "conceded"), ""),
        (("OUT", "left"), ("", "left"), "OUT"),  # as safe as where it is not left
    ],
)
def test_hole_held_is_what_nobody_conceded_and_no_first_hole_answers(
    drilled: tuple[str, str], probed: tuple[str, str], held: str
) -> None:
    assert forbidden_cuts.hole_held(*drilled, *probed) == held


@pytest.mark.parametrize(
    ("verdicts", "said"),
    [
        (("OK", "", "OK"), ""),
        (("OPEN", "OK"), "DO NOT DRILL YET: in doubt below"),
        (("STALE", "UNSURE"), "DO NOT DRILL YET: in doubt below"),
        (("OPEN", "OUT", "OK"), "DO NOT DRILL: OUT below"),
    ],
)
def test_line_forbidden_says_whether_a_line_is_out_or_in_doubt(
    verdicts: tuple[str, ...], said: str
) -> None:
    assert forbidden_cuts.line_forbidden(*verdicts) == said


@pytest.mark.parametrize(
    ("verdicts", "said"),
    [
        (("OK", "", "OK", ""), "LEAVE OUT the holes that have a line of their own"),
        (("OK", "OPEN", "", "OK"), forbidden_cuts.TAP_NOT_YET),
        (("STALE", "OK", "UNSURE", ""), forbidden_cuts.TAP_NOT_YET),
        (("OPEN", "OK", "OUT", ""), forbidden_cuts.DO_NOT_TAP),
        (("OK", "OK", "OK", "OUT"), forbidden_cuts.DO_NOT_TAP),
    ],
)
def test_tapping_forbidden_or_left_out_says_not_to_tap_what_may_not_be_drilled(
    verdicts: tuple[str, str, str, str], said: str
) -> None:
    assert forbidden_cuts.tapping_forbidden_or_left_out(*verdicts, 1.0) == said
