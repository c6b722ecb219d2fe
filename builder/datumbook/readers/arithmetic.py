"""What a person types instead of a number: a sum of numbers alone, worked out here and never by the
file.
"""

from __future__ import annotations

import math
import operator
import re
from collections.abc import Callable

from datumbook.readers.book import FoundCell
from datumbook.readers.syntax import Tree, tree_of

_ARITHMETIC: dict[str, Callable[[float, float], float]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
}
_NUMBER_SAID = re.compile(r"-?\d{1,15}(?:\.\d{1,15})?%?", re.ASCII)
LONGEST_SUM = 500  # letters: nobody types a longer one (our own limit)
_ROUNDING = 1e-9  # as a share: programs save fifteen digits


def arithmetic(formula: str) -> float | None:
    """Return what + - * / and brackets make of numbers; None for every other formula, for one
    too long to have been typed, and where the result is no number.

    >>> arithmetic("=82.9+0.1"), arithmetic("-(1/2)*3"), arithmetic("1/0"), arithmetic("B11")
    (83.0, -1.5, None, None)
    """
    if len(formula) > LONGEST_SUM:
        return None
    try:
        worked = _worked(tree_of(formula, ""))
    except (_OtherFormula, ZeroDivisionError, OverflowError):
        return None
    return worked if math.isfinite(worked) else None


def shows_sum(cell: FoundCell, worked: float) -> bool:
    """Say whether a cell shows what its sum makes, or was saved without any result."""
    if cell.value is None:
        return cell.error is None
    return isinstance(cell.value, float) and abs(cell.value - worked) <= _ROUNDING * max(
        1.0, abs(worked)
    )


def number_said(words: str) -> float | None:
    """The number that words say and nothing else: some programs store "8.8" or "75%" as one.

    >>> number_said("8.8"), number_said("75%"), number_said("M8"), number_said("1e5")
    (8.8, 0.75, None, None)
    """
    if not _NUMBER_SAID.fullmatch(words):
        return None
    return float(words.removesuffix("%")) / (100 if words.endswith("%") else 1)


class _OtherFormula(Exception):  # noqa: N818 - no error of anybody's
    """More than numbers and the four signs."""


def _worked(tree: Tree) -> float:
    match tree:
        case ("number", float(number)):
            return number
        case ("minus", operand):
            return -_worked(operand)
        case (str(sign), one, two) if sign in _ARITHMETIC:
            return _ARITHMETIC[sign](_worked(one), _worked(two))
    raise _OtherFormula
