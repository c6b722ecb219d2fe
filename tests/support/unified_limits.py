"""Limits of unified threads in inches, two ways: by the equations, and in exact decimals by the
rules of ASME B1.1 written down a second time.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal, localcontext
from fractions import Fraction

from datumbook.equations import threads
from datumbook.standards.threads import Thread

INCH = 25.4
NAMES = ("D1min", "D1max", "D2min", "D2max", "dmax", "dmin", "d2max", "d2min")


def by_equations(major: float, pitch: float, engagement: float) -> dict[str, float]:
    """The limits of class 2B and 2A of a thread by the equations; sizes in mm, limits in inches."""
    tolerance = threads.pitch_tolerance_2a(major, engagement, pitch)
    found = (
        threads.smallest_minor_2b(major, pitch),
        threads.largest_minor_2b(major, pitch, threads.minor_tolerance_2b(major, pitch)),
        threads.basic_pitch_diameter(major, pitch),
        threads.largest_pitch_diameter_2b(major, pitch, tolerance),
        threads.largest_major_2a(major, tolerance),
        threads.smallest_major_2a(major, pitch, tolerance),
        threads.largest_pitch_diameter_2a(major, pitch, tolerance),
        threads.smallest_pitch_diameter_2a(major, pitch, tolerance),
    )
    return {name: size / INCH for name, size in zip(NAMES, found, strict=True)}


def of_thread(thread: Thread) -> dict[str, float]:
    """The same of a row of the tables."""
    return by_equations(thread.major_mm, thread.pitch_mm, thread.engagement_mm)


def exactly(major: Fraction, pitch: Fraction, engagement: Fraction) -> dict[str, Decimal]:
    """The same of a thread in inches, in exact decimals with ties to even."""
    with localcontext() as context:
        context.prec, context.rounding = 50, ROUND_HALF_EVEN
        size, step, engaged = (_decimal(one) for one in (major, pitch, engagement))
        height = Decimal(3).sqrt() * step
        two_thirds = _root(step * step)
        tolerance = _places(Decimal("0.0015") * (_root(size) + engaged.sqrt() + 10 * two_thirds), 6)
        allowance = _places(Decimal("0.3") * _places(tolerance, 5), 4)
        usual = step / 4 - Decimal("0.4") * step * step
        small = Decimal("0.05") * two_thirds + Decimal("0.03") * step / size - Decimal("0.002")
        under_quarter = min(max(small, usual), Decimal("0.394") * step)
        minor_tolerance = _places(usual if size >= Decimal("0.25") else under_quarter, 4)
        minor = _places(size - 5 * height / 8, 4)
        digits = 4 if size < Decimal("0.138") else 3
        effective, largest = _places(size - 3 * height / 8, 4), _places(size, 4) - allowance
        found = (
            _places(minor, digits),
            _places(minor + minor_tolerance, digits),
            effective,
            effective + _places(Decimal("1.3") * tolerance, 4),
            largest,
            largest - _places(Decimal("0.06") * two_thirds, 4),
            effective - allowance,
            effective - allowance - _places(tolerance, 4),
        )
    return dict(zip(NAMES, found, strict=True))


def _decimal(number: Fraction) -> Decimal:
    return Decimal(number.numerator) / Decimal(number.denominator)


def _root(number: Decimal) -> Decimal:
    """The cube root, by Newton's way."""
    root = number ** (Decimal(1) / 3)
    return root - (root**3 - number) / (3 * root * root)


def _places(number: Decimal, places: int) -> Decimal:
    return number.quantize(Decimal(1).scaleb(-places))
