"""How the cells of a book are printed: the number format of each, and its value in words."""

from __future__ import annotations

from datumbook.cells.columns import Reading
from datumbook.numbers.printing import Printer
from datumbook.workbook.evaluation import Breakdown
from datumbook.workbook.placed import Place

FINEST = 6  # decimals that a reading's cell still has room for


def printer(place: Place) -> Printer:
    """How a cell shows its number: decimals as the gauge reads; a reading shows further digits if
    somebody typed them, a size of the spec all that it was given with.
    """
    plain = Printer(place.unit or "", place.decimals)
    if isinstance(place.column, Reading):
        further = max(1, min(3, FINEST - place.decimals)) if place.decimals else 3
        return Printer(plain.unit, plain.decimals, further)
    if place.role == "given" and place.decimals and isinstance(place.value, float):
        return plain.given(place.value)
    return plain


def printed(value: object, place: Place, *bounds: object) -> str:
    """A value of a cell as a person would write it: the digits its cell shows, and its unit; more
    decimals where rounding would carry it across one of its bounds.
    """
    if isinstance(value, Breakdown):
        return "an error"
    if value is None or value == "":
        return "nothing"
    if isinstance(value, bool) or not isinstance(value, int | float):
        return str(value)
    known = (bound for bound in bounds if isinstance(bound, float))
    return printer(place).beside(float(value), *known)
