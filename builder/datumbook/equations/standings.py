"""Standings: whether the verdicts let the block go, what holds it up, and what is shown again of
them.
"""

from __future__ import annotations

from datumbook.equations.station_lines import AS_IT_IS
from datumbook.equations.verdicts import DONE, NOTHING_ASKED, OK, OPEN, OUT, STALE, UNSURE
from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_most,
    blank,
    cells_saying,
    cells_with_words,
    equal,
    missing,
    more_than,
    nth_largest,
    numbers_in,
    only_where,
    pick,
    position_of,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import Count, Measure, Words

PASSES, CONCEDED, HOLDS, LEFT = "passes", "conceded", "holds", "left"


@takes_blanks
def standing(
    verdict: Words,
    value: Measure,
    conceded_value: Measure,
    reason: Words,
    conceded_by: Words,
    conceded_on: Words,
    half_step: Measure,
    left: Words,
    *rests_on: Words,
) -> Words:
    """Whether a check lets the block go: it passes, as one does of which nothing is asked, its
    station is left as it is, it is conceded for the value it has now, or it holds. One that is OPEN
    and rests on a station that is left as it is asks for nothing either.

    left: whether its own station is left as it is; rests_on: those whose readings it needs.

    A concession needs its reason, its name and its date, and the value conceded must be the value
    of today (to half a step of what is printed); where no reading could be taken both stay blank.

    Source: common practice, no source.

    >>> standing("OUT", 0.043, 0.043, "owner accepts", "A. N.", "2026-05-04", 0.0005, "")
    'conceded'
    """
    same = where(
        missing(value),
        where(missing(conceded_value), CONCEDED, HOLDS),
        where(
            missing(conceded_value),
            HOLDS,
            where(at_most(abs(value - conceded_value), half_step), CONCEDED, HOLDS),
        ),
    )
    unsigned = any_of(blank(reason), blank(conceded_by), blank(conceded_on))
    otherwise = where(_lets_go(verdict), PASSES, where(unsigned, HOLDS, same))
    return where(_left(verdict, left, *rests_on), LEFT, otherwise)


@takes_blanks
def standing_of_tick(
    verdict: Words,
    reason: Words,
    conceded_by: Words,
    conceded_on: Words,
    left: Words,
    *rests_on: Words,
) -> Words:
    """Whether work done or not lets the block go: as `standing`, without a value.

    Source: common practice, no source.

    >>> standing_of_tick("OPEN", "hole not on this block", "A. N.", "2026-05-04", "")
    'conceded'
    """
    unsigned = any_of(blank(reason), blank(conceded_by), blank(conceded_on))
    otherwise = where(_lets_go(verdict), PASSES, where(unsigned, HOLDS, CONCEDED))
    return where(_left(verdict, left, *rests_on), LEFT, otherwise)


@takes_blanks
def standing_on_a_guess(verdict: Words, left: Words, *rests_on: Words) -> Words:
    """Whether a check that rests on a guess of the engine file lets the block go: never where it is
    asked for, and no concession stands for it.

    Source: common practice, no source.

    >>> standing_on_a_guess("UNSURE", ""), standing_on_a_guess("UNSURE", "left as it is")
    ('holds', 'left')
    """
    return where(_left(verdict, left, *rests_on), LEFT, where(blank(verdict), PASSES, HOLDS))


def _left(verdict: str, left: str, *rests_on: str) -> bool:
    unread = [all_of(equal(verdict, OPEN), equal(one, AS_IT_IS)) for one in rests_on]
    return any_of(equal(left, AS_IT_IS), *unread)


def _lets_go(verdict: str) -> bool:
    return any_of(equal(verdict, OK), blank(verdict))


@takes_blanks
def standing_once_finished(standing: Words, *finished: Words) -> Words:
    """Whether a check as received or planned lets the block go: once every finished reading that
    answers it is taken, those are judged. A finished check of which nothing is asked answers
    nothing by itself, and is not waited for.

    Source: common practice, no source.

    >>> standing_once_finished("holds", "OK", "OPEN"), standing_once_finished("holds", "OK", "OUT")
    ('holds', 'passes')
    """
    unanswered = all_of(*(blank(one) for one in finished))
    open_still = [equal(one, OPEN) for one in finished]
    return where(any_of(unanswered, equal(standing, LEFT), *open_still), standing, PASSES)


@takes_blanks
def urgency(verdict: Words, standing: Words, line: Count) -> Count:
    """The rank of a check among what holds the job up: OUT, STALE, UNSURE, OPEN, then in the order
    printed.

    Source: common practice, no source.

    >>> urgency("OUT", "holds", 3.0)
    39997.0
    """
    weight = where(
        equal(verdict, OUT),
        40000,
        where(equal(verdict, STALE), 30000, where(equal(verdict, UNSURE), 20000, 10000)),
    )
    return where(equal(standing, HOLDS), weight - line, 0)


