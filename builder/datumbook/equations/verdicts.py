"""Verdicts: a value held against its limits.

A verdict is the first that applies: OPEN (no reading), STALE (a later operation moved the feature
or its datum), OUT (beyond a limit by more than the uncertainty), UNSURE (within the uncertainty of
a limit), OK. With the uncertainty at zero this is plain acceptance, limits included. Where
nothing is asked (no liner goes in, an operation is not done) there is none: a blank, which passes.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_most,
    blank,
    equal,
    less_than,
    missing,
    more_than,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Count, Length, Measure, Words

OPEN, STALE, OUT, UNSURE, OK = "OPEN", "STALE", "OUT", "UNSURE", "OK"
NOTHING_ASKED = ""  # the verdict of a check that has nothing to judge
DONE, NOT_DONE = "done", "not done"
FITS = "fits"  # go enters, no-go does not
SOUND, CRACKED, LEAKS, REPAIRED = "sound", "cracked", "leaks", "repaired"


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


@takes_blanks
def verdict_of_outcome(outcome: Words, again: Words) -> Words:
    """The verdict on a test by looking: OPEN until it is done, OUT where it failed. What was
    repaired has failed, and is OK once the test again is sound.

    again: the outcome of the test again, after the repair.

    Source: common practice, no source.

    >>> verdict_of_outcome("repaired", ""), verdict_of_outcome("repaired", "sound")
    ('OPEN', 'OK')
    """
    repaired = where(blank(again), OPEN, where(equal(again, SOUND), OK, OUT))
    failed = where(equal(outcome, REPAIRED), repaired, OUT)
    undone = any_of(blank(outcome), equal(outcome, NOT_DONE))
    return where(undone, OPEN, where(equal(outcome, SOUND), OK, failed))


def _unless_stale(value: float, moved_since: float, verdict: str) -> str:
    return where(missing(value), OPEN, where(missing(moved_since), verdict, STALE))


@takes_blanks
def fresh_between(
    value: Measure, low: Measure, high: Measure, uncertainty: Measure, moved_since: Count
) -> Words:
    """As verdict_between, but STALE when an operation done after the reading moved the feature or
    its datum.

    moved_since: done number of that operation, blank for none.

    Source: common practice, no source.

    >>> fresh_between(10.0, 9.9, 10.0, 0.0, moved_since=4.0)
    'STALE'
    """
    return _unless_stale(value, moved_since, verdict_between(value, low, high, uncertainty))


@takes_blanks
def fresh_at_most(value: Measure, high: Measure, uncertainty: Measure, moved_since: Count) -> Words:
    """As verdict_at_most, but STALE when an operation done after the reading moved the feature or
    its datum.

    Source: as fresh_between.

    >>> fresh_at_most(0.041, 0.040, 0.0, moved_since=float("nan"))
    'OUT'
    """
    return _unless_stale(value, moved_since, verdict_at_most(value, high, uncertainty))


@takes_blanks
def fresh_at_least(value: Measure, low: Measure, uncertainty: Measure, moved_since: Count) -> Words:
    """As verdict_at_least, but STALE when an operation done after the reading moved the feature or
    its datum.

    Source: as fresh_between.

    >>> fresh_at_least(5.1, 5.0, 0.0, moved_since=float("nan"))
    'OK'
    """
    return _unless_stale(value, moved_since, verdict_at_least(value, low, uncertainty))


@takes_blanks
def read_between(value: Measure, low: Measure, high: Measure, uncertainty: Measure) -> Words:
    """As verdict_between, of what need not be read and nothing makes stale: blank where it is not.

    Source: as verdict_between.

    >>> read_between(float("nan"), 9.9, 10.0, 0.0)
    ''
    """
    return where(missing(value), NOTHING_ASKED, verdict_between(value, low, high, uncertainty))


@takes_blanks
def spot_between(
    value: Measure, low: Measure, high: Measure, uncertainty: Measure, moved_since: Count
) -> Words:
    """As fresh_between, of what need not be read everywhere: blank where it is not.

    Source: as fresh_between.

    >>> spot_between(10.2, 9.9, 10.0, 0.0, moved_since=float("nan"))
    'OUT'
    """
    return where(
        missing(value), NOTHING_ASKED, fresh_between(value, low, high, uncertainty, moved_since)
    )


@takes_blanks
def spot_at_most(value: Measure, high: Measure, uncertainty: Measure, moved_since: Count) -> Words:
    """As fresh_at_most, of what need not be read everywhere: blank where it is not.

    Source: as fresh_between.

    >>> spot_at_most(float("nan"), 0.040, 0.0, moved_since=float("nan"))
    ''
    """
    return where(
        missing(value), NOTHING_ASKED, fresh_at_most(value, high, uncertainty, moved_since)
    )


@takes_blanks
def spot_at_least(value: Measure, low: Measure, uncertainty: Measure, moved_since: Count) -> Words:
    """As fresh_at_least, of what need not be read everywhere: blank where it is not.

    Source: as fresh_between.

    >>> spot_at_least(5.1, 5.0, 0.0, moved_since=float("nan"))
    'OK'
    """
    return where(
        missing(value), NOTHING_ASKED, fresh_at_least(value, low, uncertainty, moved_since)
    )


@takes_blanks
def verdict_of_gauge(gauge: Words) -> Words:
    """The verdict on one hole from its gauge: OUT where go does not enter or no-go does, blank
    where only the whole group is counted.

    Source: common practice, no source.

    >>> verdict_of_gauge("not"), verdict_of_gauge("")
    ('OUT', '')
    """
    return where(blank(gauge), NOTHING_ASKED, where(equal(gauge, FITS), OK, OUT))


@takes_blanks
def gauged_good(gauge: Words, group: Words) -> Words:
    """Whether a hole is done: it fits by its own gauge, or with its whole group.

    group: the verdict on the count of the holes of its group that are good.

    Source: common practice, no source.

    >>> gauged_good("", "OK"), gauged_good("not", "OK")
    ('done', '')
    """
    with_its_group = where(all_of(blank(gauge), equal(group, OK)), DONE, "")
    return where(equal(gauge, FITS), DONE, with_its_group)


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
