"""Station lines: what is to be done next in a book, and what of it is left as it is.

Source: common practice, no source.
"""

from __future__ import annotations

from datumbook.formulas.functions import any_of, blank, equal, more_than, takes_blanks, where
from datumbook.formulas.kinds import Count, Words

AS_IT_IS, IN_JOB, UNSAID = "left as it is", "in this job", "say why, and who"
READ, LOOK, SIGN, DONE_WITH = "take readings", "see what holds it up", "decide and sign", "nothing"


@takes_blanks
def left_as_it_is(said: Words, reason: Words, by: Words) -> Words:
    """Whether a station is left as it is: said so, with the reason and the initials.

    Source: common practice, no source.

    >>> left_as_it_is("left as it is", "owner's wish", "")
    'say why, and who'
    """
    unsaid = any_of(blank(reason), blank(by))
    return where(equal(said, AS_IT_IS), where(unsaid, UNSAID, AS_IT_IS), "")


@takes_blanks
def still_to_read(wanted: Count, taken: Count, left: Words) -> Count:
    """How many wanted cells of a station are blank; none where it is left as it is.

    Source: count.

    >>> still_to_read(24.0, 20.0, ""), still_to_read(24.0, 20.0, "left as it is")
    (4.0, 0.0)
    """
    return where(equal(left, AS_IT_IS), 0.0, wanted - taken)


@takes_blanks
def in_job_or_left(left: Words) -> Words:
    """What the release says of a station of this job.

    Source: common practice, no source.

    >>> in_job_or_left("")
    'in this job'
    """
    return where(equal(left, AS_IT_IS), AS_IT_IS, IN_JOB)


@takes_blanks
def without_forecast(*left: Words) -> Words:
    """What is said of a cut whose forecast rests on stations of which one is left as it is.

    Source: common practice, no source.

    >>> without_forecast("", "left as it is")
    'none: what it rests on is left as it is'
    """
    gone = any_of(*(equal(one, AS_IT_IS) for one in left))
    return where(gone, "none: what it rests on is left as it is", "as worked out")


@takes_blanks
def comes_next(to_read: Count, line: Count) -> Count:
    """The rank of a station among those with cells to fill: the first of the walk is the highest.

    Source: count.

    >>> comes_next(4.0, 2.0)
    998.0
    """
    return where(more_than(to_read, 0), 1000 - line, 0)


@takes_blanks
def next_to_do(to_read: Count, holding: Count, release_state: Words) -> Words:
    """What is to be done next: readings as long as any is wanted, then what holds, then the names.

    Source: common practice, no source.

    >>> next_to_do(0.0, 0.0, "RELEASABLE")
    'decide and sign'
    """
    ended = any_of(equal(release_state, "RELEASED"), equal(release_state, "REJECTED"))
    unread, held = more_than(to_read, 0), more_than(holding, 0)
    asked = where(unread, READ, where(held, LOOK, SIGN))
    return where(ended, DONE_WITH, asked)
