"""An equation asked backwards: its result is given, one argument is not.

No equation is turned round by hand, which would have to be tested by itself: the plain function is
tried over all sizes that occur at a bench, and where it crosses what is wanted, the argument is
found between two of them. So every equation can be asked so, and one that has no answer, or more
than one, is known to.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from datumbook.formulas.tracing import called
from datumbook.messages import ExpectedError

ABSOLUTE_ZERO = -273.15  # °C, exactly: the definition of the Celsius scale
# kind -> the smallest and the largest size looked for, in the coherent set; from memory, wide
SPAN = {
    "Length": (1e-6, 1e4),  # to 10 m
    "Area": (1e-6, 1e7),
    "Volume": (1e-3, 1e9),  # to a cubic metre
    "Ratio": (1e-8, 1e5),
    "Share": (1e-8, 1e3),
    "Count": (1, 1e3),
    "Angle": (1e-7, math.pi),
    "Force": (1e-3, 1e7),
    "Torque": (1e-1, 1e8),
    "Stress": (1e-6, 1e6),
    "Stiffness": (1e-3, 1e9),
    "Mass": (1e-9, 1e3),  # in t: to a thousand tonnes
    "Unbalance": (1e-12, 1e3),
    "SpindleSpeed": (1e-4, 1e4),
    "CuttingSpeed": (1e-4, 1e6),
    "Expansion": (1e-8, 1e-2),
    "Temperature": (ABSOLUTE_ZERO, 2000.0),
}
SIZES_TRIED = 1200  # sizes tried: of lengths each is two per cent larger than the one before
NEVER_BELOW_ZERO = {
    "Force",
    "Torque",
    "Stiffness",
    "SpindleSpeed",
    "CuttingSpeed",
    "Expansion",
    "Mass",
}
ROUNDED = 0.02  # of one count's difference, a result typed may be rounded
CONTINUOUS = 1e-5  # of what the two sizes beside an answer miss by, the answer itself may miss
NOISE = 1e-12  # of a number, what the last digits of its making may be off
# A share of an answer: if what lies that much beside it answers as well, it is not the only one.
CLOSE_BY = 1e-5

Missing = Callable[[float], float]  # by how much an argument misses the result; nan: no result


class NotOneError(ExpectedError):
    """No argument gives the result, or more than one does; `found` are the first of them."""

    def __init__(self, found: Sequence[float]) -> None:
        super().__init__("more than one answer" if found else "no answer")
        self.found = tuple(found)


def missed(one: Callable[..., Any], known: Mapping[str, Any], asked: str, wanted: float) -> Missing:
    """Return by how much an equation, with what is known, misses the number wanted, as a function
    of the argument asked for.
    """

    def by(argument: float) -> float:
        try:
            found = called(one, {**known, asked: argument})
        except (ArithmeticError, LookupError, TypeError, ValueError):
            return math.nan
        if not isinstance(found, (int, float)):
            return math.nan
        return 0.0 if math.isclose(found, wanted, rel_tol=NOISE) else found - wanted

    return by


def solved(missing: Missing, kind: str) -> tuple[float, float | None]:
    """Return the one argument of a kind that misses by nothing, in the coherent set, and one below
    zero that does so as well; NotOneError where there is none, or more than one.

    A size above zero is the answer where there is one. The same size below zero is not told beside
    it: an equation that takes no sign from it, as from a bore that it squares, asks for the size.

    >>> diameter, below = solved(lambda diameter: math.pi / 4 * diameter**2 - 100.0, "Length")
    >>> round(diameter, 4), below
    (11.2838, None)
    """
    above, below = (_apart(sizes) for sizes in _answers(missing, kind))
    found = above or below
    if len(found) != 1 or not _sharp(missing, found[0]):
        raise NotOneError(found)
    others = [size for size in below if above and not math.isclose(-size, above[0])]
    return found[0], others[0] if others else None


def _counts(missing: Missing) -> Iterator[float]:
    """The whole numbers, from one, that answer; a result is typed rounded, and still is that of
    one count and not half of the next.
    """
    every = [missing(float(count)) for count in range(int(SPAN["Count"][1]) + 2)]
    for count in range(1, len(every) - 1):
        before, here, after = every[count - 1 : count + 2]
        if here == 0 or abs(here) <= ROUNDED * abs(after - before) / 2:
            yield float(count)


def _answers(missing: Missing, kind: str) -> tuple[Iterator[float], Iterator[float]]:
    """Where sizes of a kind miss by nothing: those above zero, and zero and those below; of some
    kinds none lies below, and on a scale of temperatures zero is no end.
    """
    low, high = SPAN[kind]
    if kind == "Count":
        return _counts(missing), iter(())
    if kind == "Temperature":
        scale = [low + (high - low) * step / SIZES_TRIED for step in range(SIZES_TRIED + 1)]
        return _crossings(missing, scale), iter(())
    above = [low * (high / low) ** (step / SIZES_TRIED) for step in range(SIZES_TRIED + 1)]
    if kind in NEVER_BELOW_ZERO:
        return _crossings(missing, above), iter(())
    below = [*(-size for size in reversed(above)), 0.0, low]
    return _crossings(missing, above), _crossings(missing, below)


def _crossings(missing: Missing, tried: Sequence[float]) -> Iterator[float]:
    """Where it misses by nothing: at a size tried, between two, or in a dip that no size tried
    reaches the bottom of.
    """
    points = [(size, missing(size)) for size in tried]
    points = [
        *(point for pair in pairwise(points) for point in _edge(missing, *pair)),
        *points[-1:],
    ]
    yield from (size for size, by in points if by == 0)
    for before, after in pairwise(points):
        yield from _between(missing, before, after)
    for before, dip, after in zip(points, points[1:], points[2:], strict=False):
        if dip[1] * before[1] > 0 < dip[1] * after[1] and abs(dip[1]) <= min(
            abs(before[1]), abs(after[1])
        ):
            yield from _in_dip(missing, before, dip, after)


Miss = tuple[float, float]  # a size tried, and by how much it misses


def _edge(missing: Missing, before: Miss, after: Miss) -> list[Miss]:
    """The first of two neighbours, and the last size with a result between them where only one of
    them has one.
    """
    without, having = (before, after) if math.isnan(before[1]) else (after, before)
    if math.isnan(having[1]) or not math.isnan(without[1]):
        return [before]
    size, outside = having, without[0]
    for _ in range(100):
        middle = (size[0] + outside) / 2
        by = missing(middle)
        size, outside = (size, middle) if math.isnan(by) else ((middle, by), outside)
    return [before, size]


def _between(missing: Missing, before: Miss, after: Miss) -> Iterator[float]:
    """The size between two at which it crosses nothing; none where it leaps over it."""
    from scipy.optimize import brentq  # a heavy import, wanted by one question

    if before[1] * after[1] >= 0 or math.isnan(before[1] * after[1]):
        return
    try:
        size = float(brentq(missing, before[0], after[0], xtol=1e-15, rtol=1e-14, maxiter=500))
    except ValueError:  # no result somewhere between them
        return
    if abs(missing(size)) <= CONTINUOUS * max(abs(before[1]), abs(after[1])):
        yield size


def _in_dip(missing: Missing, before: Miss, dip: Miss, after: Miss) -> Iterator[float]:
    """The sizes at which it crosses or touches nothing between two that both miss the same way."""
    from scipy.optimize import minimize_scalar

    way = math.copysign(1.0, dip[1])
    lowest = minimize_scalar(
        lambda size: way * missing(size),
        bounds=(before[0], after[0]),
        method="bounded",
        options={"xatol": 1e-12 * max(abs(before[0]), abs(after[0]))},
    )
    bottom = (float(lowest.x), missing(float(lowest.x)))
    if abs(bottom[1]) <= CONTINUOUS * max(abs(before[1]), abs(after[1])):
        yield bottom[0]
        return
    yield from _between(missing, before, bottom)
    yield from _between(missing, bottom, after)


def _apart(found: Iterator[float]) -> list[float]:
    """The answers in rising order, those that are the same but for rounding counted once."""
    answers: list[float] = []
    for size in sorted(found):
        if not answers or not math.isclose(size, answers[-1], rel_tol=1e-9, abs_tol=1e-12):
            answers.append(size)
    return answers


def _sharp(missing: Missing, size: float) -> bool:
    """Whether what is a little larger and a little smaller misses: where an equation rounds, or
    picks a size of a row, a whole range of arguments gives one result.
    """
    step = CLOSE_BY * abs(size) or CLOSE_BY
    return missing(size) != 0 or 0 not in (missing(size + step), missing(size - step))
