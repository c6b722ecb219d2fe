"""The state of assembly: whether readings were taken in the state that their limits mean, and what
is to be said of them if not.

Nothing here turns a size read in one state into that of another: no figure for it holds from block
to block. They are read again.
"""

from __future__ import annotations

from datumbook.equations.verdicts import (
    OK,
    OPEN,
    STALE,
    verdict_at_least,
    verdict_at_most,
    verdict_between,
)
from datumbook.formulas.functions import (
    any_of,
    at_most,
    blank,
    cells_saying,
    equal,
    in_pairs,
    less_than,
    missing,
    more_than,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Count, Measure, Ratio, Temperature, Torque, Words

NOT_SAID, DIFFERS, WARMTH = "not said", "differs", "too warm or cold"


@takes_blanks
def unlike_state(read: Words, meant: Words) -> Words:
    """Whether a condition was another when a series was read than its limits mean; blank where it
    was the same.

    Source: common practice, no source.

    >>> unlike_state("off", "torqued"), unlike_state("", "torqued"), unlike_state("on", "on")
    ('differs', 'not said', '')
    """
    return where(blank(read), NOT_SAID, where(equal(read, meant), "", DIFFERS))


@takes_blanks
def unlike_torque(read: Torque, meant: Torque, within: Ratio) -> Words:
    """The same of the torque of a plate, which may be off by a share of what is meant.

    within: that share.

    Source: common practice, no source.

    >>> unlike_torque(56.9e3, meant=57e3, within=0.05), unlike_torque(30e3, 57e3, 0.05)
    ('', 'differs')
    """
    near = at_most(abs(read - meant), within * meant)
    return where(missing(read), NOT_SAID, where(near, "", DIFFERS))


@takes_blanks
def out_of_warmth(read: Temperature, coolest: Temperature, warmest: Temperature) -> Words:
    """Whether the block was colder or warmer when a series was read than its limits allow for.

    Source: common practice, no source.

    >>> out_of_warmth(31.0, coolest=18.0, warmest=22.0), out_of_warmth(22.0, 18.0, 22.0)
    ('too warm or cold', '')
    """
    beyond = any_of(less_than(read, coolest), more_than(read, warmest))
    return where(missing(read), NOT_SAID, where(beyond, WARMTH, ""))


@takes_blanks
def said_or_not(read: Words) -> Words:
    """Whether words that are only recorded, such as the number of a plate, were written.

    Source: none needed.

    >>> said_or_not("P 3"), said_or_not("")
    ('', 'not said')
    """
    return where(blank(read), NOT_SAID, "")


@takes_blanks
def unfit_by_state(*unlike: Words) -> Words:
    """What every check on a series is for the state the series was read in: STALE where a condition
    was another than its limits mean, OPEN where only the warmth was; blank where it may be judged.
    What was not said holds the series by its own verdict, and no check on it.

    unlike: of each condition whether it was another.

    Source: common practice, no source.

    >>> unfit_by_state("", "differs", ""), unfit_by_state("", "too warm or cold")
    ('STALE', 'OPEN')
    >>> unfit_by_state("not said", "")
    ''
    """
    warm = where(more_than(cells_saying(WARMTH, *unlike), 0), OPEN, "")
    return where(more_than(cells_saying(DIFFERS, *unlike), 0), STALE, warm)


@takes_blanks
def verdict_of_state(unfit: Words, *unlike: Words) -> Words:
    """The verdict on the state in which a series was read: what it makes of the checks on it, OPEN
    where a condition was not said.

    unfit: what every check on the series is for that state.

    Source: common practice, no source.

    >>> verdict_of_state("", "not said", ""), verdict_of_state("STALE", "differs", "")
    ('OPEN', 'STALE')
    """
    unsaid = where(more_than(cells_saying(NOT_SAID, *unlike), 0), OPEN, OK)
    return where(blank(unfit), unsaid, unfit)


@takes_blanks
@in_pairs
def first_that_differs(*unlike_and_remedy: Words) -> Words:
    """What to do about the first condition that was another than meant; blank where none was.

    unlike_and_remedy: of each condition in turn whether it was another, and what to do then.

    Source: common practice, no source.

    >>> first_that_differs("", "torque the caps", "differs", "bolt the plate on")
    'bolt the plate on'
    """
    found = ""
    pairs = zip(unlike_and_remedy[::2], unlike_and_remedy[1::2], strict=False)
    for unlike, remedy in reversed([*pairs]):
        found = where(any_of(equal(unlike, DIFFERS), equal(unlike, WARMTH)), remedy, found)
    return found


@takes_blanks
def unfit(moved_since: Count, by_state: Words) -> Words:
    """Why the checks on readings are not judged: STALE where an operation moved the feature since,
    else what the state of assembly makes of them; blank where they are judged.

    Source: common practice, no source.

    >>> unfit(moved_since=7.0, by_state="OPEN"), unfit(float("nan"), "")
    ('STALE', '')
    """
    return where(missing(moved_since), where(blank(by_state), "", by_state), STALE)


def _in_state(value: float, unfit: str, verdict: str) -> str:
    return where(missing(value), OPEN, where(blank(unfit), verdict, unfit))


@takes_blanks
def in_state_between(
    value: Measure, low: Measure, high: Measure, uncertainty: Measure, unfit: Words
) -> Words:
    """As verdict_between, of readings that count only in the state of assembly their limit means.

    unfit: the verdict they have where they do not count; blank where they do.

    Source: common practice, no source.

    >>> in_state_between(10.0, low=9.9, high=10.0, uncertainty=0.0, unfit="STALE")
    'STALE'
    """
    return _in_state(value, unfit, verdict_between(value, low, high, uncertainty))


@takes_blanks
def in_state_at_most(value: Measure, high: Measure, uncertainty: Measure, unfit: Words) -> Words:
    """As verdict_at_most, of readings that count only in the state of assembly their limit means.

    Source: as in_state_between.

    >>> in_state_at_most(0.041, high=0.040, uncertainty=0.0, unfit="")
    'OUT'
    """
    return _in_state(value, unfit, verdict_at_most(value, high, uncertainty))


@takes_blanks
def in_state_at_least(value: Measure, low: Measure, uncertainty: Measure, unfit: Words) -> Words:
    """As verdict_at_least, of readings that count only in the state of assembly their limit means.

    Source: as in_state_between.

    >>> in_state_at_least(5.1, low=5.0, uncertainty=0.0, unfit="OPEN")
    'OPEN'
    """
    return _in_state(value, unfit, verdict_at_least(value, low, uncertainty))
