"""Limits of metric threads that stand in the tables of ISO 965-1: the bolt in class 6g, the pitch
diameter of the hole in 6H.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from datumbook.numbers.quantities import number_text
from datumbook.standards import table
from datumbook.standards.fits import MICROMETRE
from datumbook.standards.thread_rows import Thread


@dataclass(frozen=True, slots=True)
class MetricLimits:
    """Smallest and largest of each diameter, exactly, in mm."""

    effective_of_hole: tuple[Fraction, Fraction]
    effective_of_bolt: tuple[Fraction, Fraction]
    major_of_bolt: tuple[Fraction, Fraction]


def metric_limits(thread: Thread) -> MetricLimits:
    """Return the limits of a row of the metric table.

    Source: [ISO 965-1], 6g and 6H: the basic diameter to a thousandth of a millimetre, less the
    allowance of the bolt, and a tolerance below it for the bolt, above it for the hole.

    >>> from datumbook.standards.threads import parse_thread
    >>> [float(size) for size in metric_limits(parse_thread("M10")).major_of_bolt]
    [9.732, 9.968]
    """
    data, pitch = table("metric"), number_text(thread.pitch)
    row = next(one for one in data["pitch_tolerance_6"] if thread.major <= one["up_to"])
    effective = round(Fraction(thread.effective_mm), 3)
    allowance = data["allowance_g"][pitch] * MICROMETRE
    return MetricLimits(
        effective_of_hole=(effective, effective + row["hole"][pitch] * MICROMETRE),
        effective_of_bolt=_below(effective - allowance, row["bolt"][pitch]),
        major_of_bolt=_below(thread.major - allowance, data["major_tolerance_6"][pitch]),
    )


def _below(largest: Fraction, tolerance: int) -> tuple[Fraction, Fraction]:
    return largest - tolerance * MICROMETRE, largest
