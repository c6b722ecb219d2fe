"""Single holes: a hole decided by itself, so that no other line says anything else of it."""

from __future__ import annotations

from datumbook.equations.verdicts import (
    NOTHING_ASKED,
    OK,
    OPEN,
    OUT,
    UNSURE,
    verdict_at_most,
    verdict_between,
    verdict_of_tick,
)
from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_least,
    at_most,
    at_place,
    blank,
    decided,
    equal,
    missing,
    more_than,
    numbers_in,
    only_where,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import Count, Length, Measure, Words

NOT_HERE = "NOT HERE: see its own line"


@takes_blanks
def line_among(like: Words, typed: Words, usual: Words, *pairs: Words) -> Count:
    """The place of the pair that holds a group and the words typed for it, of the usual ones where
    none are typed; 0 where no pair does.

    pairs: group and choice by turns.

    Source: count.

    >>> line_among("Studs", "", "1/2", "Rail", "1/2", "Studs", "7/16", "Studs", "1/2")
    3.0
    """
    meant = where(blank(typed), usual, typed)
    every = enumerate(zip(pairs[::2], pairs[1::2] or pairs, strict=False), start=1)
    return total(
        *(where(all_of(equal(like, group), equal(meant, one)), at, 0) for at, (group, one) in every)
    )


def line_found(matched: Count) -> Count:
    """A place that was found; blank for 0, which is none.

    Source: none needed.

    >>> line_found(3.0)
    3.0
    """
    return only_where(more_than(matched, 0), matched)


@decided
@takes_blanks
def own_or_shared(line: Count, shared: Measure, *own: Measure) -> Measure:
    """A figure of one hole: that of the line that decides it by itself, else that of its group.

    Source: none needed.

    >>> own_or_shared(2.0, 6.8, 8.5, 10.2), own_or_shared(float("nan"), 6.8, 8.5, 10.2)
    (10.2, 6.8)
    """
    meant: Measure = where(missing(line), shared, at_place(line, *own))
    there = [numbers_in(one) for one in own]
    lines: Count = where(missing(line), numbers_in(shared), at_place(line, *there))
    return only_where(at_least(lines, 1), meant)


@takes_blanks
def own_or_shared_words(line: Count, shared: Words, *own: Words) -> Words:
    """Words of one hole: those of the line that decides it by itself, else those of its group.

    Source: none needed.

    >>> own_or_shared_words(1.0, "M8x1.25", "M10x1.5", "")
    'M10x1.5'
    """
    meant: Words = where(missing(line), shared, at_place(line, *own))
    return where(blank(meant), "", meant)


@decided
@takes_blanks
def unless_own(line: Count, value: Measure) -> Measure:
    """A figure of the group's walk; blank at a hole that a line decides by itself.

    Source: none needed.

    >>> unless_own(float("nan"), 21.5)
    21.5
    """
    return only_where(all_of(missing(line), at_least(numbers_in(value), 1)), value)


@takes_blanks
def tool_unless_own(line: Count, tool: Words) -> Words:
    """The tool of the group's walk at a hole; another word where a line decides it by itself.

    Source: none needed.

    >>> tool_unless_own(1.0, "drill 17/64")
    'NOT HERE: see its own line'
    """
    return where(missing(line), where(blank(tool), "", tool), NOT_HERE)


@takes_blanks
def hand_unless_own(line: Count) -> Words:
    """What is done by hand at a hole of the group's walk; another word where it has its own line.

    Source: none needed.

    >>> hand_unless_own(float("nan"))
    'by hand'
    """
    return where(missing(line), "by hand", NOT_HERE)


@takes_blanks
def left_out_in_words(*lines: Count) -> Words:
    """What a card says of holes that lines decide by themselves; nothing where there are none.

    Source: none needed.

    >>> left_out_in_words(float("nan"), 1.0)
    'LEAVE OUT the holes that have a line of their own'
    """
    some = at_least(numbers_in(*lines), 1)
    return where(some, "LEAVE OUT the holes that have a line of their own", "")


@takes_blanks
def forbidden_or_left_out(forbidden: Words, *lines: Count) -> Words:
    """What a card says first: that its cut is forbidden, else which holes to leave out.

    Source: none needed.

    >>> forbidden_or_left_out("DO NOT DRILL: floor OUT", 1.0)
    'DO NOT DRILL: floor OUT'
    """
    return where(blank(forbidden), left_out_in_words(*lines), forbidden)


def major_there(major: Length, group_major: Length) -> Length:
    """Major diameter of the old thread in a hole opened by itself: its group's, 0 if not opened.

    Source: none needed.

    >>> major_there(major=10.0, group_major=8.0)
    8.0
    """
    return where(more_than(major, group_major), group_major, 0)


def relief_alike(relief: Length, group_major: Length, major: Length) -> Length:
    """Diameter of the relief of one hole: as far over its thread as its group's, 0 where that has
    none.

    Source: common practice, no source.

    >>> relief_alike(relief=8.5, group_major=8.0, major=10.0)
    10.5
    """
    return where(at_most(relief, 0), 0, relief + (major - group_major))


def single_wall(centre_distance: Length, diameter: Length, other_diameter: Length) -> Length:
    """Metal between one hole and what stands beside its group; blank where nothing is stated.

    Source: geometry.

    >>> single_wall(centre_distance=69.0, diameter=10.5, other_diameter=8.5)
    59.5
    """
    wall = centre_distance - (diameter + other_diameter) / 2
    return only_where(more_than(centre_distance, 0), wall)


