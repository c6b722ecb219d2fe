"""The order in which a machinist walks from hole to hole: a short way, begun at the first, the
dangerous holes last.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from itertools import combinations, pairwise
from math import dist

Point = tuple[float, float]


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
    """The way as it is once no change shortens it: a stretch turned about, or one hole taken
    elsewhere.
    """
    cuts = range(1, len(names) + 1)
    ways = [
        names[:start] + names[start:end][::-1] + names[end:] for start, end in combinations(cuts, 2)
    ]
    for at in cuts[:-1]:
        others = names[:at] + names[at + 1 :]
        ways += [[*others[:to], names[at], *others[to:]] for to in cuts[:-1]]
    least = min(ways, key=lambda one: way(one, places), default=names)
    shorter = way(least, places) < way(names, places) - 1e-6
    return _untangled(least, places) if shorter else names
