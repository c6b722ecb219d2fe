"""The cylinder bores: how far each is from round, straight and its first size, and what it will
clean up to.
"""

from __future__ import annotations

from datumbook.formulas.functions import PI, largest, mean, next_size_up, smallest
from datumbook.formulas.kinds import Length, Volume


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
