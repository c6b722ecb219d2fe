"""Forbidden cuts: what stands against a cut by the verdicts on its depth, its floor and its walls,
and what is to be done first.
"""

from __future__ import annotations

from datumbook.equations.verdicts import OPEN, OUT, STALE, UNSURE
from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_least,
    at_place,
    blank,
    cells_saying,
    decided,
    equal,
    more_than,
    numbers_in,
    only_where,
    takes_blanks,
    total,
    where,
)
from datumbook.formulas.kinds import Count, Length, Words

STOPPED, NOT_YET = "DO NOT DRILL", "DO NOT DRILL YET"
DOUBTS = (STALE, UNSURE, OPEN)
KINDS_HELD = (  # depth 1, floor 2, wall 4, and their sums
    "depth",
    "floor",
    "depth, floor",
    "wall",
    "depth, wall",
    "floor, wall",
    "depth, floor, wall",
)
BEFORE_THE_CUT = {
    OUT: {
        "depth": "another depth, thread or scale",
        "floor": "less deep, or less off its face",
        "wall": "a smaller thread or relief",
    },
    STALE: {
        "depth": "read its face again",
        "floor": "read its face again",
        "wall": "read again what moved",
    },
    UNSURE: {
        "depth": "measure its face nearer, or drill less deep",
        "floor": "measure its face nearer, or drill less deep",
        "wall": "measure the block nearer, or open the hole less",
    },
    OPEN: {
        "depth": "choose the drill, measure its face, plan its cut",
        "floor": "choose the drill, measure its face, plan its cut",
        "wall": "choose thread, drill and relief",
    },
}


@takes_blanks
def forbidden(depth: Words, floor: Words, wall: Words) -> Words:
    """What a card says of a cut by the verdicts on the depth it reaches, the floor under it and the
    walls beside it: DO NOT DRILL where one is OUT, DO NOT DRILL YET where one is STALE, UNSURE or
    OPEN; blank where none is.

    Source: common practice, no source.

    >>> forbidden(depth="OK", floor="OUT", wall="OUT")
    'DO NOT DRILL: floor, wall OUT'
    >>> forbidden(depth="", floor="OPEN", wall="OK")
    'DO NOT DRILL YET: floor in doubt'
    """
    verdicts = (depth, floor, wall)
    out = _which(*(equal(one, OUT) for one in verdicts))
    doubtful = _which(*(any_of(*(equal(one, word) for word in DOUBTS)) for one in verdicts))
    yet = at_place(doubtful, *(f"{NOT_YET}: {kinds} in doubt" for kinds in KINDS_HELD))
    stopped = at_place(out, *(f"{STOPPED}: {kinds} OUT" for kinds in KINDS_HELD))
    return where(more_than(out, 0), stopped, where(more_than(doubtful, 0), yet, ""))


def _which(depth: bool, floor: bool, wall: bool) -> Count:
    """Which of depth, floor and wall something holds of, each a binary digit."""
    return total(*(where(one, 2**at, 0) for at, one in enumerate((depth, floor, wall))))


@takes_blanks
def before_the_cut(depth: Words, floor: Words, wall: Words) -> Words:
    """What is to be done first about the worst of the verdicts that forbid a cut; blank where none
    does.

    Source: common practice, no source.

    >>> before_the_cut(depth="OK", floor="OPEN", wall="UNSURE")
    'wall UNSURE: measure the block nearer, or open the hole less'
    """
    said: Words = ""
    for verdict in (OPEN, UNSURE, STALE, OUT):  # the worst has the last word
        for kind, found in (("wall", wall), ("floor", floor), ("depth", depth)):
            remedy = f"{kind} {verdict}: {BEFORE_THE_CUT[verdict][kind]}"
            said = where(equal(found, verdict), remedy, said)
    return said


@decided
@takes_blanks
def unless_forbidden(forbidden: Words, value: Length) -> Length:
    """A depth that a cut is sent to; blank where its card forbids the cut.

    Source: none needed.

    >>> unless_forbidden(forbidden="", value=21.5)
    21.5
    """
    return only_where(all_of(blank(forbidden), at_least(numbers_in(value), 1)), value)


@takes_blanks
def line_forbidden(*verdicts: Words) -> Words:
    """What is said first of a hole decided by itself, by the verdicts on what is planned of it;
    nothing where none forbids the cut.

    Source: common practice, no source.

    >>> line_forbidden("OK", "", "OPEN")
    'DO NOT DRILL YET: in doubt below'
    """
    doubts = total(*(cells_saying(word, *verdicts) for word in DOUBTS))
    yet = where(more_than(doubts, 0), f"{NOT_YET}: in doubt below", "")
    return where(more_than(cells_saying(OUT, *verdicts), 0), f"{STOPPED}: OUT below", yet)
