"""Quill scale: the unit that touches and stops are read in, and how far apart its lines are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import floor

from datumbook.cells.columns import Sizes
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.holes import Shop
from datumbook.standards import hole_allowances

IN_KEYS = {"in": "inch", "mm": "metric"}
OF_AN_INCH = ("in", "thou", "uin", "ft")  # whose lines stand on a scale of inches
OTHER_UNIT = {"in": "mm", "mm": "in"}
READ_TO = {"in": 4, "mm": 3}  # decimals of a touch through a feeler
FINEST_LINE = 7  # decimals of a line of a scale in 128ths of an inch


class QuillScale:
    """The scale of the shop's quill, in its own unit; where the shop states none, one in the unit
    that each group is worked in.
    """

    def __init__(self, shop: Shop) -> None:
        self.stated = shop.stop_scale

    def unit(self, worked_in: str) -> str:
        """The unit of the scale for what is worked in a unit."""
        if self.stated is None:
            return worked_in
        return "in" if self.stated.unit in OF_AN_INCH else "mm"

    def step(self, unit: str) -> Quantity:
        """From line to line on the scale of this unit; one that no decimals name to the full is cut
        off after the last of them, so that no line is printed deeper than it lies.
        """
        if self.stated is None:
            return read_quantity(hole_allowances()[f"stop_scale_{IN_KEYS[unit]}"][0])
        last_digits = self.stated.exactly(unit) * 10**FINEST_LINE
        if last_digits.denominator == 1:
            return self.stated
        cut_off = read_quantity(f"{floor(last_digits)}e-{FINEST_LINE} {unit}")
        return replace(cut_off, source=self.stated.source, guessed=self.stated.guessed)

    def source(self, unit: str) -> str:
        """Where that comes from."""
        if self.stated is None:
            return hole_allowances()[f"stop_scale_{IN_KEYS[unit]}"][1]
        return self.stated.source or "the shop's own"

    def places(self, unit: str) -> int:
        """The decimals in which every line of the scale is named to the full."""
        line = self.step(unit).exactly(unit)
        return next(at for at in range(FINEST_LINE + 1) if (line * 10**at).denominator == 1)

    @staticmethod
    def printed_step(unit: str) -> Quantity:
        """The last digit of a depth that stands on no line of a scale."""
        return read_quantity(f"{0.1 ** READ_TO[unit]:.{READ_TO[unit]}f} {unit}")

    def read(self, worked_in: Callable[[str], str]) -> Sizes:
        """Columns of what is read off the scale."""
        return self._sizes(worked_in, READ_TO.__getitem__)

    def set(self, worked_in: Callable[[str], str]) -> Sizes:
        """Columns of what is set on a line of the scale."""
        return self._sizes(worked_in, self.places)

    def _sizes(self, worked_in: Callable[[str], str], places: Callable[[str], int]) -> Sizes:
        def unit(row: str) -> str:
            return self.unit(worked_in(row))

        return Sizes(unit, lambda row: places(unit(row)), width=9.5)
