"""The cut that cleans a face: how low the face lies, which reading asks for the metal, what a cut
leaves of a hollow.
"""

from __future__ import annotations

from datumbook.equations.faces import ALONG_AXIS, ALONG_ITSELF, ALONG_OPPOSITE, NOT_CUT
from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_least,
    at_most,
    decided,
    equal,
    largest,
    more_than,
    only_where,
    smallest,
    where,
)
from datumbook.formulas.kinds import Length, Words

# how a straight-edge lies on a face
RESTS_ON_ENDS, ROCKS = "rests on its ends", "rocks on the middle"


def under_edge(
    above_base: Length, other_above_base: Length, gap: Length, edge_lies: Words
) -> Length:
    """How low the face may be along a line between two corners, from the gap under a straight-edge
    laid there: the lower end less the gap.

    gap: the thinnest leaf that does not go under. Where the edge rocks on the middle the face is
    crowned, and its ends are the low places; where that is not said the gap counts as a hollow.

    Source: geometry.

    >>> under_edge(220.00, 219.99, gap=0.03, edge_lies="rests on its ends")
    219.96
    """
    return smallest(above_base, other_above_base) - where(equal(edge_lies, ROCKS), 0, gap)


def crown_under_edge(gap: Length, edge_lies: Words) -> Length:
    """How much a face may be crowned along one line under a straight-edge: the gap at its ends
    where it rocks on the middle, nothing where it rests on its ends. Where that is not said the gap
    counts, for a block may rock on it.

    Source: geometry.

    >>> crown_under_edge(0.03, "rocks on the middle"), crown_under_edge(0.03, "rests on its ends")
    (0.03, 0)
    """
    return where(equal(edge_lies, RESTS_ON_ENDS), 0, gap)


def crown_left(crown: Length, parallel_to: Words) -> Length:
    """The crown of a face as it is stood upon: any cut takes it off, for the cut lies below the
    lowest corner.

    parallel_to: what that face is cut parallel to. Blank until it is said.

    Source: geometry.

    >>> crown_left(0.03, "not cut"), crown_left(0.03, "crank line")
    (0.03, 0)
    """
    return only_where(_said(parallel_to), where(equal(parallel_to, NOT_CUT), crown, 0))


def crown_stood_on(parallel_to: Words, *crowns: Length) -> Length:
    """How much the block rocks on the crown of the face it is stood on to be cut; not at all where
    it is set up otherwise. Blank until that is said.

    parallel_to: what the cut is parallel to; crowns: of the opposite face, line by line.

    Source: geometry.

    >>> crown_stood_on("opposite face", 0.0, 0.03), crown_stood_on("crank line", 0.0, 0.03)
    (0.03, 0)
    """
    rocks_by = where(equal(parallel_to, ALONG_OPPOSITE), largest(*crowns), 0)
    return only_where(_said(parallel_to), rocks_by)


def _said(parallel_to: Words) -> bool:
    choices = (ALONG_AXIS, ALONG_ITSELF, ALONG_OPPOSITE, NOT_CUT)
    return any_of(*(equal(parallel_to, one) for one in choices))


def least_cut(lowest_above_base: Length, *under_edges: Length) -> Length:
    """Least metal off the lowest corner that cleans the face, hollows included.

    A hollow between the lines, where no straight-edge was laid, is not seen.

    Source: geometry.

    >>> least_cut(219.99, 219.96, 219.98)
    0.03
    """
    # the lines come first: alike, a line's gap counts in what the cut may be off by
    return lowest_above_base - smallest(*under_edges, lowest_above_base)


def infeed_that_cleans(
    least_cut: Length, highest_above_base: Length, lowest_above_base: Length
) -> Length:
    """Least infeed that cleans the face, from the touch on the highest corner: what it may be off
    by is what the least cut is short by, for both corners and the gap are read.

    Source: geometry.

    >>> infeed_that_cleans(least_cut=0.03, highest_above_base=220.03, lowest_above_base=219.99)
    0.07
    """
    return least_cut + (highest_above_base - lowest_above_base)


def cut_with_margin(least_cut: Length, uncertainty: Length) -> Length:
    """Cut suggested: the least that cleans, and what that may be off by.

    Source: common practice, no source.

    >>> cut_with_margin(least_cut=0.030, uncertainty=0.006)
    0.036
    """
    return least_cut + uncertainty


@decided
def hollow_left(cut_with_margin: Length, cut_taken: Length) -> Length:
    """How deep a hollow may still be after the cut; none where the cut cleans. A bound: what the
    least cut may be off by is in it.

    Source: geometry.

    >>> hollow_left(cut_with_margin=0.03, cut_taken=0.02)
    0.01
    """
    return largest(0, cut_with_margin - cut_taken)


