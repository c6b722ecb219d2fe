"""How flat, straight, square and parallel a face is: by feelers under a straight-edge, or by a
plane through readings.

The plane is worked out in small steps, each a cell to look at: the means, each
reading less its mean, the sums of squares and products, the slopes, the level, what is left at each
point. Any points will do that do not all stand in one row.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    largest,
    mean,
    smallest,
    square_root,
    taken_as,
    takes_blanks,
    total,
    total_of_squares,
)
from datumbook.formulas.kinds import Angle, Area, Length, Ratio


def flat_within(span: Length, flat_per_length: Ratio) -> Length:
    """How flat a face must be over a span, where a limit is stated so much to the length.

    span: the length the straight-edge lies over; flat_per_length: how flat to each of its inches
    or millimetres.

    Source: common practice, no source; a service book has 0.00075 in to each inch of span.

    >>> flat_within(span=12.0, flat_per_length=0.00075)
    0.009
    """
    return span * flat_per_length


def worst_gap(*gaps: Length) -> Length:
    """Largest gap found under the straight-edge, of all the lines it was laid along.

    Source: common practice, no source.

    >>> worst_gap(0.03, 0.05, 0.02, 0.04, 0.06, 0.05)
    0.06
    """
    return largest(*gaps)


def mean_reading(*readings: Length) -> Length:
    """Mean of the readings, or of the places where they were taken along one direction.

    Source: common practice, no source.

    >>> mean_reading(0.004, 0.009, 0.002)
    0.005
    """
    return mean(*readings)


def deviation(reading: Length, mean_reading: Length) -> Length:
    """One reading, or one place, less the mean of all.

    Source: as plane_slope.

    >>> deviation(reading=0.009, mean_reading=0.005)
    0.004
    """
    return reading - mean_reading


def sum_of_squares(*deviations: Length) -> Area:
    """Sum of the squares of the deviations along one direction.

    Source: as plane_slope.

    >>> sum_of_squares(-150, 0, 150)
    45000.
    """
    return total_of_squares(*deviations)


def deviation_product(deviation: Length, other_deviation: Length) -> Area:
    """One point's deviations in two directions, multiplied.

    The second may be the reading itself instead of its deviation: the sum over all points comes out
    the same.

    Source: as plane_slope.

    >>> deviation_product(deviation=-150, other_deviation=0.004)
    -0.6
    """
    return deviation * other_deviation


def sum_of_products(*deviation_products: Area) -> Area:
    """Sum of the products of deviations over all points.

    Source: as plane_slope.

    >>> sum_of_products(-0.6, 0.0, 0.9)
    0.3
    """
    return total(*deviation_products)


def plane_slope(
    squares: Area, other_squares: Area, cross_products: Area, products: Area, other_products: Area
) -> Ratio:
    """Slope along one direction of the plane that leaves the least sum of squares; the other by
    changing them round.

    squares, other_squares: sums of squares of the places, this way and the other; cross_products:
    of the places, one way with the other; products, other_products: of the places with the
    readings, this way and the other (mm²).

    Source: [ISO 12781-1], the least squares reference plane; two equations with two unknowns.

    >>> plane_slope(
    ...     squares=135000, other_squares=60000, cross_products=0, products=0.6, other_products=1.1,
    ... )
    0.00000444
    """
    return (products * other_squares - other_products * cross_products) / (
        squares * other_squares - cross_products * cross_products
    )


def plane_level(
    mean_reading: Length,
    slope: Ratio,
    mean_place: Length,
    other_slope: Ratio,
    other_mean_place: Length,
) -> Length:
    """Reading of the plane where both places are zero.

    Source: [ISO 12781-1], the least squares reference plane: it passes through the means.

    >>> plane_level(
    ...     0.004556, slope=0.00000444, mean_place=150, other_slope=0.0000183, other_mean_place=100,
    ... )
    0.00206
    """
    return mean_reading - slope * mean_place - other_slope * other_mean_place


def above_plane(
    reading: Length,
    plane_level: Length,
    slope: Ratio,
    place: Length,
    other_slope: Ratio,
    other_place: Length,
) -> Length:
    """How far one reading lies above the plane; below zero in a hollow.

    Source: [ISO 12781-1], local flatness deviation.

    >>> above_plane(
    ...     0.009, plane_level=0.002056, slope=0.00000444, place=150, other_slope=0.0000183,
    ...     other_place=100,
    ... )
    0.00445
    """
    return reading - plane_level - slope * place - other_slope * other_place


def flatness(*above_plane: Length) -> Length:
    """Peak to valley about the least squares plane: the highest point less the lowest.

    The least zone of ISO 1101 is never wider than this; a straight-edge with feelers reads
    something else again.

    Source: [ISO 12781-1], peak-to-valley flatness deviation.

    >>> flatness(-0.0021, 0.0044, -0.0031)
    0.0075
    """
    return largest(*above_plane) - smallest(*above_plane)


@takes_blanks
def flatness_uncertainty(uncertainty: Length) -> Length:
    """Uncertainty that the flatness about a plane can have at most, from that of one reading; a
    blank counts as zero.

    What is left about the plane is never less certain than a reading, and two of them together
    never less than two.

    Source: [ISO 12781-1], the least squares reference plane: what it leaves of the readings is a
    projection of them, whose norm is one.

    >>> flatness_uncertainty(uncertainty=0.0020)
    0.0028
    """
    return square_root(2) * total(uncertainty)


def out_of_square(total_reading: Length, swept_diameter: Length) -> Angle:
    """Angle by which a bar or a bore leans from square to a face, from the total reading of an
    indicator swept on it.

    Small angles: the tangent is taken for the angle, a part in a million too much at a tenth of a
    degree.

    Source: geometry.

    >>> out_of_square(total_reading=0.02, swept_diameter=80)
    0.00025
    """
    return taken_as(total_reading / swept_diameter, Angle)


def out_of_square_over(out_of_square: Angle, length: Length) -> Length:
    """How far the lean carries over a length: a bore's own diameter, or the length of its liner.

    Source: geometry.

    >>> out_of_square_over(out_of_square=0.00025, length=200)
    0.05
    """
    return taken_as(out_of_square, Ratio) * length


def parallelism(*heights: Length) -> Length:
    """Greatest less least of the heights of one face above another.

    Source: common practice, no source.

    >>> parallelism(361.95, 361.93, 361.97, 361.96)
    0.04
    """
    return largest(*heights) - smallest(*heights)
