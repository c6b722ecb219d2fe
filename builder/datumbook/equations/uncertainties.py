"""How far a reading can be trusted: how well it repeats, what its parts add up to, how near a limit
it may come.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    any_of,
    equal,
    largest,
    missing,
    more_than,
    numbers_in,
    only_where,
    square_root,
    taken_as,
    takes_blanks,
    total,
    total_of_squares,
    where,
)
from datumbook.formulas.kinds import Length, Measure, Ratio, Words

TOO_COARSE, FINE_ENOUGH = "too coarse", "fine enough"

# share of the expanded uncertainty (coverage factor 2) that guards a limit, by decision rule
SIMPLE_ACCEPTANCE = 0.0
WHOLE_GUARD_BAND = 1.0  # ISO 14253-1:1998 and 2013
ONE_SIDED_GUARD_BAND = 1.65 / 2  # ISO 14253-1:2017: 95 % conformance at one limit


def pair_range(first: Length, second: Length) -> Length:
    """Difference of two readings of one place, the second taken without sight of the first.

    Source: common practice, no source.

    >>> pair_range(first=3.1002, second=3.1003)
    0.0001
    """
    return abs(first - second)


@takes_blanks
def repeatability_of_pairs(*pair_ranges: Length) -> Length:
    """Standard deviation of one reading, s = root of (sum of d squared / 2 n), from n pairs that
    lie d apart.

    A place read once only is no pair; blank where there is none.

    Source: [JCGM 100] 4.2.2, pooled as in 4.2.4: each pair has the variance d squared / 2 and one
    degree of freedom.

    >>> repeatability_of_pairs(0.001, 0.002, float("nan"))
    0.00112
    """
    pairs = numbers_in(*pair_ranges)
    squares = total_of_squares(*(largest(apart, 0) for apart in pair_ranges))
    return only_where(
        more_than(pairs, 0), square_root(squares / (2 * taken_as(largest(pairs, 1), Ratio)))
    )


def widest_pair(resolution: Length) -> Length:
    """How far two readings of one place may lie apart before it is read again: two steps of the
    gauge.

    Source: common practice, no source.

    >>> widest_pair(resolution=0.001)
    0.002
    """
    return 2 * resolution


def drift(zero_before: Length, zero_after: Length) -> Length:
    """How far the setting of a gauge has moved while it was read from.

    Source: common practice, no source.

    >>> drift(zero_before=0.0, zero_after=-0.001)
    0.001
    """
    return abs(zero_after - zero_before)


def finest_share(tolerance: Length) -> Length:
    """The tenth of a tolerance that a gauge, and what disturbs it, must not pass.

    Source: common practice, no source: the rule of ten to one.

    >>> finest_share(tolerance=0.020)
    0.002
    """
    return tolerance / 10


@takes_blanks
def all_told(setting: Length, uncertainty: Length) -> Length:
    """How far one reading may be off, with what its setting may be off; blank where neither is
    stated.

    uncertainty: of one reading by itself, or the one figure for all where no setting is stated.

    Source: [JCGM 100] 5.1.2, two independent components; both expanded alike.

    >>> all_told(setting=0.002, uncertainty=0.0015)
    0.0025
    """
    squares = total_of_squares(total(setting), total(uncertainty))
    return only_where(more_than(numbers_in(setting, uncertainty), 0), square_root(squares))


@takes_blanks
def in_common(setting: Length, uncertainty: Length) -> Length:
    """How far all readings of one setting may be off together: the setting's figure, or the one
    figure for all where no setting is stated.

    Source: [JCGM 100] 5.2.2 and F.1.2.3, readings with one standard in common.

    >>> in_common(setting=float("nan"), uncertainty=0.003)
    0.003
    """
    common = where(missing(setting), total(uncertainty), total(setting))
    return only_where(more_than(numbers_in(setting, uncertainty), 0), common)


def guard_band(expanded_uncertainty: Measure, guard_factor: Ratio) -> Measure:
    """How far inside a limit a value must lie to be accepted, by the decision rule named.

    guard_factor: SIMPLE_ACCEPTANCE, WHOLE_GUARD_BAND or ONE_SIDED_GUARD_BAND, for a coverage factor
    of 2.

    Source: [ISO 14253-1], 1998: the whole of U; 2017: 1.65 standard uncertainties.

    >>> guard_band(expanded_uncertainty=0.003, guard_factor=ONE_SIDED_GUARD_BAND)
    0.002475
    """
    return guard_factor * expanded_uncertainty


def guard_applied(guard_band: Measure, gauge: Words, tolerance: Measure) -> Measure:
    """The guard a verdict is judged with: the rule's own, or the whole tolerance where the gauge is
    too coarse to tell.

    Source: common practice, no source: a gauge that cannot resolve a tenth of the tolerance decides
    nothing inside it.

    >>> guard_applied(guard_band=0.003, gauge=TOO_COARSE, tolerance=0.010)
    0.010
    """
    return where(equal(gauge, TOO_COARSE), largest(tolerance, guard_band), guard_band)


def tolerance(low: Measure, high: Measure) -> Measure:
    """Width between two limits.

    Source: geometry.

    >>> tolerance(low=82.500, high=82.515)
    0.015
    """
    return high - low


@takes_blanks
def coarseness(resolution: Measure, tolerance: Measure) -> Words:
    """Whether a gauge is too coarse for a tolerance: it should resolve a tenth of it. Blank where
    nothing is stated.

    Source: common practice, no source: the rule of ten to one.

    >>> coarseness(resolution=0.0005, tolerance=0.001)
    'too coarse'
    """
    verdict = where(more_than(10 * resolution, tolerance), TOO_COARSE, FINE_ENOUGH)
    return where(any_of(missing(resolution), missing(tolerance)), "", verdict)
