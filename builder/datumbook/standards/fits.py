"""Fits as people write them, `85 H7/s6`, and the limits that ISO 286-1 gives each code at a
size.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NoReturn

from datumbook.equations.fits import greatest_clearance, least_clearance
from datumbook.messages import ExpectedError
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import INCH
from datumbook.standards import table

MICROMETRE = Fraction(1, 1000)
EVEN = "js"
CAST_IRON = "s6"  # Shigley table 7-9: the tightest fit usable with it
FIT = re.compile(
    r"[øØ⌀]?\s*(?P<size>[^A-Za-z]*(?:in\b|mm\b|\")?)\s*(?P<hole>[A-Za-z]+\d+)\s*/\s*(?P<shaft>[A-Za-z]+\d+)"
)
CODE = re.compile(r"(?P<letter>[A-Z]{1,2}|[a-z]{1,2})(?P<grade>\d{1,2})")
HOW_TO_WRITE_A_FIT = "write a fit like 85 H7/s6, the hole's code in capitals first"


@dataclass(frozen=True, slots=True)
class FitLimits:
    """What a code allows at a size: the nominal size and both deviations from it, exactly, in
    mm.
    """

    code: str
    nominal: Fraction
    lower: Fraction
    upper: Fraction

    @property
    def smallest_mm(self) -> float:
        """Smallest size allowed, in mm."""
        return float(self.nominal + self.lower)

    @property
    def largest_mm(self) -> float:
        """Largest size allowed, in mm."""
        return float(self.nominal + self.upper)


@dataclass(frozen=True, slots=True)
class Fit:
    """A hole and a shaft of one nominal size (mm); clearances below zero are interferences."""

    nominal: Fraction
    hole: FitLimits
    shaft: FitLimits
    unit: str = "mm"  # in which the size is written

    @property
    def designation(self) -> str:
        """The fit as it is written."""
        return f"{self.size_text} {self.hole.code}/{self.shaft.code}"

    @property
    def size_text(self) -> str:
        """The size in the unit it is written in, which is named where it is none of the code's."""
        inches = self.nominal / INCH
        return f"{float(inches):g} in" if self.unit == "in" else f"{float(self.nominal):g}"

    @property
    def least_clearance_mm(self) -> float:
        """Clearance of the smallest hole on the largest shaft, in mm."""
        return round(least_clearance(self.hole.smallest_mm, self.shaft.largest_mm), 9)

    @property
    def greatest_clearance_mm(self) -> float:
        """Clearance of the largest hole on the smallest shaft, in mm."""
        return round(greatest_clearance(self.hole.largest_mm, self.shaft.smallest_mm), 9)

    @property
    def kind(self) -> str:
        """What every pair within the limits has: "clearance", "interference", or "transition" for
        either.
        """
        if self.least_clearance_mm >= 0:
            return "clearance"
        return "interference" if self.greatest_clearance_mm <= 0 else "transition"


def parse_fit(text: str) -> Fit:
    """Return the fit a text names, its size in mm unless `in` is written; ExpectedError saying what
    to write instead.

    >>> fit = parse_fit("85 H7/s6")
    >>> fit.hole.largest_mm, fit.shaft.smallest_mm
    (85.035, 85.071)
    >>> fit.least_clearance_mm, fit.greatest_clearance_mm
    (-0.093, -0.036)
    """
    words = " ".join(text.split())
    written = FIT.fullmatch(words)
    if not written or not written["size"].strip():
        raise ExpectedError(f'"{words}" is not a fit known here; {HOW_TO_WRITE_A_FIT}.')
    size = _nominal(written["size"])
    nominal = size.exactly("mm")
    hole, shaft = (limits(written[part], nominal) for part in ("hole", "shaft"))
    if hole.code.islower() or shaft.code[0].isupper():
        raise ExpectedError(
            f'"{words}" does not name a hole and then a shaft; {HOW_TO_WRITE_A_FIT}.'
        )
    return Fit(nominal, hole, shaft, size.unit)


def limits(code: str, nominal_mm: Fraction | float) -> FitLimits:
    """Return what a code allows at a size in mm; ExpectedError for a code or a size that is not in
    the table.

    >>> limits("H7", 80).largest_mm, limits("H7", 80.001).upper
    (80.03, Fraction(7, 200))
    """
    nominal = nominal_mm if isinstance(nominal_mm, Fraction) else Fraction(str(nominal_mm))
    written = CODE.fullmatch(code)
    if not written:
        raise ExpectedError(
            f'"{code}" is not a code of tolerance; write a letter and a grade, H7 for a hole, s6 '
            f"for a shaft."
        )
    letter, grade = written["letter"], int(written["grade"])
    lower, upper = _zone(code, nominal, letter, grade, _tolerance(code, nominal, written["grade"]))
    return FitLimits(code, nominal, lower * MICROMETRE, upper * MICROMETRE)


