"""The cylinder bores: how far each is from round, straight and its first size, and what it will
clean up to.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    PI,
    any_of,
    decided,
    largest,
    less_than,
    mean,
    missing,
    more_than,
    next_size_up,
    numbers_in,
    smallest,
    square_root,
    takes_blanks,
    total_of_squares,
    where,
)
from datumbook.formulas.kinds import Length, Volume, Words
from datumbook.formulas.whole import whole_below


def out_of_round(thrust: Length, axial: Length) -> Length:
    """Difference of two diameters at one depth, across the block and along the crank; never below
    zero.

    A gauge with two points cannot see an odd number of lobes: three axes or a three-point gauge
    can.

    Source: NAVEDTRA 14076 p. 3-5, two readings a quarter turn apart.

    >>> out_of_round(thrust=82.078, axial=82.051)
    0.027
    """
    return abs(thrust - axial)


def out_of_round_all(*diameters: Length) -> Length:
    """Largest less smallest of the diameters read at one depth, in more directions than two.

    Of a bore r = R + a cos 4t, with a lobe for each of four fasteners, two directions at right
    angles see nothing; with the two between them the whole 4 a shows where the lobes stand at these
    angles, less the further they are turned. Of three lobes a gauge with two points sees nothing.

    Source: geometry.

    >>> out_of_round_all(82.020, 82.020, 81.980, 81.980)
    0.040
    """
    return largest(*diameters) - smallest(*diameters)


def taper(top: Length, bottom: Length) -> Length:
    """Diameter at the top of ring travel less the diameter at the bottom, on one axis.

    The sign is kept: above zero the bore is worn at the top, as most are, below zero at the bottom.

    Source: common practice, no source.

    >>> taper(top=82.078, bottom=82.031)
    0.047
    """
    return top - bottom


def mean_size(*diameters: Length) -> Length:
    """Mean of all diameters read in one bore or tunnel: pistons and shells are graded to it; it
    releases nothing.

    Source: common practice, no source.

    >>> mean_size(82.012, 82.010, 82.011, 82.007)
    82.010
    """
    return mean(*diameters)


def largest_size(*diameters: Length) -> Length:
    """Largest of all diameters read on one bore, tunnel or journal: the bore's place worn most, the
    journal's with the thinnest film of oil.

    A size tolerance holds for every diameter: the largest must keep its high end.

    Source: ISO 14405-1, two-point size.

    >>> largest_size(82.078, 82.051, 82.031)
    82.078
    """
    return largest(*diameters)


def smallest_size(*diameters: Length) -> Length:
    """Smallest of all diameters read on one bore, tunnel or journal: where a piston or a shaft has
    the least room.

    A size tolerance holds for every diameter: the smallest must keep its low end.

    Source: ISO 14405-1, two-point size.

    >>> smallest_size(82.512, 82.509, 82.511)
    82.509
    """
    return smallest(*diameters)


def wear(largest_size: Length, unworn_lip: Length) -> Length:
    """Largest diameter of a bore less the diameter of the lip above ring travel, which the rings
    never touched.

    Source: common practice, no source.

    >>> wear(largest_size=82.078, unworn_lip=82.004)
    0.074
    """
    return largest_size - unworn_lip


def clean_up_size(unworn_lip: Length, largest_size: Length, clean_up_stock: Length) -> Length:
    """Diameter at which a bore worn on one side only is clean again about its own axis.

    All the wear may lie on one wall, and the cutter takes as much from the other: lip + 2 x wear +
    stock for the hone.

    Source: geometry.

    >>> clean_up_size(unworn_lip=82.004, largest_size=82.078, clean_up_stock=0.06)
    82.212
    """
    return unworn_lip + 2 * (largest_size - unworn_lip) + clean_up_stock


def bar_off_axis(offset: Length, across: Length) -> Length:
    """How far the boring bar stands off the bore's own axis, straight across.

    offset: along the row; across: across it; either way.

    Source: geometry.

    >>> bar_off_axis(offset=-0.06, across=0.08)
    0.10
    """
    # along the row alone nothing is squared, lest its uncertainty be divided by zero
    return where(
        more_than(abs(across), 0), square_root(total_of_squares(offset, across)), abs(offset)
    )


def clean_up_set_over(clean_up_size: Length, offset: Length, across: Length) -> Length:
    """Diameter at which a bore is clean with the bar set over: the wall the bar moves away from
    lies farther from the new axis by all of the set-over, and the deepest wear may be there.

    clean_up_size: about the bore's own axis; offset, across: how far the bar is set over.

    Source: geometry.

    >>> clean_up_set_over(clean_up_size=82.404, offset=0.06, across=0.0)
    82.524
    """
    return clean_up_size + 2 * bar_off_axis(offset, across)


def surely_clean_size(clean_up: Length, uncertainty: Length) -> Length:
    """Diameter at which a bore is surely clean: the clean-up size, and what that may be off by.

    Source: common practice, no source.

    >>> surely_clean_size(clean_up=82.524, uncertainty=0.006)
    82.530
    """
    return clean_up + uncertainty


@takes_blanks
def whether_bored(bored_to: Length, may_vary: Length, *diameters: Length) -> Words:
    """Whether a cylinder is bored at all: not where its size is typed as it was read, within what a
    finished bore may vary of its smallest reading; "yes" until it is said, and for a size that is
    smaller than it was.

    may_vary: from the smallest finished bore to the largest.

    Source: none needed.

    >>> whether_bored(82.500, 0.015, 82.078, 82.051)
    'yes'
    >>> whether_bored(82.051, 0.015, 82.078, 82.051)
    'no'
    """
    most = largest(0, *diameters)  # there is a largest of blanks too
    least = smallest(most, *diameters)
    unsaid = less_than(numbers_in(bored_to, *diameters), 1 + len(diameters))
    off = any_of(
        more_than(bored_to, smallest(most, least + may_vary)), less_than(bored_to, least - may_vary)
    )
    return where(unsaid, "yes", where(off, "yes", "no"))


@takes_blanks
def size_to_clean_at(bored_to: Length, until_decided: Length) -> Length:
    """The size at which a bore must be clean: what it is bored to, and until that is decided
    another size.

    Source: none needed.

    >>> size_to_clean_at(82.500, 83.000), size_to_clean_at(float("nan"), 83.000)
    (82.500, 83.000)
    """
    return where(missing(bored_to), until_decided, bored_to)


def room_to_set_over(size: Length, surely_clean: Length, across: Length) -> Length:
    """How far the bar may be set over along the row with the bore surely clean at a size; what goes
    across it counts whole.

    surely_clean: about the bore's own axis.

    Source: geometry, the two legs of a triangle together being no shorter than its long side.

    >>> room_to_set_over(size=82.500, surely_clean=82.404, across=0.02)
    0.028
    """
    return largest(0, (size - surely_clean) / 2 - abs(across))


@decided
def set_over_suggested(wanted: Length, room: Length, step: Length) -> Length:
    """How far the bar is set over as it is set by: the step nearest to what is wanted, never more
    than there is room for.

    wanted: what puts the centre back into its row; step: what is printed.

    Source: none needed.

    >>> set_over_suggested(wanted=-0.062, room=0.048, step=0.01)
    -0.04
    """
    nearest = step * whole_below(abs(wanted) / step + 0.5)
    held = smallest(nearest, step * whole_below(room / step))
    return where(less_than(wanted, 0), -held, held)


def worst_clean_up(*clean_up_sizes: Length) -> Length:
    """Largest clean-up size of the row: all bores are finished to one size, and the worst of them
    chooses it.

    Source: common practice, no source.

    >>> worst_clean_up(82.212, 82.180, 82.301, 82.150)
    82.301
    """
    return largest(*clean_up_sizes)


def next_oversize(worst_clean_up: Length, standard: Length, *oversizes: Length) -> Length:
    """Finished bore diameter: the first of the standard size and its oversizes that cleans up every
    bore.

    The oversizes are given in rising order. Missing where the largest is not enough: the block
    wants liners. The standard size serves where every bore gets one.

    Source: common practice, no source.

    >>> next_oversize(82.301, 82.000, 0.25, 0.50, 0.75, 1.00)
    82.500
    """
    sizes = (standard + oversize for oversize in oversizes)
    return next_size_up(worst_clean_up, standard, *sizes)


def bore_before_honing(finished_bore: Length, clean_up_stock: Length) -> Length:
    """Diameter to bore to, leaving the stock for the hone.

    Source: geometry.

    >>> bore_before_honing(finished_bore=82.500, clean_up_stock=0.060)
    82.440
    """
    return finished_bore - clean_up_stock


def swept_volume(bore: Length, stroke: Length) -> Volume:
    """Volume one piston sweeps in one stroke, pi/4 x bore^2 x stroke.

    Source: Otto example p. 616.

    >>> swept_volume(bore=250, stroke=375)
    18407769.
    """
    return PI / 4 * bore**2 * stroke


def least_finished(size: Length, minus: Length) -> Length:
    """Smallest finished bore for the size that was bored to.

    Source: geometry.

    >>> least_finished(size=82.500, minus=0.000)
    82.500
    """
    return size - minus


def largest_finished(size: Length, plus: Length) -> Length:
    """Largest finished bore for the size that was bored to.

    Source: geometry.

    >>> largest_finished(size=82.500, plus=0.018)
    82.518
    """
    return size + plus
