"""Forbidden cuts: what stands against a cut by the verdicts on its depth, its floor, its walls and
the hole its drill makes, and what is to be done first.
"""

from __future__ import annotations

from datumbook.equations.single_holes import left_out_in_words
from datumbook.equations.standings import HOLDS, LEFT
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

STOPPED = "DO NOT DRILL"
DO_NOT_TAP, TAP_NOT_YET = "DO NOT TAP: its hole is OUT", "DO NOT TAP YET: its hole is in doubt"
DOUBTS = (STALE, UNSURE, OPEN)
KINDS_HELD = (  # depth 1, floor 2, wall 4, hole 8, and their sums
    "depth",
    "floor",
    "depth, floor",
    "wall",
    "depth, wall",
    "floor, wall",
    "depth, floor, wall",
    "hole",
    "depth, hole",
    "floor, hole",
    "depth, floor, hole",
    "wall, hole",
    "depth, wall, hole",
    "floor, wall, hole",
    "depth, floor, wall, hole",
)
BEFORE_THE_CUT = {
    OUT: {
        "depth": "another depth, thread or scale",
        "floor": "less deep, or less off its face",
        "wall": "a smaller thread or relief",
        "hole": "another drill, or concede the hole on the Release sheet",
    },
    STALE: {
        "depth": "read its face again",
        "floor": "read its face again",
        "wall": "read again what moved",
        "hole": "probe its first hole again",
    },
    UNSURE: {
        "depth": "measure its face nearer, or drill less deep",
        "floor": "measure its face nearer, or drill less deep",
        "wall": "measure the block nearer, or open the hole less",
        "hole": "probe its first hole nearer",
    },
    OPEN: {
        "depth": "choose the drill, measure its face, plan its cut",
        "floor": "choose the drill, measure its face, plan its cut",
        "wall": "choose thread, drill and relief",
        "hole": "choose thread and drill",
    },
}


@takes_blanks
def forbidden(depth: Words, floor: Words, wall: Words, hole: Words) -> Words:
    """What a card says of a drilling by the verdicts on the depth it reaches, the floor under it,
    the walls beside it and the hole its drill makes: DO NOT DRILL where one is OUT, DO NOT DRILL
    YET where one is STALE, UNSURE or OPEN; blank where none is.

    hole: blank where it is conceded (`hole_held`).

    Source: common practice, no source.

    >>> forbidden(depth="OK", floor="OUT", wall="OUT", hole="")
    'DO NOT DRILL: floor, wall OUT'
    >>> forbidden(depth="", floor="OPEN", wall="OK", hole="OK")
    'DO NOT DRILL YET: floor in doubt'
    """
    return _forbidden(STOPPED, depth, floor, wall, hole)


@takes_blanks
def counterbore_forbidden(depth: Words, floor: Words, wall: Words, hole: Words) -> Words:
    """The same of a counterbore.

    Source: common practice, no source.

    >>> counterbore_forbidden(depth="OK", floor="", wall="UNSURE", hole="OK")
    'DO NOT COUNTERBORE YET: wall in doubt'
    """
    return _forbidden("DO NOT COUNTERBORE", depth, floor, wall, hole)


def _forbidden(stopped: str, *verdicts: Words) -> Words:
    out = _which(*(equal(one, OUT) for one in verdicts))
    doubtful = _which(*(any_of(*(equal(one, word) for word in DOUBTS)) for one in verdicts))
    yet = at_place(doubtful, *(f"{stopped} YET: {kinds} in doubt" for kinds in KINDS_HELD))
    at_fault = at_place(out, *(f"{stopped}: {kinds} OUT" for kinds in KINDS_HELD))
    return where(more_than(out, 0), at_fault, where(more_than(doubtful, 0), yet, ""))


@takes_blanks
def tapping_forbidden_or_left_out(
    depth: Words, floor: Words, wall: Words, hole: Words, *lines: Count
) -> Words:
    """What the card of a tap says first, by the verdicts on the drilling before it and its hole.

    Source: common practice, no source.

    >>> tapping_forbidden_or_left_out("OK", "OPEN", "", "OK", 1.0)
    'DO NOT TAP YET: its hole is in doubt'
    """
    out, *doubts = (cells_saying(one, depth, floor, wall, hole) for one in (OUT, *DOUBTS))
    said = where(more_than(total(*doubts), 0), TAP_NOT_YET, left_out_in_words(*lines))
    return where(more_than(out, 0), DO_NOT_TAP, said)


def _which(*kinds: bool) -> Count:
    """Which of depth, floor, wall and hole something holds of, each a binary digit."""
    return total(*(where(one, 2**at, 0) for at, one in enumerate(kinds)))


@takes_blanks
def hole_held(drilled: Words, drilled_stands: Words, probed: Words, probed_stands: Words) -> Words:
    """The verdict on the hole that a drill makes, of the first hole once that is probed, for its
    card; blank where its check passes, or somebody conceded the hole. One at a station that is left
    as it is still counts.

    Source: common practice, no source.

    >>> hole_held("OUT", "holds", "", "passes"), hole_held("OUT", "conceded", "", "passes")
    ('OUT', '')
    """
    of_drill = where(_stands_against(drilled, drilled_stands), drilled, "")
    return where(_stands_against(probed, probed_stands), probed, of_drill)


def _stands_against(verdict: Words, standing: Words) -> bool:
    spoken_for = any_of(equal(standing, HOLDS), equal(standing, LEFT))
    return all_of(spoken_for, any_of(*(equal(verdict, one) for one in (OUT, *DOUBTS))))


@takes_blanks
def before_the_cut(depth: Words, floor: Words, wall: Words, hole: Words) -> Words:
    """What is to be done first about the worst of the verdicts that forbid a cut; blank where none
    does.

    Source: common practice, no source.

    >>> before_the_cut(depth="OK", floor="OPEN", wall="UNSURE", hole="")
    'wall UNSURE: measure the block nearer, or open the hole less'
    """
    said: Words = ""
    for verdict in (OPEN, UNSURE, STALE, OUT):  # the worst has the last word
        kinds = {"hole": hole, "wall": wall, "floor": floor, "depth": depth}
        for kind, found in kinds.items():
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
    yet = where(more_than(doubts, 0), f"{STOPPED} YET: in doubt below", "")
    return where(more_than(cells_saying(OUT, *verdicts), 0), f"{STOPPED}: OUT below", yet)
