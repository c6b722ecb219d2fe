"""Flow: which cells a cell is worked out from, and which are worked out from it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from datumbook.workbook.evaluation import as_function
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place


def upstream(layout: Layout, key: str) -> set[str]:
    """Every key that a key is worked out from."""
    return _reached([key], lambda one: layout.places[one].asks)


def stations_under(layout: Layout, keys: Iterable[str]) -> dict[str, frozenset[str]]:
    """Of each key, the stations that may be left as they are and whose readings it is worked out
    from.
    """

    def own(place: Place) -> str:
        return place.section.station if place.role == "reading" and place.section else ""

    return said_under(layout, keys, own)


def said_under(
    layout: Layout, keys: Iterable[str], own: Callable[[Place], str]
) -> dict[str, frozenset[str]]:
    """Of each key, and of every key that it is worked out from, what there is to say; nothing of
    one of which `own` says "".
    """
    found: dict[str, frozenset[str]] = {}
    todo = list(keys)
    while todo:
        key = todo[-1]
        asked = [one for one in layout.places[key].asks if one not in found]
        if key not in found and asked:
            todo += asked
            continue
        todo.pop()
        if key not in found:
            place = layout.places[key]
            found[key] = frozenset({own(place)} - {""}).union(*(found[one] for one in place.asks))
    return found


def lacking(layout: Layout, key: str, values: Mapping[str, object]) -> set[str]:
    """The blank keys that a blank key is blank for: come to from it through blank cells alone."""

    def blank(one: str) -> list[str]:
        return [asked for asked in _looked_at(layout, one, values) if values[asked] in (None, "")]

    return _reached([key], blank)


def _looked_at(layout: Layout, key: str, values: Mapping[str, object]) -> Iterable[str]:
    """The cells that a cell is worked out from as things stand: of an equation that takes blanks
    those alone that its tree comes to, so that no hole of a liner is missed where none goes in.
    """
    place = layout.places[key]
    if not getattr(place.equation, "takes_blanks", False):
        return place.asks
    found = dict[str, object]()

    def look(one: str) -> object:
        return found.setdefault(one, values[one])

    try:
        as_function(layout.tree(key))(look)
    except (ArithmeticError, ValueError, IndexError):
        return place.asks
    return found


def downstream(layout: Layout, keys: set[str]) -> set[str]:
    """Every key that is worked out from one of these, however far."""
    return _reached(keys, lambda one: layout.feeds.get(one, ()))


def _reached(start: Iterable[str], onward: Callable[[str], Iterable[str]]) -> set[str]:
    """Every key that one comes to from these, step by step."""
    reached, fresh = set[str](), list(start)
    while fresh:
        new = set(onward(fresh.pop())) - reached
        reached |= new
        fresh += new
    return reached
