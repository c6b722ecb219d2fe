"""Threads of 60 degrees: how much thread a hole leaves, the limits of class 2A/2B and 6H, the
stress area.

One convention must be named wherever "percent of thread" is printed: the drill charts count 2 x 3/4
H as a full thread, the standards' basic profile has 2 x 5/8 H; the second figure is always 6/5 of
the first.
"""

from __future__ import annotations

from datumbook.formulas.functions import PI, empirical, rounded, square_root
from datumbook.formulas.kinds import Area, Length, Share

H = square_root(3) / 2  # height of the sharp triangle, as a share of the pitch


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
def pitch_tolerance_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """Tolerance of the pitch diameter of an external unified thread, class 2A.

    major: major diameter; engagement: length of engagement (the major diameter for UNC and UNF, 9
    pitches for the constant-pitch series); pitch: pitch. The formula itself stands in inches.

    Source: [ASME B1.1] clause 5.8, 0.0015 (D^1/3 + LE^1/2 + 10 P^2/3).

    >>> pitch_tolerance_2a(major=6.35, engagement=6.35, pitch=1.27) / 25.4
    0.00373
    """
    tolerance: Length = 0.0015 * (major ** (1 / 3) + engagement ** (1 / 2) + 10 * pitch ** (2 / 3))
    return tolerance


def pitch_tolerance_2b(major: Length, engagement: Length, pitch: Length) -> Length:
    """Tolerance of the pitch diameter of an internal unified thread, class 2B: 1.3 times that of
    2A.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm). The tolerance of 2A is taken to six
    places of an inch: the printed limit of 1/4-20 needs it.

    Source: [ASME B1.1] clause 5.8.

    >>> pitch_tolerance_2b(major=6.35, engagement=6.35, pitch=1.27) / 25.4
    0.00485
    """
    return 1.3 * rounded(pitch_tolerance_2a(major, engagement, pitch), "in", 6)


def allowance_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """How far every diameter of a class 2A thread stays under the basic one: 0.3 of the
    pitch-diameter tolerance.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> allowance_2a(major=6.35, engagement=6.35, pitch=1.27) / 25.4
    0.00112
    """
    return 0.3 * pitch_tolerance_2a(major, engagement, pitch)


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


@empirical(pitch="in", gives="in")
def minor_tolerance_2b(pitch: Length) -> Length:
    """Tolerance of the minor diameter of an internal unified thread, class 2B, of 1/4 in and over.

    pitch: pitch, 1/4 in or finer. The formula itself stands in inches.

    Source: [ASME B1.1] clause 5.8, 0.25 P - 0.40 P^2.

    >>> minor_tolerance_2b(pitch=1.27) / 25.4
    0.0115
    """
    return 0.25 * pitch - 0.40 * pitch**2


def smallest_minor_2b(major: Length, pitch: Length) -> Length:
    """Smallest hole of an internal unified thread: the basic minor diameter to three places of an
    inch.

    major: major diameter (mm); pitch: pitch (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> smallest_minor_2b(major=7.9375, pitch=25.4 / 24) / 25.4
    0.267
    """
    return rounded(basic_minor_diameter(major, pitch), "in", 3)


def largest_minor_2b(major: Length, pitch: Length) -> Length:
    """Largest hole of an internal unified thread, class 2B: the unrounded minimum and the
    tolerance, to three places.

    major: major diameter, 1/4 in or over (mm); pitch: pitch (mm).

    Source: [ASME B1.1] clause 5.8.

    >>> largest_minor_2b(major=7.9375, pitch=25.4 / 24) / 25.4
    0.277
    """
    return rounded(basic_minor_diameter(major, pitch) + minor_tolerance_2b(pitch), "in", 3)


def largest_pitch_diameter_2b(major: Length, engagement: Length, pitch: Length) -> Length:
    """Largest pitch diameter of an internal unified thread, class 2B; the smallest is the basic
    pitch diameter.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm). Each step is rounded to four places
    of an inch.

    Source: [ASME B1.1] clause 5.8.

    >>> largest_pitch_diameter_2b(major=12.7, engagement=12.7, pitch=25.4 / 13) / 25.4
    0.4565
    """
    tolerance = pitch_tolerance_2b(major, engagement, pitch)
    return rounded(basic_pitch_diameter(major, pitch), "in", 4) + rounded(tolerance, "in", 4)


def largest_pitch_diameter_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """Largest pitch diameter of an external unified thread, class 2A: the basic one less the
    allowance.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm). Each step is rounded to four places
    of an inch.

    Source: [ASME B1.1] clause 5.8.

    >>> largest_pitch_diameter_2a(major=12.7, engagement=12.7, pitch=25.4 / 13) / 25.4
    0.4485
    """
    allowance = allowance_2a(major, engagement, pitch)
    return rounded(basic_pitch_diameter(major, pitch), "in", 4) - rounded(allowance, "in", 4)


def smallest_pitch_diameter_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """Smallest pitch diameter of an external unified thread, class 2A: the largest less the
    tolerance.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm). Each step is rounded to four places
    of an inch.

    Source: [ASME B1.1] clause 5.8.

    >>> smallest_pitch_diameter_2a(major=6.35, engagement=6.35, pitch=1.27) / 25.4
    0.2127
    """
    tolerance = pitch_tolerance_2a(major, engagement, pitch)
    return largest_pitch_diameter_2a(major, engagement, pitch) - rounded(tolerance, "in", 4)


def largest_major_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """Largest major diameter of an external unified thread, class 2A: the basic one less the
    allowance.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm). Each step is rounded to four places
    of an inch.

    Source: [ASME B1.1] clause 5.8.

    >>> largest_major_2a(major=12.7, engagement=12.7, pitch=25.4 / 13) / 25.4
    0.4985
    """
    return rounded(major, "in", 4) - rounded(allowance_2a(major, engagement, pitch), "in", 4)


def smallest_major_2a(major: Length, engagement: Length, pitch: Length) -> Length:
    """Smallest major diameter of an external unified thread, class 2A: the largest less the
    tolerance.

    major, engagement, pitch: as for `pitch_tolerance_2a` (mm). Each step is rounded to four places
    of an inch.

    Source: [ASME B1.1] clause 5.8.

    >>> smallest_major_2a(major=6.35, engagement=6.35, pitch=1.27) / 25.4
    0.2408
    """
    return largest_major_2a(major, engagement, pitch) - rounded(major_tolerance_2a(pitch), "in", 4)


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
