"""The least sum of cuts that keeps every limit, by linear programming, or the limits that forbid it
between them.

A limit is data: a size as it is now, what each cut does to it, and the bound it must keep. More
resources of the block (caps, crank to cam) are more cuts and more limits, and nothing else;
set-overs stand in least_set_over.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal, Self

from datumbook.numbers.rounding import GUARD_DIGITS, half_up

CutSizes = Mapping[str, float]
End = Literal["low", "high"]


@dataclass(frozen=True)
class Cut:
    """One cut that may be made: its word among the coefficients, its words for a person."""

    key: str
    words: str


@dataclass(frozen=True)
class SizeLimit:
    """A size that cuts change, `before + sum of coefficient x cut`, and the bound it must keep; all
    in one unit.

    `end` says which end of what is allowed the bound is. `uncertainty` is the expanded uncertainty
    of the size, zero where none is stated. `as_read` is the size with nothing set up and nothing
    cut: of the higher corners a set-up takes metal before the lowest is touched, so that `before`
    may be less; None where they are the same.
    """

    name: str
    coefficients: CutSizes
    before: float
    end: End
    bound: float
    source: str
    uncertainty: float = 0.0
    as_read: float | None = None

    @property
    def sign(self) -> float:
        """1 where the size lies below its bound, -1 where it lies above."""
        return 1.0 if self.end == "high" else -1.0

    @property
    def room(self) -> float:
        """How far inside its bound the size is before any cut; below zero where it is beyond."""
        return half_up(self.sign * (self.bound - self.before), GUARD_DIGITS)

    @property
    def low(self) -> float | None:
        """The least the size may be, None where only the most is bound."""
        return self.bound if self.end == "low" else None

    @property
    def high(self) -> float | None:
        """The most the size may be, None where only the least is bound."""
        return self.bound if self.end == "high" else None

    def after(self, sizes: CutSizes) -> float:
        """The size that these cuts leave."""
        return self.before + math.fsum(each * sizes[cut] for cut, each in self.coefficients.items())

    def margin(self, sizes: CutSizes) -> float:
        """How far inside its bound the size is after these cuts; below zero where it is beyond.
        Guarded like a check.
        """
        return half_up(self.sign * (self.bound - self.after(sizes)), GUARD_DIGITS)


Solver = Callable[[Sequence[SizeLimit]], CutSizes | None]
"""The least sizes that keep some limits, None where these conflict."""


@dataclass(frozen=True, kw_only=True)
class Allowed:
    """What one set of limits allows: the least sizes (None: forbidden), or the limits in
    conflict.
    """

    limits: tuple[SizeLimit, ...]
    sizes: CutSizes | None
    conflict: tuple[SizeLimit, ...] = ()

    @classmethod
    def by(cls, solved: Solver, limits: Sequence[SizeLimit], **more: Any) -> Self:
        """What a solver finds, or what forbids it."""
        sizes = solved(limits)
        conflict = irreducible(limits, solved) if sizes is None else ()
        return cls(limits=tuple(limits), sizes=sizes, conflict=conflict, **more)

    @property
    def binding(self) -> tuple[SizeLimit, ...]:
        """The limits that the least sizes reach exactly; empty where none are allowed."""
        sizes = self.sizes
        return () if sizes is None else tuple(one for one in self.limits if one.margin(sizes) == 0)

    def rounded(self, decimals: int) -> CutSizes | None:
        """The sizes to so many decimals, as they are set on a machine; to two more where a limit
        forbids that.

        Where a limit forbids even those, the exact sizes.
        """
        if self.sizes is None:
            return None
        for places in (decimals, decimals + 2):
            sizes = {word: self.set_as(size, places) for word, size in self.sizes.items()}
            if all(one.margin(sizes) >= 0 for one in self.limits):
                return sizes
        return self.sizes

    def set_as(self, size: float, decimals: int) -> float:
        """A size as it is set on a machine."""
        return half_up(size, decimals) + 0.0


@dataclass(frozen=True, kw_only=True)
class Answer(Allowed):
    """The least cuts; they are rounded up."""

    cuts: tuple[Cut, ...]

    def set_as(self, size: float, decimals: int) -> float:
        """A size rounded up."""
        return rounded_up(size, decimals)


def rounded_up(size: float, decimals: int) -> float:
    """A size rounded up, the last bit left aside."""
    steps = 10.0**decimals
    return math.ceil(half_up(size * steps, GUARD_DIGITS - decimals)) / steps


def least_metal(cuts: Sequence[Cut], limits: Sequence[SizeLimit]) -> Answer:
    """The least sum of all cuts, none below zero, that keeps every limit; else a set of limits that
    conflict.

    The conflict is minimal: without any one of its limits the others can be kept. It is found by
    leaving the limits out one at a time. That a cut puts no metal back is taken for granted and
    never blamed.

    Source: a linear program; the deletion filter for an irreducible set of conflicting limits, from
    memory.

    >>> top = Cut("deck", "Off the deck")
    >>> asked = SizeLimit("Face clean", {"deck": 1.0}, 0.0, "low", 0.004, "lowest corner")
    >>> least_metal([top], [asked]).sizes
    {'deck': 0.004}
    """
    return Answer.by(partial(_solved, cuts), limits, cuts=tuple(cuts))


def irreducible(limits: Sequence[SizeLimit], solved: Solver) -> tuple[SizeLimit, ...]:
    """Of limits in conflict those that conflict whatever else is left out: without any one the
    others can be kept.

    The limits with the most room are left out first, so that of limits alike the worst is named.

    Source: the deletion filter, from memory.
    """
    kept = list(limits)
    for one in sorted(limits, key=lambda limit: limit.room, reverse=True):
        fewer = [other for other in kept if other is not one]
        if solved(fewer) is None:
            kept = fewer
    return tuple(kept)


def _solved(cuts: Sequence[Cut], limits: Sequence[SizeLimit]) -> CutSizes | None:
    """The sizes of least sum, None where the limits conflict.

    Less than what the limits on one cut alone ask of it cannot be; where that keeps the others too,
    no smaller sum does. Of several cuts that must share what a limit asks, a program tells.
    """
    alone = {cut.key: _asked_alone(cut.key, limits) for cut in cuts}
    if all(one.margin(alone) >= 0 for one in limits):
        return named(alone, alone.values())
    if len(cuts) < 2:
        return None
    rows = [[one.sign * one.coefficients.get(cut.key, 0.0) for cut in cuts] for one in limits]
    bounds = [one.sign * (one.bound - one.before) for one in limits]
    found = minimum([1.0] * len(cuts), rows, bounds, least=0.0)
    return found and named([cut.key for cut in cuts], found.x)


def _asked_alone(cut: str, limits: Sequence[SizeLimit]) -> float:
    """The least of one cut that the limits ask which no other cut changes."""
    asked = [
        (one.bound - one.before) / one.coefficients[cut]
        for one in limits
        if one.coefficients.keys() == {cut} and one.sign * one.coefficients[cut] < 0
    ]
    return max(0.0, *asked) if asked else 0.0


def named(words: Iterable[str], found: Iterable[float]) -> CutSizes:
    """What a program found, by the words of its first variables, the last bits left aside."""
    return {
        word: half_up(float(size), GUARD_DIGITS) + 0.0
        for word, size in zip(words, found, strict=False)
    }


def minimum(
    weights: Sequence[float],
    rows: Sequence[Sequence[float]],
    bounds: Sequence[float],
    least: float | None,
) -> Any:
    """The solution of least weighted sum, no variable under the least; None where there is none."""
    from scipy.optimize import linprog  # a heavy import, wanted by one command

    exact = {"primal_feasibility_tolerance": 1e-10}
    found = linprog(weights, A_ub=rows, b_ub=bounds, bounds=(least, None), options=exact)
    if found.status not in {0, 2}:
        raise RuntimeError(f"the least sum was not found: {found.message}")
    return found if found.status == 0 else None
