"""Cautions that stand beside the work they are for: on the sheet of its station, or under the
route.
"""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass
from functools import cache

from datumbook.standards import table


@dataclass(frozen=True, slots=True)
class Caution:
    """What to mind at one kind of work: its words, its lines, where they are from, and the stations
    and operations it belongs to.
    """

    key: str
    words: str
    lines: tuple[str, ...]
    source: str
    stations: tuple[str, ...]
    operations: tuple[str, ...]


@cache
def cautions() -> tuple[Caution, ...]:
    """Return every caution that stands beside some work, in the order of the table."""
    return tuple(
        Caution(
            key=row["key"],
            words=row["words"],
            lines=tuple(row["lines"]),
            source=row["source"],
            stations=tuple(row["stations"]),
            operations=tuple(row["operations"]),
        )
        for row in table("cautions")["beside"]
    )


def at_station(station: str) -> list[Caution]:
    """Return the cautions that stand on the sheet of a station.

    >>> [one.key for one in at_station("liners")]
    ['cold', 'hot']
    """
    return [one for one in cautions() if station in one.stations]


def on_route(stations: Container[str], operations: Container[str]) -> list[Caution]:
    """Return the cautions of a job's operations whose stations it does not have.

    >>> [one.key for one in on_route({"proofs"}, {"crack_test", "wash"})]
    ['chemicals']
    """
    return [
        one
        for one in cautions()
        if any(it in operations for it in one.operations)
        and not any(it in stations for it in one.stations)
    ]
