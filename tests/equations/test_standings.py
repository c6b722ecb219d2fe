"""Standings: what lets the block go and what holds it up. Common practice, no source; each case
worked by hand.
"""

from __future__ import annotations

import math

import pytest

from datumbook.equations import standings, station_lines, verdicts

NAN = math.nan


SIGNED = ("owner accepts", "A. N.", "2026-05-04")


@pytest.mark.parametrize("lacking", [0, 1, 2])
def test_standing_without_reason_name_or_date_holds(lacking: int) -> None:
    signed = ["" if place == lacking else word for place, word in enumerate(SIGNED)]
    assert standings.standing("OUT", 0.043, 0.043, *signed, 0.0005, "") == "holds"
    assert standings.standing_of_tick("OPEN", *signed, "") == "holds"
    assert standings.standing("OK", 0.043, NAN, *signed, 0.0005, "") == "passes"


@pytest.mark.parametrize(
    ("value", "conceded_value", "standing"),
    [
        (0.043, 0.0435, "conceded"),
        (0.043, 0.0436, "holds"),
        (0.043, NAN, "holds"),
        (NAN, NAN, "conceded"),
        (NAN, 0.043, "holds"),
    ],
)
def test_standing_is_conceded_for_the_value_of_today_only(
    value: float, conceded_value: float, standing: str
) -> None:
    assert standings.standing("OUT", value, conceded_value, *SIGNED, 0.0005, "") == standing


def test_standing_of_tick_passes_when_the_work_is_done_and_is_conceded_when_signed() -> None:
    assert standings.standing_of_tick("OK", "", "", "", "") == "passes"
    assert standings.standing_of_tick("OUT", *SIGNED, "") == "conceded"


def test_standing_and_standing_of_tick_pass_what_nothing_is_asked_of() -> None:
    assert standings.standing("", NAN, NAN, "", "", "", 0.0005, "") == "passes"
    assert standings.standing_of_tick("", "", "", "", "") == "passes"


def test_urgency_ranks_out_before_unsure_before_open_and_then_as_printed() -> None:
    ranks = [
        standings.urgency(verdict, "holds", line)
        for verdict in ("OUT", "UNSURE", "OPEN")
        for line in (1.0, 9_999.0)
    ]
    assert ranks == sorted(ranks, reverse=True)
    assert len(set(ranks)) == len(ranks)
    assert standings.urgency("OUT", "conceded", 1.0) == 0


def test_place_of_rank_and_words_at_name_the_gravest_first() -> None:
    ranks = (0.0, 9_998.0, 39_997.0, 0.0)
    assert [standings.place_of_rank(rank, *ranks) for rank in (1.0, 2.0, 3.0)] == [3.0, 2.0, None]
    assert standings.words_at(3.0, "taper", "wear", "tilt", "twist") == "tilt"


def test_holding_passing_under_concession_left_and_holding_here_count_every_check_once() -> None:
    stands = ("passes", "holds", "conceded", "", "passes", "left")
    passing, conceded = standings.passing(*stands), standings.under_concession(*stands)
    left, here = standings.left(*stands), standings.holding_here(*stands)
    assert (passing, conceded, left, here) == (2.0, 1.0, 1.0, 1.0)
    assert standings.holding(float(len(stands)), passing, conceded, left) == 2.0


@pytest.mark.parametrize(
    ("holding", "decision", "reason", "measured_by", "released_by", "released_on", "state"),
    [
        (0.0, "", "", "", "", "", "RELEASABLE"),
        (0.0, "released", "", "A. N.", "B. M.", "2026-05-04", "RELEASED"),
        (0.0, "released", "", "A. N.", "", "2026-05-04", "RELEASABLE"),
        (1.0, "released", "", "A. N.", "B. M.", "2026-05-04", "ON HOLD"),
        (NAN, "released", "", "A. N.", "B. M.", "2026-05-04", "ON HOLD"),
        (1.0, "rejected", "cracked", "", "B. M.", "", "REJECTED"),
        (0.0, "rejected", "cracked", "", "B. M.", "", "REJECTED"),
        (0.0, "rejected", "", "", "B. M.", "", "ON HOLD"),
    ],
)
def test_release_state(
    holding: float,
    decision: str,
    reason: str,
    measured_by: str,
    released_by: str,
    released_on: str,
    state: str,
) -> None:
    assert (
        standings.release_state(holding, decision, reason, measured_by, released_by, released_on)
        == state
    )


def test_shown_again_and_said_again_change_nothing() -> None:
    assert standings.shown_again(82.014) == 82.014
    assert [standings.said_again(words) for words in ("OK", "")] == ["OK", ""]


def test_readings_taken_ticks_made_and_words_given_count_what_is_there_and_taken_in_all_adds() -> (
    None
):
    assert standings.words_given("done", "", "hone", "no") == 3.0
    assert standings.readings_taken(82.01, NAN, 0.0) == 2.0
    assert standings.ticks_made("done", "", "Done", "not done") == 2.0
    assert standings.taken_in_all(3.0, 4.0) == 7.0


def test_standing_once_finished_waits_for_the_finished_reading() -> None:
    assert standings.standing_once_finished("holds", "OPEN") == "holds"
    assert standings.standing_once_finished("holds", "OUT") == "passes", (
        "then the finished check holds by itself"
    )


def test_standing_once_finished_waits_for_every_finished_reading() -> None:
    assert standings.standing_once_finished("holds", "OK", "OPEN", "OK") == "holds"
    assert standings.standing_once_finished("holds", "UNSURE", "OK", "STALE") == "passes"


def test_standing_once_finished_neither_waits_for_nor_is_answered_by_what_asks_nothing() -> None:
    assert standings.standing_once_finished("holds", "") == "holds"
    assert standings.standing_once_finished("holds", "", "") == "holds"
    assert standings.standing_once_finished("holds", "", "OUT") == "passes"
    assert standings.standing_once_finished("holds", "", "OPEN") == "holds"


@pytest.mark.parametrize("verdict", ["OUT", "OPEN", "UNSURE", "STALE", "OK", ""])
def test_standing_of_a_station_left_is_left_whatever_the_verdict(verdict: str) -> None:
    plain = (verdict, NAN, NAN, "", "", "", 0.0005)
    assert standings.standing(*plain, station_lines.AS_IT_IS) == "left"
    assert standings.standing_of_tick(verdict, "", "", "", station_lines.AS_IT_IS) == "left"
    rests = "left" if verdict == "OPEN" else standings.standing(*plain, "")
    assert standings.standing(*plain, "", "", station_lines.AS_IT_IS) == rests
    assert standings.standing_once_finished("left", "OUT") == "left"


def test_worst_said_is_the_worst_of_them_whatever_their_order() -> None:
    ranked = ["", verdicts.OK, verdicts.OPEN, verdicts.UNSURE, verdicts.STALE, verdicts.OUT]
    for worst, said in enumerate(ranked):
        for other in ranked[: worst + 1]:
            assert {standings.worst_said(said, other), standings.worst_said(other, said)} == {said}


@pytest.mark.parametrize("verdict", ["OK", "OUT", "UNSURE", "STALE", "OPEN"])
def test_standing_on_a_guess_holds_whatever_the_verdict_unless_the_station_is_left(
    verdict: str,
) -> None:
    assert standings.standing_on_a_guess(verdict, "") == "holds"
    assert standings.standing_on_a_guess(verdict, station_lines.AS_IT_IS) == "left"
    assert standings.standing_on_a_guess("", "") == "passes"
