"""Thread forms beside the 60 degrees of unified and metric threads: Whitworth, British Association,
cycle, taper pipe;
what any two forms have in common, and the holes recommended by length of engagement.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    PI,
    all_of,
    at_most,
    empirical,
    more_than,
    rounded,
    smallest,
    taken_as,
    tangent,
    where,
)
from datumbook.formulas.kinds import Angle, Area, Count, Length, Ratio, Share

WHITWORTH_ANGLE = 55 * PI / 180
ASSOCIATION_DEPTH = 0.6
CYCLE_DEPTH = 0.5327
TAPER_PIPE_DEPTH = 0.8


def sharp_height(pitch: Length, form_angle: Angle) -> Length:
    """Height H of the sharp triangle that a thread form is cut from: p / 2 / tan(angle / 2).

    Source: geometry.

    >>> sharp_height(pitch=1.0, form_angle=1.0471975512)
    0.866
    """
    return pitch / 2 / tangent(form_angle / 2)


def thread_share(major: Length, hole: Length, minor: Length) -> Share:
    """Share of its standard's full depth that a hole leaves of a thread: 1 at the basic minor
    diameter.

    For threads of 60 degrees this is the share of 2 x 5/8 H, not that of the drill charts.

    Source: geometry.

    >>> thread_share(major=0.2500, hole=0.2008, minor=0.1860)
    0.769
    """
    return (major - hole) / (major - minor)


def mean_stress_area(effective: Length, minor: Length) -> Area:
    """Tensile stress area where a standard has no formula of its own: the circle midway between
    both diameters.

    effective: effective (pitch) diameter (mm); minor: minor diameter (mm).

    Source: common practice, no source: the rule of [ISO 898-1] taken over, with the minor for the
    root diameter.

    >>> mean_stress_area(effective=0.2180, minor=0.1860)
    0.0320
    """
    return PI / 4 * ((effective + minor) / 2) ** 2


def turns_to_bind(pitch: Length, other_pitch: Length) -> Count:
    """Turns after which two unlike pitches are half a thread out, so that the crests of one stand
    in the crests' way.

    Never for equal pitches: the division by nothing says so.

    Source: geometry.

    >>> turns_to_bind(pitch=1.0, other_pitch=25.4 / 24)
    8.57
    """
    return taken_as(smallest(pitch, other_pitch) / 2 / abs(pitch - other_pitch), Count)


def turns_by_hand(
    clearance: Length, pitch: Length, other_pitch: Length, form_angle: Angle
) -> Count:
    """Turns that a screw of one pitch goes into a hole of another, before the flanks of its first
    and its last thread bind on opposite sides.

    clearance: of the pitch diameters, hole less screw (mm); pitch, other_pitch: (mm); form_angle:
    between the flanks. A turn is out by the difference of the pitches, which takes its cotangent of
    half the angle from the clearance. Never for equal pitches: the division by nothing says so.

    Source: geometry; screw gauges are reckoned so, 1.732 times the error of pitch at 60 degrees,
    1.921 times at 55.

    >>> from math import radians
    >>> turns_by_hand(clearance=0.433, pitch=1.25, other_pitch=1.0, form_angle=radians(60))
    1.00
    """
    return taken_as(clearance * tangent(form_angle / 2) / abs(pitch - other_pitch), Count)


def whitworth_depth(pitch: Length) -> Length:
    """Depth of a Whitworth thread: two thirds of the sharp triangle of 55 degrees, 0.640327 p.

    Source: [BS 84].

    >>> whitworth_depth(pitch=1.0)
    0.640327
    """
    return 2 / 3 * (pitch / 2 / tangent(WHITWORTH_ANGLE / 2))


def whitworth_effective_diameter(major: Length, pitch: Length) -> Length:
    """Effective diameter of a Whitworth thread: the major diameter less one depth.

    Source: [BS 84].

    >>> whitworth_effective_diameter(major=0.3125, pitch=1 / 18)
    0.2769
    """
    return major - whitworth_depth(pitch)


def whitworth_minor_diameter(major: Length, pitch: Length) -> Length:
    """Minor diameter of a Whitworth thread: the major diameter less two depths.

    Source: [BS 84].

    >>> whitworth_minor_diameter(major=0.3125, pitch=1 / 18)
    0.2414
    """
    return major - 2 * whitworth_depth(pitch)


@empirical(gives="mm")
def _ninth_tenths(number: Count) -> Length:
    power: Length = 0.9 ** taken_as(number, Ratio)
    return power


@empirical(pitch="mm", gives="mm")
def _diameter_of_pitch(pitch: Length) -> Length:
    diameter: Length = 6 * pitch**1.2
    return diameter


def association_pitch(number: Count) -> Length:
    """Pitch of a British Association thread of a number from 0 to 10: 0.9 to its power, in mm, to
    two figures.

    Source: [BS 93].

    >>> association_pitch(number=2)
    0.81
    """
    return rounded(_ninth_tenths(number), "mm", 2)


def association_major_diameter(pitch: Length) -> Length:
    """Major diameter of a British Association thread of a number from 0 to 10: 6 p^1.2, in mm, to
    two figures.

    Source: [BS 93].

    >>> association_major_diameter(pitch=0.81)
    4.7
    """
    return rounded(_diameter_of_pitch(pitch), "mm", 1)


def association_effective_diameter(major: Length, pitch: Length) -> Length:
    """Effective diameter of a British Association thread of 47 1/2 degrees: the major diameter less
    0.6 p.

    The printed tables round it to 0.005 mm.

    Source: [BS 93].

    >>> association_effective_diameter(major=4.7, pitch=0.81)
    4.214
    """
    return major - ASSOCIATION_DEPTH * pitch


def association_minor_diameter(major: Length, pitch: Length) -> Length:
    """Minor diameter of a British Association thread: the major diameter less twice 0.6 p.

    Source: [BS 93].

    >>> association_minor_diameter(major=4.7, pitch=0.81)
    3.728
    """
    return major - 2 * ASSOCIATION_DEPTH * pitch


def largest_association_minor(minor: Length, pitch: Length) -> Length:
    """Largest hole of a British Association thread: the basic minor diameter and 0.375 p.

    Source: [BS 93] annex B.5.2, the formula; the printed limits are rounded and were not open.

    >>> largest_association_minor(minor=3.728, pitch=0.81)
    4.032
    """
    return minor + 0.375 * pitch


def cycle_effective_diameter(major: Length, pitch: Length) -> Length:
    """Effective diameter of a cycle thread of 60 degrees: the major diameter less its depth of
    0.5327 p.

    Source: common practice, no source: the depth from memory.

    >>> cycle_effective_diameter(major=0.25, pitch=1 / 26)
    0.2295
    """
    return major - CYCLE_DEPTH * pitch


def cycle_minor_diameter(major: Length, pitch: Length) -> Length:
    """Minor diameter of a cycle thread: the major diameter less twice its depth of 0.5327 p.

    Source: common practice, no source: the depth from memory; a public table's minor diameters
    agree with it.

    >>> cycle_minor_diameter(major=0.25, pitch=1 / 26)
    0.2090
    """
    return major - 2 * CYCLE_DEPTH * pitch


def largest_pipe_minor(minor: Length, minor_tolerance: Length) -> Length:
    """Largest hole of a parallel pipe thread: the tabled minor diameter and its tabled tolerance.

    Source: [ISO 228-1].

    >>> largest_pipe_minor(minor=8.566, minor_tolerance=0.282)
    8.848
    """
    return minor + minor_tolerance


def recommended_share(major: Length, engagement: Length) -> Share:
    """Share of the hole's tolerance from which drilled holes are recommended to start, by length of
    engagement.

    0 up to a third of the diameter, 1/4 up to two thirds, 1/2 up to one and a half, 3/4 beyond
    that, up to three.

    Source: [ASME B1.1], recommended hole-size limits, as a drill maker reproduces them.

    >>> recommended_share(major=0.3125, engagement=0.3125)
    0.5
    """
    beyond = where(at_most(engagement, 3 / 2 * major), 1 / 2, 3 / 4)
    return where(
        at_most(engagement, major / 3), 0, where(at_most(engagement, 2 / 3 * major), 1 / 4, beyond)
    )


def recommended_smallest_hole(
    smallest_minor: Length, minor_tolerance: Length, recommended_share: Ratio
) -> Length:
    """Smallest hole recommended for a length of engagement.

    Source: as recommended_share

    >>> recommended_smallest_hole(
    ...     smallest_minor=0.267, minor_tolerance=0.0097222, recommended_share=1 / 2,
    ... )
    0.2719
    """
    return smallest_minor + recommended_share * minor_tolerance


def recommended_largest_hole(
    smallest_minor: Length, largest_minor: Length, minor_tolerance: Length, recommended_share: Ratio
) -> Length:
    """Largest hole recommended for a length of engagement: half the tolerance over the smallest.

    Where that is the end of the class, the printed limit stands.

    Source: as recommended_share

    >>> recommended_largest_hole(
    ...     smallest_minor=0.267, largest_minor=0.277, minor_tolerance=0.0097222,
    ...     recommended_share=1 / 2
    ... )
    0.277
    """
    usual = all_of(more_than(recommended_share, 1 / 4), at_most(recommended_share, 1 / 2))
    return where(
        usual, largest_minor, smallest_minor + (recommended_share + 1 / 2) * minor_tolerance
    )
