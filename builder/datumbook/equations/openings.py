"""Openings: what a hole is opened to at the bench, found among what was worked out for it, and what
must grow with its thread.
"""

from __future__ import annotations

from datumbook.equations.verdicts import NOTHING_ASKED, OK, OPEN
from datumbook.formulas.functions import (
    any_of,
    at_least,
    blank,
    decided,
    equal,
    missing,
    more_than,
    only_where,
    pick,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Count, Length, Measure, Words

DRAWN = "as drawn"


@takes_blanks
def decided_by_whom(decided: Words, by: Words) -> Words:
    """The verdict on who decided: nothing asked where it is as drawn, OPEN without initials.

    Source: common practice, no source.

    >>> decided_by_whom("1/2-13 UNC", ""), decided_by_whom("", "")
    ('OPEN', '')
    """
    as_drawn = any_of(blank(decided), equal(decided, DRAWN))
    return where(as_drawn, NOTHING_ASKED, where(blank(by), OPEN, OK))


@takes_blanks
def place_among(typed: Words, usual: Words, *choices: Words) -> Count:
    """The place of the words typed among the choices, of the usual ones where none are typed; blank
    where they are none of the choices.

    Source: count.

    >>> place_among("1/2-13 UNC", "as drawn", "as drawn", "1/2-13 UNC", "9/16-12 UNC")
    2.0
    """
    meant = where(blank(typed), usual, typed)
    found: Count = only_where(equal(meant, choices[-1]), float(len(choices)))
    for place in range(len(choices) - 1, 0, -1):
        found = where(equal(meant, choices[place - 1]), float(place), found)
    return found


@decided
def value_at(place: Count, *values: Measure) -> Measure:
    """The figure of the choice at this place.

    Source: none needed.

    >>> value_at(2.0, 11.1125, 12.7)
    12.7
    """
    return pick(place, *values)


def relief_opened(relief: Length, drawn_major: Length, major: Length) -> Length:
    """Diameter of a relief over an opened thread: as far over the thread as it was drawn.

    Source: common practice, no source.

    >>> relief_opened(relief=15 / 32, drawn_major=7 / 16, major=1 / 2)
    0.53125
    """
    return relief + (major - drawn_major)


def relief_deepened(depth: Length, drawn_pitch: Length, pitch: Length) -> Length:
    """Depth of a relief over an opened thread: as many of its pitches as it was drawn.

    Source: common practice, no source.

    >>> relief_deepened(depth=1.6, drawn_pitch=1.25, pitch=1.5)
    1.92
    """
    return depth * (pitch / drawn_pitch)


@decided
def major_before(option: Count, before: Length, drawn: Length) -> Length:
    """Major diameter of the thread that was in a hole: the drawn one where the hole is opened
    beyond it, else the one that the drawing opens, 0 where it opens none.

    Source: none needed.

    >>> major_before(option=2.0, before=6.0, drawn=8.0), major_before(1.0, 6.0, 8.0)
    (8.0, 6.0)
    """
    return where(at_least(option, 2), drawn, before)


@takes_blanks
def cutter_of_relief(typed: Length, usual: Words) -> Words:
    """The cutter of a relief in words: the usual one, where no diameter is typed for it.

    Source: none needed.

    >>> cutter_of_relief(typed=14.0, usual="counterbore 15/32 in")
    'counterbore, diameter as typed'
    """
    return where(missing(typed), where(blank(usual), "", usual), "counterbore, diameter as typed")


def tools_in_words(option: Count, drill: Count) -> Words:
    """Whether the tools of a group are those of the drawing, in words.

    Source: none needed.

    >>> tools_in_words(option=1.0, drill=1.0), tools_in_words(option=2.0, drill=4.0)
    ('as drawn', 'not as drawn: those in its walks')
    """
    other = any_of(more_than(option, 1), more_than(drill, 1))
    return where(other, "not as drawn: those in its walks", "as drawn")


def relief_at_least(depth: Length, minus: Length) -> Length:
    """Depth that a relief has at least: as decided, less what it may be shallower.

    Source: geometry.

    >>> relief_at_least(depth=1.6, minus=0.2)
    1.4
    """
    return depth - minus


def relief_at_most(depth: Length, plus: Length) -> Length:
    """Depth that a relief has at most: as decided, and what it may be deeper.

    Source: geometry.

    >>> relief_at_most(depth=1.6, plus=0.4)
    2.0
    """
    return depth + plus