def whether_clean(
    parallel_to: Words, cut_taken: Length, least_cut: Length, suggested: Length
) -> Words:
    """Whether the cut intended cleans the face: surely from the cut suggested on; surely not where
    it falls short of the least cut by more than that may be off by.

    Source: JCGM 106:2012, 8.3.2 and 8.3.3, guarded acceptance and guarded rejection.

    >>> whether_clean("crank line", cut_taken=0.033, least_cut=0.030, suggested=0.036)
    'may not clean'
    """
    short = least_cut - cut_taken
    return where(
        equal(parallel_to, NOT_CUT),
        "not cut",
        where(
            at_most(suggested, cut_taken),
            "cleans",
            where(more_than(short, suggested - least_cut), "does not clean", "may not clean"),
        ),
    )


def whether_corners_clean(
    parallel_to: Words, cut_taken: Length, least_cut: Length, suggested: Length
) -> Words:
    """As whether_clean, of a face under which no hollow was looked for: that it falls short is
    known from its corners, that it cleans is not.

    Source: JCGM 106:2012, 8.3.3, guarded rejection.

    >>> whether_corners_clean("crank line", cut_taken=0.036, least_cut=0.030, suggested=0.036)
    'corners only'
    """
    by_edge = whether_clean(parallel_to, cut_taken, least_cut, suggested)
    return where(equal(by_edge, "cleans"), "corners only", by_edge)


def as_set_up(
    parallel_to: Words, along_axis: Length, along_itself: Length, along_opposite: Length
) -> Length:
    """Of a figure worked out for every set-up the one for what the cut is parallel to; of a face
    not cut, the one along the face itself.

    Source: none needed.

    >>> as_set_up("opposite face", 0.06, 0.02, 0.03)
    0.03
    """
    return where(
        equal(parallel_to, ALONG_OPPOSITE),
        along_opposite,
        as_set_up_by_itself(parallel_to, along_axis, along_itself),
    )


def as_set_up_by_itself(parallel_to: Words, along_axis: Length, along_itself: Length) -> Length:
    """As as_set_up, of a block that cannot be stood on an opposite face.

    Source: none needed.

    >>> as_set_up_by_itself("crank line", 0.06, 0.02)
    0.06
    """
    axis = equal(parallel_to, ALONG_AXIS)
    chosen = any_of(equal(parallel_to, ALONG_ITSELF), equal(parallel_to, NOT_CUT))
    return where(axis, along_axis, only_where(chosen, along_itself))


def corner_at(height: Length, front_left: Length, front_right: Length, rear_left: Length) -> Words:
    """Which corner stands at this height, the first of several alike: the highest, where a level
    cutter touches, or the lowest, off which a cut is counted.

    Source: none needed.

    >>> corner_at(219.99, 220.03, 220.03, 219.99)
    'rear left'
    """
    return where(
        _alike(front_left, height),
        "front left",
        where(
            _alike(front_right, height),
            "front right",
            where(_alike(rear_left, height), "rear left", "rear right"),
        ),
    )


def asked_by(
    lowest_above_base: Length,
    least_cut: Length,
    left_edge: Length,
    right_edge: Length,
    left_diagonal: Length,
    right_diagonal: Length,
    front_end: Length,
) -> Words:
    """Which reading asks for the metal of the least cut: the lowest corner, or the hollow under one
    line of the straight-edge.

    left_edge to front_end: how low the face may be along these lines; the rear end is the last that
    can ask.

    Source: none needed.

    >>> asked_by(219.99, 0.03, 219.99, 219.96, 219.99, 219.99, 219.99)
    'hollow along the right edge'
    """
    lowest = lowest_above_base - least_cut
    return where(
        at_most(least_cut, 0),
        "lowest corner",
        where(
            _alike(left_edge, lowest),
            "hollow along the left edge",
            where(
                _alike(right_edge, lowest),
                "hollow along the right edge",
                where(
                    _alike(left_diagonal, lowest),
                    "hollow, front left to rear right",
                    where(
                        _alike(right_diagonal, lowest),
                        "hollow, front right to rear left",
                        where(
                            _alike(front_end, lowest),
                            "hollow across the front end",
                            "hollow across the rear end",
                        ),
                    ),
                ),
            ),
        ),
    )


def _alike(one: Length, other: Length) -> bool:
    """Whether two heights are one."""
    return all_of(at_least(one, other), at_most(one, other))
