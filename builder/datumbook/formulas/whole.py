"""Whole steps: a count of steps cut to whole ones; another word that equations may use."""

from __future__ import annotations

import math
from typing import cast

from datumbook.formulas.functions import in_unit, spreadsheet
from datumbook.formulas.tree import Call, Formula, tree
from datumbook.numbers.rounding import GUARD_DIGITS, half_up


@spreadsheet("INT")
def _floor(value: float) -> float:
    return value if math.isnan(value) else float(math.floor(value))


def whole_below(value: float) -> float:
    """The largest whole number that is not above the value, below nothing too; a value short of a
    whole number by its last bits is that number.
    """
    if isinstance(value, Formula):
        bare = Call("ROUND", (cast("Formula", in_unit(value, "")), tree(GUARD_DIGITS)))
        return _floor(cast("float", bare))
    return _floor(half_up(value, GUARD_DIGITS))
