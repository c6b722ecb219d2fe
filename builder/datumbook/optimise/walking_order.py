"""The order in which a machinist walks from hole to hole: a short way, begun at the first, the
dangerous holes last.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import pairwise
from math import dist

from datumbook.effort import spend

MOST_CHANGES = 500_000  # looked at for one way: those of a hundred holes fifty times
LEAST_GAIN = 1e-6  # of the coordinates' unit

Point = tuple[float, float]
Distances = Sequence[Sequence[float]]
RouteChange = tuple[float, int, int]  # how much longer the way gets, and the two places changed


def walking_order(
    names: Sequence[str], places: Mapping[str, Point], last: Sequence[str] = ()
) -> list[str]:
    """Return the holes in walking order; as they are named where their places are not known.

    names: the holes; places: their coordinates, of all or of none; last: those that are kept for
    the end.

    >>> walking_order(["A", "B", "C"], {"A": (0, 0), "B": (9, 0), "C": (1, 0)})
    ['A', 'C', 'B']
    >>> walking_order(["A", "B"], {}, last=["A"])
    ['B', 'A']
    """
    first = [name for name in names if name not in last]
    walked = _walk(tuple((name, places[name]) for name in first)) if places else first
    return [*walked, *(name for name in names if name in last)]


def way(names: Sequence[str], places: Mapping[str, Point]) -> float:
    """Return the length of the way from hole to hole."""
    return sum(dist(places[one], places[other]) for one, other in pairwise(names))


@cache
def _walk(holes: tuple[tuple[str, Point], ...]) -> Sequence[str]:
    """The shorter of the way as named and the way to the nearest, stretches turned about for as
    long as that shortens it.
    """
    names, places = [name for name, _ in holes], dict(holes)
    ways = [_untangled(list(names), places), _untangled(_nearest(names, places), places)]
    return min(ways, key=lambda one: round(way(one, places), 6))


def _nearest(names: Sequence[str], places: Mapping[str, Point]) -> list[str]:
    found, left = list(names[:1]), list(names[1:])
    while left:
        found.append(min(left, key=lambda name: dist(places[found[-1]], places[name])))
        left.remove(found[-1])
    return found


def _untangled(names: list[str], places: Mapping[str, Point]) -> list[str]:
    """The way as it is once no change shortens it, a stretch turned about or one hole taken
    elsewhere; of very many holes, once `MOST_CHANGES` were looked at.
    """
    for _ in range(max(1, MOST_CHANGES // max(1, len(names) ** 2))):
        spend(len(names) ** 2 // 2, "holes")
        shorter = _shortened(names, [places[name] for name in names])
        if shorter is None:
            break
        names = shorter
    return names


def _shortened(names: list[str], at: Sequence[Point]) -> list[str] | None:
    """The way with the change that shortens it most; None where none does.

    Of a change only the steps that it breaks and those that it makes are measured.
    """
    apart = [[dist(one, other) for other in at] for one in at]
    turned = min(_turned_about(apart), default=(0.0, 0, 0))
    taken = min(_taken_elsewhere(apart), default=(0.0, 0, 0))
    gained, one, other = min(turned, taken, key=lambda change: round(change[0], 9))
    if gained > -LEAST_GAIN:
        return None
    if (gained, one, other) == turned:
        return names[:one] + names[one:other][::-1] + names[other:]
    others = names[:one] + names[one + 1 :]
    return [*others[:other], names[one], *others[other:]]


def _turned_about(apart: Distances) -> Iterator[RouteChange]:
    """How much longer the way gets with the stretch from one place up to another turned about."""
    count = len(apart)
    for start in range(1, count):
        before, first = apart[start - 1], apart[start]
        for end in range(start + 2, count + 1):
            longer = before[end - 1] - before[start]
            if end < count:
                longer += first[end] - apart[end - 1][end]
            yield longer, start, end


def _taken_elsewhere(apart: Distances) -> Iterator[RouteChange]:
    """How much longer the way gets with the hole of one place taken at another."""
    count = len(apart)
    for at in range(1, count):
        own, last = apart[at], count - 1
        saved = -own[at - 1]
        if at < last:
            saved += apart[at - 1][at + 1] - own[at + 1]
        for to in range(1, count):
            before, behind = to - 1 + (to > at), to + (to >= at)
            if to != at:
                longer = saved + own[before]
                if behind < count:
                    longer += own[behind] - apart[before][behind]
                yield longer, at, to