def single_wall_after(wall: Length, old_diameter: Length, new_diameter: Length) -> Length:
    """Wall beside one hole once it has been opened; blank where none is stated.

    Source: geometry.

    >>> single_wall_after(wall=6.4, old_diameter=6.0, new_diameter=10.5)
    4.15
    """
    return only_where(more_than(wall, 0), wall - (new_diameter - old_diameter) / 2)


@takes_blanks
def single_at_least(hole: Words, known: Measure, value: Measure, low: Measure) -> Words:
    """The verdict on a planned size of one hole decided by itself; blank where no hole is, and
    where what it is worked out from is 0, not stated.

    Source: common practice, no source.

    >>> single_at_least("D4", known=6.4, value=4.1, low=4.7)
    'OUT'
    """
    unknown = any_of(missing(value), missing(low))
    return _asked(hole, known, where(unknown, OPEN, where(at_least(value, low), OK, OUT)))


@takes_blanks
def single_at_most(hole: Words, known: Measure, value: Measure, high: Measure) -> Words:
    """As single_at_least, for a size that must not be more than high.

    Source: common practice, no source.

    >>> single_at_most("", known=6.4, value=4.1, high=4.7)
    ''
    """
    unknown = any_of(missing(value), missing(high))
    return _asked(hole, known, where(unknown, OPEN, where(at_most(value, high), OK, OUT)))


@takes_blanks
def single_between(
    hole: Words, known: Measure, value: Measure, low: Measure, high: Measure
) -> Words:
    """As single_at_least, for a size that must lie from low to high.

    Source: common practice, no source.

    >>> single_between("D4", known=1.0, value=8.5, low=8.376, high=8.676)
    'OK'
    """
    unknown = any_of(missing(value), missing(low), missing(high))
    inside = all_of(at_least(value, low), at_most(value, high))
    return _asked(hole, known, where(unknown, OPEN, where(inside, OK, OUT)))


@takes_blanks
def gauged_at_most(
    hole: Words, known: Measure, value: Measure, high: Measure, uncertainty: Measure
) -> Words:
    """The verdict on what is gauged of one hole decided by itself; blank as single_at_least.

    Source: as verdict_between.

    >>> gauged_at_most("D4", known=1.0, value=22.3, high=22.225, uncertainty=0.02)
    'OUT'
    """
    return _asked(hole, known, verdict_at_most(value, high, uncertainty))


@takes_blanks
def gauged_between(
    hole: Words, known: Measure, value: Measure, low: Measure, high: Measure, uncertainty: Measure
) -> Words:
    """As gauged_at_most, for what must lie from low to high.

    Source: as verdict_between.

    >>> gauged_between("D4", known=1.0, value=16.01, low=16.0, high=27.0, uncertainty=0.02)
    'UNSURE'
    """
    return _asked(hole, known, verdict_between(value, low, high, uncertainty))


def _asked(hole: str, known: float, verdict: str) -> str:
    stated = where(missing(known), OPEN, where(at_most(known, 0), NOTHING_ASKED, verdict))
    return where(blank(hole), NOTHING_ASKED, stated)


@takes_blanks
def single_done(hole: Words, known: Measure, tick: Words) -> Words:
    """The verdict on work done at one hole decided by itself; blank as single_at_least.

    Source: common practice, no source.

    >>> single_done("D4", 1.0, "done"), single_done("", float("nan"), "")
    ('OK', '')
    """
    return _asked(hole, known, verdict_of_tick(tick))


@takes_blanks
def new_hole(hole: Words, *names: Words) -> Count:
    """1 for a hole that is none of those of the drawing, 0 for one of them; blank where none is
    named.

    Source: count.

    >>> new_hole("X1", "D1", "D2"), new_hole("D2", "D1", "D2")
    (1.0, 0.0)
    """
    met = total(*(where(equal(one, hole), 1, 0) for one in names))
    unnamed = where(blank(hole), 1, 0)
    return only_where(at_most(unnamed, 0), where(more_than(met, 0), 0.0, 1.0))


@takes_blanks
def named_once(hole: Words, *holes: Words) -> Words:
    """The verdict on a line that decides one hole: OUT where two lines name the same hole.

    Source: common practice, no source.

    >>> named_once("D4", "D4", "", "D4"), named_once("D4", "D4", "", "")
    ('OUT', 'OK')
    """
    twice = more_than(total(*(where(equal(one, hole), 1, 0) for one in holes)), 1)
    return where(blank(hole), NOTHING_ASKED, where(twice, OUT, OK))


@takes_blanks
def worst_of(*verdicts: Words) -> Words:
    """The verdict on a line from all there are of it: the one that says most against it; blank
    where nothing is asked.

    Source: common practice, no source.

    >>> worst_of("OK", "", "OUT"), worst_of("OK", ""), worst_of("", "")
    ('OUT', 'OK', '')
    """
    found: Words = where(any_of(*(equal(one, OK) for one in verdicts)), OK, NOTHING_ASKED)
    for word in (UNSURE, OPEN, OUT):
        found = where(any_of(*(equal(one, word) for one in verdicts)), word, found)
    return found
