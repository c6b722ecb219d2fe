"""Verdicts: a value held against its limits.

A verdict is the first that applies: OPEN (no reading), STALE (a later operation moved the feature
or its datum), OUT (beyond a limit by more than the uncertainty), UNSURE (within the uncertainty of
a limit), OK. With the uncertainty at zero this is plain acceptance, limits included. Where
nothing is asked (no liner goes in, an operation is not done) there is none: a blank, which passes.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    any_of,
    at_least,
    at_most,
    blank,
    equal,
    largest,
    less_than,
    missing,
    more_than,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import Count, Length, Measure, Words

OPEN, STALE, OUT, UNSURE, OK = "OPEN", "STALE", "OUT", "UNSURE", "OK"
NOTHING_ASKED = ""  # the verdict of a check that has nothing to judge
DONE = "done"


@takes_blanks
def verdict_between(value: Measure, low: Measure, high: Measure, uncertainty: Measure) -> Words:
    """The verdict on a value that must lie from low to high.

    Source: decision rule with a guard band of the expanded uncertainty on both sides of a limit,
    after ISO 14253-1.

    >>> verdict_between(value=10.0, low=9.9, high=10.0, uncertainty=0.0)
    'OK'
    """
    return where(
        any_of(missing(value), missing(low), missing(high), missing(uncertainty)),
        OPEN,
        where(
            any_of(less_than(value + uncertainty, low), more_than(value - uncertainty, high)),
            OUT,
            where(
                any_of(less_than(value - uncertainty, low), more_than(value + uncertainty, high)),
                UNSURE,
                OK,
            ),
        ),
    )


@takes_blanks
def verdict_at_most(value: Measure, high: Measure, uncertainty: Measure) -> Words:
    """The verdict on a value that must not be more than high.

    Source: as verdict_between.

    >>> verdict_at_most(value=0.041, high=0.040, uncertainty=0.002)
    'UNSURE'
    """
    return where(
        any_of(missing(value), missing(high), missing(uncertainty)),
        OPEN,
        where(
            more_than(value - uncertainty, high),
            OUT,
            where(more_than(value + uncertainty, high), UNSURE, OK),
        ),
    )


@takes_blanks
def verdict_of_spread(spread: Measure, most: Measure) -> Words:
    """The verdict on how unlike the values of a set are, where no uncertainty is carried along.

    Source: common practice, no source.

    >>> verdict_of_spread(spread=0.06, most=0.10), verdict_of_spread(spread=0.11, most=0.10)
    ('OK', 'OUT')
    """
    return where(
        any_of(missing(spread), missing(most)), OPEN, where(at_most(spread, most), OK, OUT)
    )


@takes_blanks
def verdict_at_least(value: Measure, low: Measure, uncertainty: Measure) -> Words:
    """The verdict on a value that must not be less than low.

    Source: as verdict_between.

    >>> verdict_at_least(value=4.9, low=5.0, uncertainty=0.0)
    'OUT'
    """
    return where(
        any_of(missing(value), missing(low), missing(uncertainty)),
        OPEN,
        where(
            less_than(value + uncertainty, low),
            OUT,
            where(less_than(value - uncertainty, low), UNSURE, OK),
        ),
    )


@takes_blanks
def stated_at_most(value: Measure, high: Measure) -> Words:
    """The verdict on how the readings were taken: blank where nothing is stated, OPEN where the
    limit is not.

    Source: common practice, no source.

    >>> stated_at_most(value=0.002, high=0.001), stated_at_most(value=float("nan"), high=0.001)
    ('OUT', '')
    """
    return where(
        missing(value),
        NOTHING_ASKED,
        where(missing(high), OPEN, where(more_than(value, high), OUT, OK)),
    )


@takes_blanks
def liner_at_least(liner: Words, value: Measure, low: Measure, uncertainty: Measure) -> Words:
    """The verdict on a size that only a cylinder with a new liner has; blank where none goes in.

    liner: "yes" where the cylinder gets one.

    Source: as verdict_between.

    >>> liner_at_least(liner="no", value=1.0, low=1.2, uncertainty=0.0)
    ''
    """
    return where(equal(liner, "yes"), verdict_at_least(value, low, uncertainty), NOTHING_ASKED)


@takes_blanks
def liner_at_most(liner: Words, value: Measure, high: Measure, uncertainty: Measure) -> Words:
    """As liner_at_least, for a size that has a most.

    Source: as verdict_between.

    >>> liner_at_most(liner="yes", value=0.090, high=0.080, uncertainty=0.0)
    'OUT'
    """
    return where(equal(liner, "yes"), verdict_at_most(value, high, uncertainty), NOTHING_ASKED)


@takes_blanks
def verdict_of_tick(tick: Words) -> Words:
    """The verdict on work that is done or not.

    Source: common practice, no source.

    >>> verdict_of_tick("done")
    'OK'
    """
    return where(blank(tick), OPEN, where(equal(tick, DONE), OK, OUT))


def _unless_stale(value: float, taken_after: float, spoiled_by: float, verdict: str) -> str:
    return where(
        missing(value), OPEN, where(more_than(spoiled_by, total(taken_after)), STALE, verdict)
    )


@takes_blanks
def fresh_between(
    value: Measure,
    low: Measure,
    high: Measure,
    uncertainty: Measure,
    taken_after: Count,
    spoiled_by: Count,
) -> Words:
    """As verdict_between, but STALE when an operation done after the reading moved the feature or
    its datum.

    taken_after: done number of the last operation before the reading, blank for none; spoiled_by:
    the latest done number of the operations that move the feature.

    Source: common practice, no source.

    >>> fresh_between(10.0, 9.9, 10.0, 0.0, taken_after=3.0, spoiled_by=4.0)
    'STALE'
    """
    return _unless_stale(
        value, taken_after, spoiled_by, verdict_between(value, low, high, uncertainty)
    )


@takes_blanks
def fresh_at_most(
    value: Measure, high: Measure, uncertainty: Measure, taken_after: Count, spoiled_by: Count
) -> Words:
    """As verdict_at_most, but STALE when an operation done after the reading moved the feature or
    its datum.

    Source: as fresh_between.

    >>> fresh_at_most(0.041, 0.040, 0.0, taken_after=4.0, spoiled_by=4.0)
    'OUT'
    """
    return _unless_stale(value, taken_after, spoiled_by, verdict_at_most(value, high, uncertainty))


@takes_blanks
def fresh_at_least(
    value: Measure, low: Measure, uncertainty: Measure, taken_after: Count, spoiled_by: Count
) -> Words:
    """As verdict_at_least, but STALE when an operation done after the reading moved the feature or
    its datum.

    Source: as fresh_between.

    >>> fresh_at_least(5.1, 5.0, 0.0, taken_after=float("nan"), spoiled_by=0.0)
    'OK'
    """
    return _unless_stale(value, taken_after, spoiled_by, verdict_at_least(value, low, uncertainty))


@takes_blanks
def latest_done(*done: Count) -> Count:
    """The highest done number among operations; 0 when none is done.

    Source: count.

    >>> latest_done(2.0, float("nan"), 5.0)
    5.0
    """
    return largest(0, *done)


@takes_blanks
def verdict_of_order(done: Count, latest_before: Count, needed_done: Count, needed: Count) -> Words:
    """The verdict on an operation's turn: those that must come first have lower done numbers, and
    the needed are done.

    Not done yet it has no turn to judge.

    Source: common practice, no source.

    >>> verdict_of_order(done=4.0, latest_before=3.0, needed_done=1.0, needed=1.0)
    'OK'
    """
    too_early = any_of(at_least(latest_before, done), less_than(needed_done, needed))
    return where(missing(done), NOTHING_ASKED, where(too_early, OUT, OK))


@takes_blanks
def verdict_of_cut(decided_on: Words, intended: Length, done: Count) -> Words:
    """The verdict on a cut that was decided on: OPEN until it is recorded as done, OK where it was
    decided that nothing is cut. A cut of zero is one all the same: off the corner it is counted
    from nothing comes, off the others what they stand higher.

    decided_on: "not cut" of a face, "no" of tunnels that stay as they are, else what is cut.

    Source: common practice, no source.

    >>> verdict_of_cut("crank line", intended=0.0, done=float("nan"))
    'OPEN'
    >>> verdict_of_cut("not cut", intended=0.0, done=float("nan"))
    'OK'
    """
    stays = any_of(equal(decided_on, "not cut"), equal(decided_on, "no"))
    undecided = any_of(blank(decided_on), missing(intended))
    return where(undecided, OPEN, where(stays, OK, where(missing(done), OPEN, OK)))


@takes_blanks
def verdict_of_count(counted: Count, wanted: Count) -> Words:
    """The verdict on a count of parts: OPEN while any is missing or none is wanted yet, OUT where
    there are too many.

    Source: count.

    >>> verdict_of_count(counted=4.0, wanted=5.0), verdict_of_count(counted=5.0, wanted=5.0)
    ('OPEN', 'OK')
    """
    unfinished = any_of(
        missing(counted), missing(wanted), at_most(wanted, 0), less_than(counted, wanted)
    )
    return where(unfinished, OPEN, where(more_than(counted, wanted), OUT, OK))


@takes_blanks
def verdict_of_turn(done: Count, latest_before: Count) -> Words:
    """As verdict_of_order, where nothing need be done before.

    Source: common practice, no source.

    >>> verdict_of_turn(done=2.0, latest_before=3.0)
    'OUT'
    """
    return where(missing(done), NOTHING_ASKED, where(at_least(latest_before, done), OUT, OK))
