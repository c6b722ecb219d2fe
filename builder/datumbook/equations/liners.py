"""Liners: the hole and the size of a dry one, what it leaves of walls and lands, and how far a wet
or flanged one stands out of the deck.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    at_least,
    at_most,
    decided,
    equal,
    largest,
    mean,
    numbers_in,
    only_where,
    smallest,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Length, Words

YES = "yes"


def hole_for_liner(outside_diameter: Length, interference_wanted: Length) -> Length:
    """Hole in which a measured liner has an interference.

    outside_diameter: of the liner (mm); interference_wanted: on the diameter (mm).

    Source: geometry.

    >>> hole_for_liner(outside_diameter=86.060, interference_wanted=0.050)
    86.010
    """
    return outside_diameter - interference_wanted


def middle_of_hole(hole_least: Length, hole_most: Length) -> Length:
    """Size to bore the block to for a measured liner: the middle of what its hole may be, as far
    as can be from too loose and too tight; blank where the liner is too uneven for any hole.

    hole_least: for the largest size of the liner and the most interference (mm); hole_most: for its
    smallest size and the least (mm).

    Source: common practice, no source; the guard at both limits is the same.

    >>> middle_of_hole(hole_least=85.960, hole_most=86.010)
    85.985
    """
    return only_where(at_most(hole_least, hole_most), (hole_least + hole_most) / 2)


@takes_blanks
def size_among_others(liner: Words, size: Length, standard: Length) -> Length:
    """A size of one bore as it counts where all bores are finished alike: its own, or the standard
    bore where a liner goes in, which is new metal and asks for no oversize.

    liner: "yes" where the cylinder gets one; size: of the bore as it is (mm), a lined one may be
    blank; standard: (mm).

    Source: common practice, no source.

    >>> size_among_others(liner="yes", size=84.648, standard=82.000)
    82.000
    >>> size_among_others(liner="no", size=82.199, standard=82.000)
    82.199
    """
    return where(equal(liner, YES), standard, only_where(at_least(numbers_in(size), 1), size))


@takes_blanks
def suggested_bore(*sizes_among_others: Length, liner: Words, next_oversize: Length) -> Length:
    """Finish bore suggested for one cylinder: the next oversize; in a liner the one decided for the
    cylinders without, so that one set of pistons serves; the widest, where they differ.

    sizes_among_others: what each cylinder is finished to, as it counts (mm), blank where none is
    decided; liner: "yes" where the cylinder gets one; next_oversize: (mm), blank where none cleans.

    Source: common practice, no source.

    >>> suggested_bore(82.500, 82.500, 82.000, 82.500, liner="yes", next_oversize=82.250)
    82.500
    """
    every = at_least(numbers_in(*sizes_among_others), len(sizes_among_others))
    return where(
        equal(liner, YES),
        only_where(every, largest(0.0, *sizes_among_others)),  # there is a largest of blanks too
        only_where(at_least(numbers_in(next_oversize), 1), next_oversize),
    )


@decided
@takes_blanks
def bore_in_block(liner: Words, hole: Length, finish_bore: Length) -> Length:
    """What the block itself is bored to: the hole for the liner where one goes in, else the finish
    bore.

    liner: "yes" where the cylinder gets one; hole, finish_bore: (mm).

    Source: none needed.

    >>> bore_in_block(liner="yes", hole=86.010, finish_bore=82.000)
    86.010
    """
    planned = only_where(at_least(numbers_in(finish_bore), 1), finish_bore)
    return where(equal(liner, YES), only_where(at_least(numbers_in(hole), 1), hole), planned)


@takes_blanks
def size_to_clean_at_lined(liner: Words, bored_to: Length, until_decided: Length) -> Length:
    """The size at which a cylinder that may get a liner must be clean: what the block is bored to;
    until that is decided, and no liner asked for, another size.

    liner: "yes" where the cylinder gets one; bored_to, until_decided: (mm).

    Source: none needed.

    >>> size_to_clean_at_lined(liner="yes", bored_to=86.010, until_decided=83.000)
    86.010
    """
    said = at_least(numbers_in(bored_to), 1)
    return where(
        equal(liner, YES), only_where(said, bored_to), where(said, bored_to, until_decided)
    )


def wall_needed(liner: Words, parent_wall: Length, wall: Length) -> Length:
    """Wall of the block a cylinder must keep: less behind a liner than round a bare bore.

    liner: "yes" where the cylinder gets one; parent_wall, wall: the two limits (mm).

    Source: none needed.

    >>> wall_needed(liner="yes", parent_wall=2.3, wall=3.8)
    2.3
    """
    return where(equal(liner, YES), parent_wall, wall)


def wall_counted(limit: Length, *spares: Length) -> Length:
    """The worst of several walls that have limits of their own, counted against one of them.

    limit: the one (mm); spares: what each wall has above its own limit (mm).

    Source: geometry.

    >>> wall_counted(3.8, 0.9, 0.4, 1.2)
    4.2
    """
    return limit + smallest(*spares)


def ledge_spread(*ledge_depths: Length) -> Length:
    """How far the ledge for a liner's flange is from level: the deepest reading round it less the
    shallowest.

    ledge_depths: depths of the ledge below the deck (mm).

    Source: geometry.

    >>> ledge_spread(8.012, 8.020, 8.015, 8.010)
    0.010
    """
    return largest(*ledge_depths) - smallest(*ledge_depths)


def ledge_depth(*ledge_depths: Length) -> Length:
    """Depth at which a flange sits, or how far a liner stands out: the mean of the readings round
    it.

    ledge_depths: (mm).

    Source: common practice, no source.

    >>> ledge_depth(8.012, 8.020, 8.015, 8.013)
    8.015
    """
    return mean(*ledge_depths)


def stand_out_after(stand_out: Length, deck_cut: Length) -> Length:
    """How far a liner stands out once the deck is cut and its ledge is not: further by the whole
    cut.

    stand_out, deck_cut: (mm).

    Source: geometry.

    >>> stand_out_after(stand_out=0.100, deck_cut=0.150)
    0.250
    """
    return stand_out + deck_cut


def stand_out_spread(*stand_outs: Length) -> Length:
    """How unlike the liners under one head stand out of the deck: the proudest less the least
    proud.

    stand_outs: above the deck (mm).

    Source: geometry.

    >>> stand_out_spread(0.090, 0.105, 0.100, 0.095)
    0.015
    """
    return largest(*stand_outs) - smallest(*stand_outs)
