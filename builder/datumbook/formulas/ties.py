"""Rounding to the even digit, for the standards that round so: another word that equations may
use.
"""

from __future__ import annotations

from datumbook.formulas.functions import in_unit, of_unit, spreadsheet
from datumbook.numbers.rounding import half_up

TIE_PULL = 1e6  # a tie is drawn this share of its way: more than a last bit, less than a last digit


@spreadsheet("ROUND")
def _half_up(value: float, digits: int) -> float:
    return half_up(value, digits)


def rounded_to_even(value: float, unit: str, digits: int) -> float:
    """The value rounded to so many digits of this unit, a tie to the even digit.

    A spreadsheet rounds a tie up: it is drawn a millionth of its way to the nearest even value
    first, which settles a tie, a last bit short of one too, and changes nothing else.
    """
    bare = in_unit(value, unit)
    even = 2 * _half_up(bare / 2, digits)
    return of_unit(_half_up(bare + (even - bare) / TIE_PULL, digits), unit)
