"""Margins: how far inside its limit a size is, at which intention it is just kept, and whether more
of the same cut mends it.
"""

from __future__ import annotations

from collections.abc import Collection

from datumbook.cells.columns import Reading, possible
from datumbook.cells.handles import Key
from datumbook.equations.verdicts import OUT, UNSURE
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.planning.limits import LIMIT_ENDS
from datumbook.planning.numbers import Numbers
from datumbook.workbook.flow import downstream

STEP, STEPS = 1e-4, 24  # how a limit is closed in on


def margin(work: Numbers, check: Key) -> tuple[float, float | None, float | None]:
    """How far inside its nearer limit a checked number is, and its limits."""
    size = work.number(check) or 0.0
    low, high = (work.end(check, end) for end in LIMIT_ENDS)
    margins = [size - low] if low is not None else []
    margins += [high - size] if high is not None else []
    return half_up(min(margins), GUARD_DIGITS), low, high


def turning(work: Numbers, cell: Key, check: Key) -> tuple[float, bool] | None:
    """The size typed at which a limit is just kept, for sure where it was unsure, and whether more
    of it is wanted; None where no size of this alone keeps it.
    """
    if (cell, check) not in work.turns:
        work.turns[cell, check] = _turning(work, cell, check)
    return work.turns[cell, check]


def _turning(work: Numbers, cell: Key, check: Key) -> tuple[float, bool] | None:
    size, sure = work.number(cell), work.verdict(check) == UNSURE
    way = 0.0

    def lacking(typed: float) -> float:
        tried = work.typed({cell: typed})
        return margin(tried, check)[0] - (tried.uncertainty(check) if sure else 0.0)

    for _ in range(STEPS if size is not None else 0):
        assert size is not None
        lacks = lacking(size)
        if way and abs(lacks) < 1e-7:
            return (half_up(size, 7), way > 0) if _can_be(work, cell, size) else None
        slope = (lacking(size + STEP) - lacking(size - STEP)) / (2 * STEP)
        if abs(slope) < 1e-3:
            return None
        way = way or slope
        size -= lacks / slope
    return None


def _can_be(work: Numbers, cell: Key, size: float) -> bool:
    """Whether such a size can be typed at all."""
    place = work.layout.place(cell)
    span = possible(place.column, place.row) if isinstance(place.column, Reading) else None
    return span is None or span[0] - 1e-9 <= size <= span[1] + 1e-9


def mended_deeper(work: Numbers, cell: Key, broken: Collection[Key]) -> frozenset[Key]:
    """Those of some broken limits that a deeper cut mends: each is kept from some greater size
    typed on, and where the last of them is, no limit is broken that is kept today.
    """
    typed, deeper = work.number(cell), {}
    for check in broken:
        found = turning(work, cell, check)
        if found and found[1] and typed is not None and found[0] > typed:
            deeper[check] = found[0]
    if not deeper:
        return frozenset()
    tried = work.typed({cell: max(deeper.values())})
    moved = downstream(work.layout, {cell})
    ruined = any(
        tried.verdict(check.key) == OUT and work.verdict(check.key) != OUT
        for check in work.layout.checks
        if check.key in moved and check.measured and check.stage != "finished"
    )
    return frozenset() if ruined else frozenset(deeper)
