"""Reaming: how large a reamer may be for a hole of stated limits."""

from __future__ import annotations

from datumbook.formulas.functions import empirical
from datumbook.formulas.kinds import Length
from datumbook.formulas.whole import whole_below

STEP = 0.001  # mm: to which the shares of the tolerance are rounded up


@empirical(largest_hole="mm", tolerance="mm", gives="mm")
def largest_reamer(largest_hole: Length, tolerance: Length) -> Length:
    """Largest size of a reamer for a hole: the hole's largest less 0.15 of its tolerance, that
    share rounded up to a thousandth of a millimetre.

    largest_hole: the hole's largest size; tolerance: its tolerance.

    Source: a tool article's rule, with its worked example of 10 D8; common practice, no source of
    the rounding.

    >>> largest_reamer(largest_hole=10.062, tolerance=0.022)
    10.058
    """
    return largest_hole + STEP * whole_below(-0.15 * tolerance / STEP)


@empirical(largest_reamer="mm", tolerance="mm", gives="mm")
def smallest_reamer(largest_reamer: Length, tolerance: Length) -> Length:
    """Smallest size of a reamer for a hole, worn or new: its largest less 0.35 of the hole's
    tolerance, that share rounded up to a thousandth of a millimetre.

    largest_reamer: the reamer's largest size; tolerance: the hole's tolerance.

    Source: as largest_reamer

    >>> smallest_reamer(largest_reamer=10.058, tolerance=0.022)
    10.05
    """
    return largest_reamer + STEP * whole_below(-0.35 * tolerance / STEP)
