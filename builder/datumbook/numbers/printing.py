"""How numbers, limits and units are printed for a person: in a cell, in the terminal, on the
report, in a plan, in a comparison.

The cell is the reference: a `Printer` makes its number format and prints the digits it shows. More
digits than the cell's stand only beside a bound, where rounding would carry the number across it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.numbers.units import shown

NOT_LESS, NOT_MORE = "not less than", "not more than"
GIVEN_FURTHER = 4  # decimals that a given size may have beyond those of its group
PLAINEST = 1e12  # larger numbers, and their inverse, are printed with a power of ten


@dataclass(frozen=True, slots=True)
class Printer:
    """How the numbers of one cell, or of one group, are printed: their unit, the decimals always
    shown, and how many further ones are shown where a number has them.
    """

    unit: str = ""
    decimals: int = 0
    further: int = 0

    @property
    def number_format(self) -> str:
        """The number format of a cell that shows the same digits."""
        return f"0.{'0' * self.decimals}{'#' * self.further}".rstrip(".")

    def given(self, size: float) -> Printer:
        """How a size that somebody set is printed: with all its decimals, or one further where it
        does not end within a few.
        """
        finer = size * 10 ** (self.decimals + GIVEN_FURTHER)
        if abs(finer - round(finer)) < 1e-6:
            return Printer(self.unit, self.decimals, GIVEN_FURTHER)
        return Printer(self.unit, self.decimals + 1)

    def number(self, size: float, sign: str = "") -> str:
        """The digits of a number, halves away from zero; `sign` "+" writes a plus before it."""
        most = self.decimals + self.further
        rounded = Decimal(f"{half_up(size, most) + 0.0:.15g}")  # all the figures a cell holds
        text = f"{rounded:{sign}.{most}f}"
        whole, _, part = text.partition(".")
        part = part[: self.decimals] + part[self.decimals :].rstrip("0")
        return f"{whole}.{part}" if part else whole

    def quantity(self, size: float, sign: str = "") -> str:
        """A number with its unit."""
        return with_unit(self.number(size, sign), self.unit)

    def beside(self, size: float, *bounds: float | None, sign: str = "") -> str:
        """A number with its unit; with more decimals where rounding would carry it to or over one
        of its bounds.
        """
        return self._as_far_as(
            size,
            lambda rounded: all(_side(rounded, one) == _side(size, one) for one in bounds),
            sign,
        )

    def exactly(self, size: float) -> str:
        """A size that is cut, with its unit and as many decimals as it has."""
        return self.beside(size, size)

    def room(self, size: float) -> str:
        """A size of which no more may be cut: never rounded up."""
        return self._as_far_as(size, lambda rounded: _side(rounded, size) <= 0)

    def spare(self, size: float) -> str:
        """A size that is left over: rounded down."""
        steps = 10.0 ** (self.decimals + self.further)
        return self.quantity(
            math.floor(half_up(size * steps, GUARD_DIGITS - self.decimals)) / steps
        )

    def needed(self, size: float) -> str:
        """A size of which no less will do: rounded up."""
        steps = 10.0 ** (self.decimals + self.further)
        return self.quantity(math.ceil(half_up(size * steps, GUARD_DIGITS - self.decimals)) / steps)

    def uncertainty(self, size: float) -> str:
        """An expanded uncertainty, with one decimal more than its size."""
        return Printer(self.unit, self.decimals + 1).quantity(size)

    def limits(self, low: float | None, high: float | None) -> str:
        """A limit in words, its ends with the decimals they were given with."""
        low_text, high_text = (
            None if end is None else self.given(end).quantity(end) for end in (low, high)
        )
        return limits_in_words(low_text, high_text, self.unit)

    def _as_far_as(self, size: float, holds: Callable[[float], bool], sign: str = "") -> str:
        """A number with the fewest decimals with which it holds, else with all that count."""
        places = self.decimals + self.further
        enough = (each for each in (places, places + 2) if holds(half_up(size, each)))
        further = max(0, next(enough, GUARD_DIGITS) - self.decimals)
        return Printer(self.unit, self.decimals, further).quantity(size, sign)


def _side(size: float, bound: float | None) -> int:
    """-1 below the bound, 0 on it or where there is none, 1 above it; guarded like a check."""
    beyond = 0.0 if bound is None else half_up(size - bound, GUARD_DIGITS)
    return (beyond > 0) - (beyond < 0)


def with_unit(number: str, unit: str) -> str:
    """A number and its unit as they are printed: 82.015 mm, 45°, and a bare number alone."""
    printed = shown(unit)
    return f"{number}{'' if printed == '°' else ' '}{printed}".rstrip()


def limits_in_words(low: str | None, high: str | None, unit: str = "") -> str:
    """A limit in words from its printed ends, the unit they share written once.

    >>> limits_in_words("82.000 mm", "82.018 mm", "mm")
    'from 82.000 to 82.018 mm'
    """
    if low and high:
        return f"from {low.removesuffix(f' {shown(unit)}')} to {high}"
    return f"{NOT_LESS} {low}" if low else f"{NOT_MORE} {high}"


def figures(value: float, count: int = 15) -> str:
    """A number that stands in no cell, to so many figures: all a cell holds unless fewer are asked
    for. A power of ten stands only in numbers too large or too small to be read without.
    """
    text = f"{value:.{count}g}"
    plain = not value or 1 / PLAINEST < abs(value) < PLAINEST
    return format(Decimal(text), "f") if plain else text


def unit_in_words(unit: str) -> str:
    """A unit as it reads in a sentence."""
    return {"in": "inches"}.get(unit) or shown(unit)


def signed(text: str) -> str:
    """A text with the sign of the printed page before each negative number."""
    return " ".join(
        f"−{word[1:]}" if word.startswith("-") and word[1:2].isdigit() else word
        for word in text.split(" ")
    )