def place_of_rank(rank: Count, *urgencies: Count) -> Count:
    """The line of the check that holds this rank among what holds the job up; blank when fewer
    hold.

    Source: common practice, no source.

    >>> place_of_rank(1.0, 0.0, 9998.0, 39997.0)
    3.0
    """
    found = nth_largest(rank, *urgencies)
    return only_where(more_than(found, 0), position_of(found, *urgencies))


def words_at(place: Count, *lines: Words) -> Words:
    """The words of the check on this line.

    Source: count.

    >>> words_at(2.0, "tilt", "twist")
    'twist'
    """
    return pick(place, *lines)


def holding(checks: Count, passing: Count, under_concession: Count, left: Count) -> Count:
    """How many checks hold the job up: all that neither pass nor are conceded nor stand at a
    station that is left as it is, errors included.

    Source: count.

    >>> holding(checks=10.0, passing=7.0, under_concession=1.0, left=0.0)
    2.0
    """
    return checks - passing - under_concession - left


@takes_blanks
def release_state(
    holding: Count,
    decision: Words,
    reason: Words,
    measured_by: Words,
    released_by: Words,
    released_on: Words,
) -> Words:
    """Where the job stands: ON HOLD, RELEASABLE, RELEASED or REJECTED.

    A rejection needs its reason and its name; a release needs every check passed or conceded and
    two different names.

    Source: common practice, no source.

    >>> release_state(0.0, "released", "", "A. N.", "B. M.", "2026-05-04")
    'RELEASED'
    """
    one_person = any_of(blank(measured_by), blank(released_by), equal(measured_by, released_by))
    signed = where(any_of(one_person, blank(released_on)), "RELEASABLE", "RELEASED")
    unless_rejected = where(
        equal(decision, "rejected"),
        where(any_of(blank(reason), blank(released_by)), "ON HOLD", "REJECTED"),
        "ON HOLD",
    )
    return where(
        any_of(equal(decision, "rejected"), missing(holding), more_than(holding, 0)),
        unless_rejected,
        where(equal(decision, "released"), signed, "RELEASABLE"),
    )


def shown_again(value: Measure) -> Measure:
    """A value printed a second time where it is needed beside others.

    Source: none needed.

    >>> shown_again(82.014)
    82.014
    """
    return value


@takes_blanks
def said_again(words: Words) -> Words:
    """Words printed a second time where they are needed beside others.

    Source: none needed.

    >>> said_again("OK")
    'OK'
    """
    return where(blank(words), "", words)


@takes_blanks
def passing(*standings: Words) -> Count:
    """How many checks pass.

    Source: count.

    >>> passing("passes", "holds", "conceded")
    1.0
    """
    return cells_saying(PASSES, *standings)


@takes_blanks
def under_concession(*standings: Words) -> Count:
    """How many checks are let through by a concession.

    Source: count.

    >>> under_concession("passes", "holds", "conceded")
    1.0
    """
    return cells_saying(CONCEDED, *standings)


@takes_blanks
def left(*standings: Words) -> Count:
    """How many checks stand at stations that are left as they are.

    Source: count.

    >>> left("passes", "left", "left")
    2.0
    """
    return cells_saying(LEFT, *standings)


@takes_blanks
def holding_here(*standings: Words) -> Count:
    """How many checks of one station hold the job up.

    Source: count.

    >>> holding_here("passes", "holds", "left")
    1.0
    """
    return cells_saying(HOLDS, *standings)


@takes_blanks
def readings_taken(*readings: Measure) -> Count:
    """How many of the readings hold a number.

    Source: count.

    >>> readings_taken(82.01, float("nan"), 82.02)
    2.0
    """
    return numbers_in(*readings)


@takes_blanks
def ticks_made(*ticks: Words) -> Count:
    """How many of the ticks say that the work is done.

    Source: count.

    >>> ticks_made("done", "", "done")
    2.0
    """
    return cells_saying(DONE, *ticks)


@takes_blanks
def words_given(*cells: Words) -> Count:
    """How many of the cells hold words.

    Source: count.

    >>> words_given("done", "", "hone")
    2.0
    """
    return cells_with_words(*cells)


def taken_in_all(*counts: Count) -> Count:
    """The sum of several counts.

    Source: count.

    >>> taken_in_all(3.0, 4.0)
    7.0
    """
    return total(*counts)


@takes_blanks
def worst_said(*verdicts: Words) -> Words:
    """The worst of the verdicts that hold one resource, said where the resource is shown: OUT,
    STALE, UNSURE, OPEN, OK; blank where nothing is asked.

    Source: common practice, no source.

    >>> worst_said("OK", "OUT", "OPEN")
    'OUT'
    """
    found = where(all_of(*(blank(one) for one in verdicts)), NOTHING_ASKED, OK)
    for word in (OPEN, UNSURE, STALE, OUT):
        found = where(more_than(cells_saying(word, *verdicts), 0), word, found)
    return found
