"""How the liners of a block get in, as a person is told it: how cold or hot, by what, and what to
mind; and the cautions of the work in a book.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from datumbook.equations.heat_and_cold import DROPS_IN, DRY_ICE, NO_COLD, NO_HEAT
from datumbook.standards import table
from datumbook.standards.cautions import at_station, cautions, on_route
from datumbook.standards.heat_and_cold import instead, means_called
from datumbook.workbook.layout import Layout
from datumbook.workbook.printed import printed

WAYS_IN = (  # of each: the cell of the temperature, that of the means, the words
    ("chill_to", "chilled_by", "chill the liner"),
    ("warm_to", "heated_by", "or warm the block"),
    ("warm_to_in_dry_ice", "heated_by_in_dry_ice", "or warm the block, the liner in dry ice,"),
)
INSTEAD = {NO_COLD: instead("cold"), NO_HEAT: instead("hot")}


def liners_in(layout: Layout, values: Mapping[str, object]) -> Iterator[tuple[str, str]]:
    """Each liner that is measured, and how it gets in; then each means named there, with what to
    mind.
    """
    liners = layout.stations.dry_liners
    if liners is None or liners.heat is None:
        return
    named: dict[str, None] = {}
    for row in liners.heat.each.rows:
        said = [
            (words, liners.heat.each.column(to)[row.key], str(values[by]))
            for to, name, words in WAYS_IN
            if values.get(by := liners.heat.each.column(name)[row.key])
        ]
        named |= dict.fromkeys([*(by for _, _, by in said), *([DRY_ICE] if said else [])])
        ways = [_way(words, printed(values[to], layout.place(to)), by) for words, to, by in said]
        forbidden = values.get(liners.heat.each.column("fit_forbidden")[row.key])
        if ways:
            yield row.words, str(forbidden) if forbidden else "; ".join(ways)
    for _, gas, column in liners.heat.air.said if liners.heat.air else ():
        if of_air := values.get(column.key):
            yield f"{gas} in this room", str(of_air)
    for words in named:
        if one := means_called(words):
            yield one.words.capitalize(), one.mind
    if named:
        yield from ((one.words, line) for one in at_station("liners") for line in one.lines)


def _way(words: str, degrees: str, by: str) -> str:
    """One way in: by what, to how many degrees; or what to do instead, or that it takes none."""
    if by in INSTEAD:
        return f"{words}: {by}, {INSTEAD[by]}"
    return f"{words}: {by}" if by == DROPS_IN else f"{words} to {degrees}, by {by}"


def cautions_of(layout: Layout | None) -> list[str]:
    """The cautions of all work, and those of the work in a book."""
    lines = list(table("cautions")["lines"])
    if layout is None:
        return lines
    scope = layout.scope
    route = on_route(scope.stations, scope.operations)
    beside = [one for one in cautions() if one in route or {*one.stations} & {*scope.stations}]
    return [*lines, *(f"{one.words}: {line}" for one in beside for line in one.lines)]
