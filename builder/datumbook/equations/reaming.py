"""Reamers and ground taps: how large a reamer may be for a hole of stated limits, and a tap by the
number of its limit.
"""

from __future__ import annotations

from datumbook.formulas.functions import empirical
from datumbook.formulas.kinds import Length, Ratio
from datumbook.formulas.whole import whole_below

THOUSANDTH = 0.001  # mm: to which the shares of the tolerance are rounded up


@empirical(largest_hole="mm", tolerance="mm", gives="mm")
def largest_reamer(largest_hole: Length, tolerance: Length) -> Length:
    """Largest size of a reamer for a hole: the hole's largest less 0.15 of its tolerance, that
    share rounded up to a thousandth of a millimetre.

    largest_hole: the hole's largest size; tolerance: its tolerance.

    Source: common practice, no source; a tool article works it for 10 D8.

    >>> largest_reamer(largest_hole=10.062, tolerance=0.022)
    10.058
    """
    return largest_hole + THOUSANDTH * whole_below(-0.15 * tolerance / THOUSANDTH)


@empirical(largest_reamer="mm", tolerance="mm", gives="mm")
def smallest_reamer(largest_reamer: Length, tolerance: Length) -> Length:
    """Smallest size of a reamer for a hole, worn or new: its largest less 0.35 of the hole's
    tolerance, that share rounded up to a thousandth of a millimetre.

    largest_reamer: the reamer's largest size; tolerance: the hole's tolerance.

    Source: as largest_reamer

    >>> smallest_reamer(largest_reamer=10.058, tolerance=0.022)
    10.05
    """
    return largest_reamer + THOUSANDTH * whole_below(-0.35 * tolerance / THOUSANDTH)


@empirical(effective="in", gives="in")
def largest_tap_effective(effective: Length, limit_number: Ratio) -> Length:
    """Largest pitch diameter of a ground unified tap, to 1 in, by the number of its H limit; the
    smallest is the largest of the number before.

    effective: basic pitch diameter; limit_number: 1 of H1, 2 of H2.

    Source: [Machinery's Handbook] p. 972, steps of 0.0005 in over the basic pitch diameter.

    >>> largest_tap_effective(effective=25.4 * 0.3344, limit_number=1) / 25.4
    0.3349
    """
    return effective + 0.0005 * limit_number
