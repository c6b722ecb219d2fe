"""Rounding as a spreadsheet does it, and the guard with which every limit is compared."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal

GUARD_DIGITS = 9


def half_up(value: float, digits: int) -> float:
    """Round as a spreadsheet does: halves away from zero, on the 15 digits a cell can hold."""
    if not math.isfinite(value):
        return value
    text = Decimal(f"{value:.15g}")
    if text.adjusted() + digits >= 26:
        return float(text)
    return float(text.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP))
