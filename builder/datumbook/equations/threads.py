"""Threads of 60 degrees: how much thread a hole leaves, the limits of class 2A/2B and 6H, the
stress area.

One convention must be named wherever "percent of thread" is printed: the drill charts count 2 x 3/4
H as a full thread, the standards' basic profile has 2 x 5/8 H; the second figure is always 6/5 of
the first.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    PI,
    empirical,
    in_unit,
    largest,
    less_than,
    rounded,
    smallest,
    square_root,
    where,
)
from datumbook.formulas.kinds import Area, Length, Share
from datumbook.formulas.ties import rounded_to_even

H = square_root(3) / 2  # height of the sharp triangle, as a share of the pitch
QUARTER_INCH = 0.25  # in: where the tolerance of the minor diameter has one formula
NUMBER_SIX = 0.138  # in: from here on a hole of 2B is printed to three places


def drill_chart_thread(major: Length, hole: Length, pitch: Length) -> Share:
    """Share of a full thread a hole leaves, by the drill charts, where 2 x 3/4 H on the diameter is
    100 %.

    major: major diameter (mm); hole: diameter of the drilled hole (mm); pitch: pitch (mm).

    Source: [Machinery's Handbook] p. 2155; 1.299038 = 2 x 3/4 H by the geometry of 60 degrees.

    >>> drill_chart_thread(major=6.35, hole=5.1054, pitch=1.27)
    0.7544
    """
    return (major - hole) / (2 * 3 / 4 * H * pitch)


def basic_profile_thread(major: Length, hole: Length, pitch: Length) -> Share:
    """Share of the basic internal thread a hole leaves, where 2 x 5/8 H on the diameter is 100 %;
    6/5 of the charts'.

    major: major diameter (mm); hole: diameter of the drilled hole (mm); pitch: pitch (mm).

    Source: basic profile of [ASME B1.1] and [ISO 68-1]; 1.082532 = 2 x 5/8 H by the geometry of 60
    degrees.

    >>> basic_profile_thread(major=6.35, hole=5.1054, pitch=1.27)
    0.9053
    """
    return (major - hole) / (2 * 5 / 8 * H * pitch)


def basic_pitch_diameter(major: Length, pitch: Length) -> Length:
    """Diameter at which thread and groove are equally wide: the major diameter less 2 x 3/8 H.

    major: major diameter (mm); pitch: pitch (mm).

    Source: basic profile of [ASME B1.1] and [ISO 68-1] (0.649519 = 2 x 3/8 H).

    >>> basic_pitch_diameter(major=8.0, pitch=1.25)
    7.188
    """
    return major - 2 * 3 / 8 * H * pitch


def basic_minor_diameter(major: Length, pitch: Length) -> Length:
    """Diameter of the hole that leaves the whole basic internal thread: the major diameter less 2 x
    5/8 H.

    major: major diameter (mm); pitch: pitch (mm).

    Source: basic profile of [ASME B1.1] and [ISO 68-1] (1.082532 = 2 x 5/8 H).

    >>> basic_minor_diameter(major=8.0, pitch=1.25)
    6.647
    """
    return major - 2 * 5 / 8 * H * pitch


def unified_stress_area(major: Length, pitch: Length) -> Area:
    """Tensile stress area of a unified thread: the circle whose diameter is the major diameter less
    9/8 H.

    major: major diameter (mm); pitch: pitch (mm).

    Source: [FED-STD-H28] part 2B table II.B.1, formula 1, pi/4 (d - 0.9743 / n)^2 in inches
    (0.974279 = 9/8 H).

    >>> unified_stress_area(major=12.7, pitch=25.4 / 13)
    91.55
    """
    return PI / 4 * (major - 9 / 8 * H * pitch) ** 2


def metric_stress_area(major: Length, pitch: Length) -> Area:
    """Tensile stress area of a metric thread: the circle midway between the pitch and the root
    diameter.

    major: major diameter (mm); pitch: pitch (mm).

    Source: [ISO 898-1], pi/4 ((d2 + d3) / 2)^2; d2 is d less 3/4 H, d3 is d less 17/12 H (0.938194
    = 13/12 H).

    >>> metric_stress_area(major=8.0, pitch=1.25)
    36.61
    """
    return PI / 4 * (major - 13 / 12 * H * pitch) ** 2


@empirical(major="in", engagement="in", pitch="in", gives="in")
def _pitch_tolerance(major: Length, engagement: Length, pitch: Length) -> Length:
    tolerance: Length = 0.0015 * (major ** (1 / 3) + engagement ** (1 / 2) + 10 * pitch ** (2 / 3))
    return tolerance


def pitch_tolerance_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """Tolerance of the pitch diameter of an external unified thread, class 2A, to the six places of
    an inch with which the limits of 2A and 2B are worked out.

    major: major diameter; engagement: length of engagement (the major diameter for UNC, UNF and the
    series of 4, 6 and 8 to the inch, 9 pitches for the others of one pitch); pitch: pitch (mm).

    Source: [ASME B1.1] clause 5.8, 0.0015 (D^1/3 + LE^1/2 + 10 P^2/3) in inches.

    >>> pitch_tolerance_2a(major=6.35, engagement=6.35, pitch=1.27) / 25.4
    0.003731
    """
    return rounded(_pitch_tolerance(major, engagement, pitch), "in", 6)


def pitch_tolerance_2b(pitch_tolerance: Length) -> Length:
    """Tolerance of the pitch diameter of an internal unified thread, class 2B, to four places of an
    inch: 1.3 times that of 2A.

    pitch_tolerance: that of 2A, to six places of an inch (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> pitch_tolerance_2b(pitch_tolerance=0.003731 * 25.4) / 25.4
    0.0049
    """
    return rounded_to_even(1.3 * pitch_tolerance, "in", 4)


def allowance_2a(pitch_tolerance: Length) -> Length:
    """How far every diameter of a class 2A thread stays under the basic one, to four places of an
    inch: 0.3 of the pitch-diameter tolerance, which is taken to five places.

    pitch_tolerance: that of 2A, to six places of an inch (mm).

    Source: [ASME B1.1] clause 5.8; the five places are those that reproduce its printed limits.

    >>> allowance_2a(pitch_tolerance=0.003731 * 25.4) / 25.4
    0.0011
    """
    return rounded_to_even(0.3 * rounded_to_even(pitch_tolerance, "in", 5), "in", 4)


@empirical(pitch="in", gives="in")
def major_tolerance_2a(pitch: Length) -> Length:
    """Tolerance of the major diameter of an external unified thread, class 2A.

    pitch: pitch. The formula itself stands in inches.

    Source: [ASME B1.1] clause 5.8, 0.060 P^2/3.

    >>> major_tolerance_2a(pitch=1.27) / 25.4
    0.00814
    """
    tolerance: Length = 0.060 * pitch ** (2 / 3)
    return tolerance


@empirical(major="in", pitch="in", gives="in")
def minor_tolerance_2b(major: Length, pitch: Length) -> Length:
    """Tolerance of the minor diameter of an internal unified thread, class 2B.

    major: major diameter; pitch: pitch, 1/4 in or finer. The formulas themselves stand in inches:
    0.25 P - 0.40 P^2 from 1/4 in on; under it 0.05 P^2/3 + 0.03 P / D - 0.002, not less than that
    and not more than 0.394 P.

    Source: [ASME B1.1] clause 5.8.

    >>> minor_tolerance_2b(major=6.35, pitch=1.27) / 25.4
    0.0115
    """
    usual = 0.25 * pitch - 0.40 * pitch**2
    small = 0.05 * pitch ** (2 / 3) + 0.03 * pitch / major - 0.002
    return where(
        less_than(major, QUARTER_INCH), smallest(largest(small, usual), 0.394 * pitch), usual
    )


def _hole_2b(major: Length, four_places: Length) -> Length:
    """A limit of the hole as the standard prints it: to three places of an inch from number 6 on,
    to four under it.
    """
    three_places = rounded_to_even(four_places, "in", 3)
    return where(less_than(in_unit(major, "in"), NUMBER_SIX), four_places, three_places)


def smallest_minor_2b(major: Length, pitch: Length) -> Length:
    """Smallest hole of an internal unified thread: the basic minor diameter to four places of an
    inch, and from number 6 on from there to three.

    major: major diameter (mm); pitch: pitch (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> smallest_minor_2b(major=7.9375, pitch=25.4 / 24) / 25.4
    0.267
    """
    return _hole_2b(major, rounded(basic_minor_diameter(major, pitch), "in", 4))


def largest_minor_2b(major: Length, pitch: Length, minor_tolerance: Length) -> Length:
    """Largest hole of an internal unified thread, class 2B: the basic minor diameter and the
    tolerance, each to four places of an inch, and from number 6 on their sum to three.

    major: major diameter (mm); pitch: pitch (mm); minor_tolerance: that of `minor_tolerance_2b`
    (mm).

    Source: [ASME B1.1] clause 5.8, as its editions before 2019 print it: one value of that of 2019
    is otherwise.

    >>> largest_minor_2b(major=22.225, pitch=25.4 / 14, minor_tolerance=0.015816 * 25.4) / 25.4
    0.814
    """
    smallest_hole = rounded(basic_minor_diameter(major, pitch), "in", 4)
    return _hole_2b(major, smallest_hole + rounded(minor_tolerance, "in", 4))


def largest_pitch_diameter_2b(major: Length, pitch: Length, pitch_tolerance: Length) -> Length:
    """Largest pitch diameter of an internal unified thread, class 2B; the smallest is the basic
    pitch diameter.

    major: major diameter (mm); pitch: pitch (mm); pitch_tolerance: that of 2A, to six places of an
    inch (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> largest_pitch_diameter_2b(12.7, 25.4 / 13, pitch_tolerance=0.005034 * 25.4) / 25.4
    0.4565
    """
    return rounded(basic_pitch_diameter(major, pitch), "in", 4) + pitch_tolerance_2b(
        pitch_tolerance
    )


def largest_pitch_diameter_2a(major: Length, pitch: Length, pitch_tolerance: Length) -> Length:
    """Largest pitch diameter of an external unified thread, class 2A: the basic one less the
    allowance.

    major, pitch, pitch_tolerance: as for `largest_pitch_diameter_2b` (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> largest_pitch_diameter_2a(12.7, 25.4 / 13, pitch_tolerance=0.005034 * 25.4) / 25.4
    0.4485
    """
    return rounded(basic_pitch_diameter(major, pitch), "in", 4) - allowance_2a(pitch_tolerance)


def smallest_pitch_diameter_2a(major: Length, pitch: Length, pitch_tolerance: Length) -> Length:
    """Smallest pitch diameter of an external unified thread, class 2A: the largest less the
    tolerance, to four places of an inch.

    major, pitch, pitch_tolerance: as for `largest_pitch_diameter_2b` (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> smallest_pitch_diameter_2a(6.35, 1.27, pitch_tolerance=0.003731 * 25.4) / 25.4
    0.2127
    """
    largest_pitch_diameter = largest_pitch_diameter_2a(major, pitch, pitch_tolerance)
    return largest_pitch_diameter - rounded_to_even(pitch_tolerance, "in", 4)


def largest_major_2a(major: Length, pitch_tolerance: Length) -> Length:
    """Largest major diameter of an external unified thread, class 2A: the basic one less the
    allowance.

    major: major diameter (mm); pitch_tolerance: that of 2A, to six places of an inch (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> largest_major_2a(major=12.7, pitch_tolerance=0.005034 * 25.4) / 25.4
    0.4985
    """
    return rounded(major, "in", 4) - allowance_2a(pitch_tolerance)


def smallest_major_2a(major: Length, pitch: Length, pitch_tolerance: Length) -> Length:
    """Smallest major diameter of an external unified thread, class 2A: the largest less the
    tolerance, to four places of an inch.

    major, pitch, pitch_tolerance: as for `largest_pitch_diameter_2b` (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> smallest_major_2a(major=6.35, pitch=1.27, pitch_tolerance=0.003731 * 25.4) / 25.4
    0.2408
    """
    return largest_major_2a(major, pitch_tolerance) - rounded(major_tolerance_2a(pitch), "in", 4)


def smallest_minor_6h(major: Length, pitch: Length) -> Length:
    """Smallest hole of an internal metric thread, class 6H: the basic minor diameter to a
    thousandth of a millimetre.

    major: major diameter (mm); pitch: pitch (mm).

    Source: [ISO 965-1], position H (no allowance).

    >>> smallest_minor_6h(major=8.0, pitch=1.25)
    6.647
    """
    return rounded(basic_minor_diameter(major, pitch), "mm", 3)


def largest_minor_6h(major: Length, pitch: Length, minor_tolerance: Length) -> Length:
    """Largest hole of an internal metric thread, class 6H: the smallest and the tabled tolerance of
    its pitch.

    major: major diameter (mm); pitch: pitch (mm); minor_tolerance: TD1 of grade 6 for this pitch
    (mm), from the table.

    Source: [ISO 965-1].

    >>> largest_minor_6h(major=8.0, pitch=1.25, minor_tolerance=0.265)
    6.912
    """
    return rounded(basic_minor_diameter(major, pitch) + minor_tolerance, "mm", 3)
