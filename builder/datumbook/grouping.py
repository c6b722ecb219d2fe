"""Things put together by what they have in common."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import TypeVar

Shared = TypeVar("Shared", bound=Hashable)
Member = TypeVar("Member")


def grouped(pairs: Iterable[tuple[Shared, Member]]) -> dict[Shared, list[Member]]:
    """Return what is shared -> all that share it, both in the order met.

    >>> grouped([("odd", 1), ("even", 2), ("odd", 3)])
    {'odd': [1, 3], 'even': [2]}
    """
    found: dict[Shared, list[Member]] = {}
    for shared, member in pairs:
        found.setdefault(shared, []).append(member)
    return found
