"""The least set-over of a row of bores that puts its centres back and keeps every limit, or the
limits that forbid it.

Set-overs may be to either side, so they are no cuts: a limit's coefficients say what each does to a
wall or a land.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Allowed, CutSizes, SizeLimit, minimum, named


class SetOver(Allowed):
    """What the limits of one row allow: the set-over of each bore."""


def least_set_over(off_place: Mapping[str, float], limits: Sequence[SizeLimit]) -> SetOver:
    """The set-overs that leave the centres least out of their row together, and among those the
    smallest largest one.

    off_place: how far each bore's centre stands off its place, by its word in the limits; the row
    as a whole may shift. Where no limit stands in the way every centre comes back into the row, and
    the largest set-over is half the spread.

    Source: two linear programs one after the other; Chebyshev's centre of the row.

    >>> least_set_over({"1": 0.05, "2": -0.01}, []).sizes
    {'1': -0.03, '2': 0.03}
    """
    return SetOver.by(partial(_solved, off_place), limits)


def _solved(off_place: Mapping[str, float], limits: Sequence[SizeLimit]) -> CutSizes | None:
    """Variables: a set-over for each bore, how far each is left out of the row, the row's shift,
    the largest set-over.
    """
    bores, count = list(off_place), len(off_place)
    rows = [
        _row(count, {bores.index(bore): one.sign * each for bore, each in one.coefficients.items()})
        for one in limits
    ]
    bounds = [half_up(one.sign * (one.bound - one.before), GUARD_DIGITS) for one in limits]
    for at, bore in enumerate(bores):
        for sign in (1.0, -1.0):
            # sign x (offset + shift) <= left out, and sign x set-over <= the largest
            rows.append(_row(count, {at: sign, count + at: -1.0, 2 * count: sign}))
            rows.append(_row(count, {at: sign, 2 * count + 1: -1.0}))
            bounds += [-sign * off_place[bore], 0.0]
    left_out = _row(count, dict.fromkeys(range(count, 2 * count), 1.0))
    best = minimum(left_out, rows, bounds, least=None)
    if best is None:
        return None
    largest = _row(count, {2 * count + 1: 1.0})
    smallest = minimum(largest, [*rows, left_out], [*bounds, best.fun + 1e-10], least=None)
    return named(bores, (smallest or best).x)


def _row(count: int, entries: Mapping[int, float]) -> list[float]:
    return [entries.get(at, 0.0) for at in range(2 * count + 2)]
