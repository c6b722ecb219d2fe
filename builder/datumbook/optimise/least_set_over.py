"""The least set-over of a row of bores that puts its centres back and keeps every limit, or the
limits that forbid it.

Set-overs may be to either side, so they are no cuts: a limit's coefficients say what each does to a
wall or a land.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Limit, Sizes, irreducible


@dataclass(frozen=True)
class SetOver:
    """What the limits of one row allow: the set-over of each bore (None: forbidden), or the limits
    in conflict.
    """

    limits: tuple[Limit, ...]
    offsets: Sizes | None
    conflict: tuple[Limit, ...] = ()

    @property
    def binding(self) -> tuple[Limit, ...]:
        """The limits that the set-overs reach exactly."""
        offsets = self.offsets
        return (
            () if offsets is None else tuple(one for one in self.limits if one.margin(offsets) == 0)
        )

    def rounded(self, decimals: int) -> Sizes | None:
        """The set-overs to so many decimals, to two more where a limit forbids that, else exact."""
        if self.offsets is None:
            return None
        for places in (decimals, decimals + 2):
            nearest = {bore: half_up(offset, places) + 0.0 for bore, offset in self.offsets.items()}
            if all(one.margin(nearest) >= 0 for one in self.limits):
                return nearest
        return self.offsets


def least_set_over(off_place: Mapping[str, float], limits: Sequence[Limit]) -> SetOver:
    """The set-overs that leave the centres least out of their row together, and among those the
    smallest largest one.

    off_place: how far each bore's centre stands off its place, by its word in the limits; the row
    as a whole may shift. Where no limit stands in the way every centre comes back into the row, and
    the largest set-over is half the spread.

    Source: two linear programs one after the other; Chebyshev's centre of the row.

    >>> least_set_over({"1": 0.05, "2": -0.01}, []).offsets
    {'1': -0.03, '2': 0.03}
    """
    offsets = _solved(off_place, limits)
    if offsets is not None:
        return SetOver(tuple(limits), offsets)
    return SetOver(
        tuple(limits), None, irreducible(limits, lambda some: _solved(off_place, some) is not None)
    )


def _solved(off_place: Mapping[str, float], limits: Sequence[Limit]) -> Sizes | None:
    """Variables: a set-over for each bore, how far each is left out of the row, the row's shift,
    the largest set-over.
    """
    bores, count = list(off_place), len(off_place)
    rows, bounds = _of_limits(bores, limits)
    for at, bore in enumerate(bores):
        for sign in (1.0, -1.0):
            rows.append(
                _row(count, {at: sign, count + at: -1.0, 2 * count: sign})
            )  # sign x (offset + shift) <= left out
            bounds.append(-sign * off_place[bore])
            rows.append(
                _row(count, {at: sign, 2 * count + 1: -1.0})
            )  # sign x set-over <= the largest
            bounds.append(0.0)
    left_out = _row(count, dict.fromkeys(range(count, 2 * count), 1.0))
    best = _minimum(left_out, rows, bounds)
    if best is None:
        return None
    least = _minimum(
        _row(count, {2 * count + 1: 1.0}), [*rows, left_out], [*bounds, best.fun + 1e-10]
    )
    found = best if least is None else least
    return {
        bore: half_up(float(size), GUARD_DIGITS) + 0.0
        for bore, size in zip(bores, found.x[:count], strict=True)
    }


def _of_limits(
    bores: Sequence[str], limits: Sequence[Limit]
) -> tuple[list[list[float]], list[float]]:
    rows, bounds = [], []
    for one in limits:
        rows.append(
            _row(
                len(bores),
                {bores.index(bore): one.sign * each for bore, each in one.coefficients.items()},
            )
        )
        bounds.append(half_up(one.sign * (one.bound - one.before), GUARD_DIGITS))
    return rows, bounds


def _row(count: int, entries: Mapping[int, float]) -> list[float]:
    return [entries.get(at, 0.0) for at in range(2 * count + 2)]


def _minimum(
    weights: Sequence[float], rows: Sequence[Sequence[float]], bounds: Sequence[float]
) -> Any:
    """The solution of least weighted sum, every variable free; None where there is none."""
    from scipy.optimize import linprog  # a heavy import, wanted by one command

    exact = {"primal_feasibility_tolerance": 1e-10}
    found = linprog(weights, A_ub=rows, b_ub=bounds, bounds=(None, None), options=exact)
    if found.status not in {0, 2}:
        raise RuntimeError(f"the least set-over was not found: {found.message}")
    return found if found.status == 0 else None
