"""Order: done numbers, whether each operation came in its turn, and after which of them a series of
readings was taken.
"""

from __future__ import annotations

from datumbook.equations.verdicts import NOTHING_ASKED, OK, OPEN, OUT
from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_least,
    at_most,
    blank,
    equal,
    largest,
    less_than,
    missing,
    more_than,
    numbers_in,
    only_where,
    pick,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import Count, Words


@takes_blanks
def latest_done(*done: Count) -> Count:
    """The highest done number among operations; 0 when none is done.

    Source: count.

    >>> latest_done(2.0, float("nan"), 5.0)
    5.0
    """
    return largest(0, *done)


@takes_blanks
def times_used(done: Count, *numbers: Count) -> Count:
    """How many operations bear a done number; 0 where there is none.

    Source: count.

    >>> times_used(3.0, 2.0, 3.0, 3.0)
    2.0
    """
    alike = (where(all_of(at_least(one, done), at_most(one, done)), 1, 0) for one in numbers)
    return where(missing(done), 0, total(*alike))


@takes_blanks
def fault_of_turn(turn: Words, used: Count) -> Words:
    """What is wrong with an operation's turn, in words.

    Source: common practice, no source.

    >>> fault_of_turn("OUT", 2.0)
    'its done number is used twice'
    """
    twice = where(
        more_than(used, 1), "its done number is used twice", "not after what comes before it"
    )
    return where(equal(turn, OUT), twice, "")


@takes_blanks
def verdict_of_number(done: Count, used: Count) -> Words:
    """The verdict on the done number of an operation that may come at any time: no other bears it.

    Source: common practice, no source.

    >>> verdict_of_number(done=4.0, used=2.0)
    'OUT'
    """
    return where(missing(done), NOTHING_ASKED, where(more_than(used, 1), OUT, OK))


@takes_blanks
def verdict_of_order(
    done: Count, used: Count, latest_before: Count, needed_done: Count, needed: Count
) -> Words:
    """The verdict on an operation's turn: no other bears its number, those that must come first
    have lower ones, and the needed are done.

    Not done yet it has no turn to judge.

    Source: common practice, no source.

    >>> verdict_of_order(done=4.0, used=1.0, latest_before=3.0, needed_done=1.0, needed=1.0)
    'OK'
    """
    early = any_of(at_least(latest_before, done), less_than(needed_done, needed))
    return where(missing(done), NOTHING_ASKED, where(any_of(early, more_than(used, 1)), OUT, OK))


@takes_blanks
def verdict_of_turn(done: Count, used: Count, latest_before: Count) -> Words:
    """As verdict_of_order, where nothing need be done before.

    Source: common practice, no source.

    >>> verdict_of_turn(done=2.0, used=1.0, latest_before=3.0)
    'OUT'
    """
    early = at_least(latest_before, done)
    return where(missing(done), NOTHING_ASKED, where(any_of(early, more_than(used, 1)), OUT, OK))


@takes_blanks
def line_of_step(step: Words, *steps: Words) -> Count:
    """The line of the route on which a step stands; 0 where it is none of them.

    Source: count.

    >>> line_of_step("hone", "deck", "bore", "hone")
    3.0
    """
    return total(*(where(equal(step, one), line, 0) for line, one in enumerate(steps, 1)))


@takes_blanks
def done_number_on_line(line: Count, *done: Count) -> Count:
    """The done number on a line of the route; blank where there is no such line, or no number on
    it.

    Source: count.

    >>> done_number_on_line(2.0, 7.0, 9.0)
    9.0
    """
    found = pick(largest(1, line), *done)
    return only_where(all_of(at_least(line, 1), at_least(numbers_in(found), 1)), found)


@takes_blanks
def moved_since(number: Count, *done: Count) -> Count:
    """The done number of the last operation that moved a feature since it was measured; blank where
    none did, or where it is not known after which operation it was measured.

    number: done number of the operation after which it was measured.

    Source: common practice, no source.

    >>> moved_since(3.0, 2.0, 4.0), moved_since(5.0, 2.0, 4.0)
    (4.0, None)
    """
    latest = largest(0, *done)
    known = at_least(numbers_in(number), 1)
    return only_where(all_of(known, more_than(latest, total(number))), latest)


@takes_blanks
def verdict_of_record(read: Count, numbered: Count) -> Words:
    """The verdict on what the route says of a block measured as finished: OPEN until a size is
    read, OUT where no cut at all has a done number.

    read: how many finished sizes are read; numbered: how many operations that cut have a number.

    Source: common practice, no source.

    >>> verdict_of_record(read=24.0, numbered=0.0)
    'OUT'
    """
    return where(at_most(read, 0), OPEN, where(at_most(numbered, 0), OUT, OK))


@takes_blanks
def verdict_of_series(step: Words, number: Count) -> Words:
    """The verdict on when a series was measured: OPEN until the step is said, OUT where the route
    says no number of that step.

    Source: common practice, no source.

    >>> verdict_of_series("hone", float("nan"))
    'OUT'
    """
    return where(blank(step), OPEN, where(missing(number), OUT, OK))
