"""One wish after the other: the least of the first, and of all that have it the least of the next.

A linear program whose unknowns are named: a bound is a sum of them and the most it may be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import SizeLimit, minimum, named

Sum = Mapping[str, float]
HELD = 1e-10  # how near to its least a wish is held while the next one is made least


@dataclass(frozen=True)
class AtMost:
    """A sum of unknowns, each so many times, and the most that it may be."""

    parts: Sum
    most: float


def kept(limit: SizeLimit) -> AtMost:
    """A limit on a size as a bound on the cuts and moves that change it."""
    parts = {word: limit.sign * each for word, each in limit.coefficients.items()}
    return AtMost(parts, half_up(limit.sign * (limit.bound - limit.before), GUARD_DIGITS))


def no_larger(word: str, than: str) -> tuple[AtMost, AtMost]:
    """One unknown is no larger than another, to either side of zero."""
    return AtMost({word: 1.0, than: -1.0}, 0.0), AtMost({word: -1.0, than: -1.0}, 0.0)


def least_in_turn(bounds: Sequence[AtMost], wishes: Sequence[Sum]) -> dict[str, float] | None:
    """The unknowns with which every bound holds and the wishes are least, the first one first; None
    where the bounds cannot hold together.

    Source: linear programs one after the other, each least held while the next is sought.

    >>> apart = [AtMost({"a": -1.0, "b": -1.0}, -0.03), AtMost({"b": 1.0}, 0.01)]
    >>> least_in_turn([*apart, AtMost({"a": -1.0}, 0.0)], [{"a": 1.0}, {"b": 1.0}])
    {'a': 0.02, 'b': 0.01}
    """
    words = list(
        dict.fromkeys(word for one in (*(b.parts for b in bounds), *wishes) for word in one)
    )
    rows, mosts = [_row(words, one.parts) for one in bounds], [one.most for one in bounds]
    found: Any = None
    for wish in wishes:
        better = minimum(_row(words, wish), rows, mosts, least=None)
        found = better or found  # the last bits may hold the earlier wishes too tightly
        if found is None:
            return None
        rows, mosts = [*rows, _row(words, wish)], [*mosts, found.fun + HELD]
    return dict(named(words, found.x)) if found is not None else {}


def _row(words: Sequence[str], parts: Sum) -> list[float]:
    return [parts.get(word, 0.0) for word in words]