def tighter_than(fit: Fit, shaft_code: str) -> bool:
    """Say whether the greatest interference of a fit is more than this shaft's in a hole of letter
    H.

    Cast iron is not to be given more than s6: the tightest fit usable with it (Shigley table 7-9).

    >>> tighter_than(parse_fit("85 H7/u6"), "s6"), tighter_than(parse_fit("85 H7/s6"), "s6")
    (True, False)
    """
    return fit.shaft.upper - fit.hole.lower > limits(shaft_code, fit.nominal).upper


def _nominal(size: str) -> Quantity:
    words = size.strip()
    return read_quantity(words if words.endswith(("in", "mm", '"')) else f"{words} mm")


def _tolerance(code: str, nominal: Fraction, grade: str) -> int:
    data = table("iso286")["tolerance"]
    if grade not in data:
        known = [name for name in data if name != "up_to"]
        raise ExpectedError(
            f'"{code}" asks for grade {grade}; the table holds grades {known[0]} to {known[-1]}.'
        )
    return _in_band(code, nominal, 0, data["up_to"], data[grade])


def _zone(
    code: str, nominal: Fraction, letter: str, grade: int, tolerance: int
) -> tuple[Fraction, Fraction]:
    holes, shafts = table("iso286")["hole"], table("iso286")["shaft"]
    if letter.lower() == EVEN:
        return -Fraction(tolerance, 2), Fraction(tolerance, 2)
    if letter in holes["turned"]:
        lower, upper = _row_zone(code, nominal, shafts[letter.lower()], grade, tolerance)
        return -upper, -lower
    if letter in holes["moved"]["up_to_grade"]:
        upper = _moved(code, nominal, letter, grade, tolerance)
        return upper - tolerance, upper
    row = holes.get(letter) if letter.isupper() else shafts.get(letter)
    if row is None:
        _refuse(code, letter)
    return _row_zone(code, nominal, row, grade, tolerance)


def _row_zone(
    code: str, nominal: Fraction, row: dict[str, Any], grade: int, tolerance: int
) -> tuple[Fraction, Fraction]:
    bands = row.get("up_to", table("iso286")["tolerance"]["up_to"])
    end = "upper" if "upper" in row else "lower"
    values = row[end]
    if isinstance(values, dict):
        _held(code, grade, *map(int, (min(values), max(values))))
        values = values[str(grade)]
    near = Fraction(_in_band(code, nominal, row.get("over", 0), bands, values))
    if grade > row.get("up_to_grade", grade):
        near = Fraction(0)
    return (near - tolerance, near) if end == "upper" else (near, near + tolerance)


def _moved(code: str, nominal: Fraction, letter: str, grade: int, tolerance: int) -> Fraction:
    """The upper deviation of a hole of K and beyond: the shaft's turned round, and moved inward by
    the difference of two grades.
    """
    moved, row = table("iso286")["hole"]["moved"], table("iso286")["shaft"][letter.lower()]
    most, coarsest = moved["up_to_grade"][letter], int([*table("iso286")["tolerance"]][-1])
    _held(code, grade, moved["from_grade"], coarsest if letter in moved["coarser"] else most)
    for one in moved["exceptions"]:
        if one["code"] == code and one["over"] < nominal <= one["up_to"]:
            return Fraction(one["upper"])
    bands = row.get("up_to", table("iso286")["tolerance"]["up_to"])
    over = max(moved["over"], row.get("over", 0))
    turned = -Fraction(_in_band(code, nominal, over, bands, row["lower"]))
    return (
        turned if grade > most else turned + tolerance - _tolerance(code, nominal, str(grade - 1))
    )


def _held(code: str, grade: int, first: int, last: int) -> None:
    """Refuse a grade for which the table holds no deviation of this letter."""
    if not first <= grade <= last:
        raise ExpectedError(
            f'"{code}" asks for grade {grade}; of this letter the table holds grades {first} to '
            f"{last}."
        )


def _in_band(
    code: str, nominal: Fraction, over: int, up_to: Sequence[int], values: Sequence[int]
) -> int:
    if not over < nominal <= up_to[-1]:
        raise ExpectedError(
            f"{code} at {float(nominal):g} mm is not in the table: it holds sizes over {over} up "
            f"to {up_to[-1]} mm."
        )
    return values[bisect_left(up_to, nominal)]


def _refuse(code: str, letter: str) -> NoReturn:
    part, known = "shaft", sorted([*table("iso286")["shaft"], EVEN])
    if letter[0].isupper():
        holes = table("iso286")["hole"]
        part, known = "hole", [*holes["turned"], "J", EVEN.upper(), *holes["moved"]["up_to_grade"]]
    raise ExpectedError(
        f'"{code}" is not in the table: of the letters of a {part} it holds {", ".join(known)}.'
    )
