"""Which equations are used: in the cells of the shipped books and of the whole engine's with every
station there is, by what makes books, tables and plans, and at the bench itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from datumbook.calculator.equations import (
    BenchEquation,
    equations,
    reach,
    shipped_books,
    standing_in,
)
from datumbook.calculator.where_used import OWN, modules_naming
from whole_engine import named as with_every_station

ALL = {name: one for module in equations().values() for name, one in module.items()}


@cache
def unused() -> frozenset[str]:
    """Return the same as the package is now: in no book, no table, no plan, no card of the bench,
    and not one of the bench's own.
    """
    return frozenset(ALL) - in_books() - named("standards", "planning", "calculator") - set(OWN)


@cache
def in_books() -> frozenset[str]:
    """Return the equations in the cells of the shipped books and of the whole engine's, of an
    engine of which all is guessed, and those that these call.
    """
    from damages import guessed_layout  # here, as to inflict damages books are laid out

    return (
        shown() | _names(standing_in(with_every_station())) | _names(standing_in(guessed_layout()))
    )


@cache
def shown() -> frozenset[str]:
    """Return the equations in the cells of the shipped books, and those that these call."""
    return frozenset().union(*(_names(standing_in(book)) for book in shipped_books()))


def named(*rooms: str) -> frozenset[str]:
    """Return the equations that the modules of these rooms name, and those that these call."""
    words = {
        word
        for word, paths in modules_naming().items()
        if word in ALL
        and any(path.startswith(tuple(f"{room}/" for room in rooms)) for path in paths)
    }
    return frozenset(name for word in words for name in _names(reach(ALL[word])))


def _names(found: Iterable[BenchEquation]) -> frozenset[str]:
    return frozenset(one.__name__ for one in found) & set(ALL)
