"""Readings as received against the same as finished: metal goes and does not come, unless a bore
was sleeved.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from datumbook.cells.handles import Part, row_parts
from datumbook.grouping import grouped
from datumbook.numbers.printing import figures
from datumbook.validator.readings.series import ReadingSeries, Suspicion
from datumbook.workbook.layout import Layout

GROWN = 10  # steps of the gauge, two readings of which fall apart by no more
SMALLER = 2  # steps, where a second sign says that two sizes stand in each other's place


class ReadAgain(NamedTuple):
    """A finished reading, by its series and its number there, and the same as received."""

    row: str
    was: float
    step: float  # of the gauge it was read with as received
    after: ReadingSeries
    number: int

    @property
    def now(self) -> float:
        """The reading as finished."""
        return self.after.values[self.number]


def grown(layout: Layout, columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """A height as finished above the same as received: no cut adds metal. Of bores see `shrunk`:
    they may be sleeved.
    """
    heights = layout.stations.heights
    corners = [bank.corners for bank in heights.banks.values()] if heights else []
    for one in _read_again(columns, corners):
        if one.now - one.was > GROWN * max(one.step, one.after.step):
            yield one.after.tell("suspect-growth", one.number, expected=figures(one.was))


def shrunk(layout: Layout, columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """A cylinder finished smaller than received, while its sizes as received are those that were
    decided: exchanged.

    A cylinder that was sleeved is smaller as well, but what is smaller is then the size decided.
    """
    decided = _decided(layout, columns)
    bores = layout.stations.bores
    read_again = _read_again(columns, [bores.readings] if bores else [])
    cylinders = grouped((row_parts(one.row)[0], one) for one in read_again)
    for cylinder, each in cylinders.items():
        size = decided.get(cylinder, decided.get(""))
        if size is not None and len(each) >= 2 and all(_smaller(one, size) for one in each):
            was, after, number = figures(each[0].was), each[0].after, each[0].number
            yield after.tell("suspect-shrunk", number, expected=was, cylinder=cylinder)


def _read_again(columns: list[ReadingSeries], received: Collection[Part]) -> Iterator[ReadAgain]:
    """Every reading that answers one of these tables as received."""
    before: dict[tuple[Part | None, str, str], tuple[float, float]] = {
        (one.table, one.column.name, place.row): (value, one.step)
        for one in columns
        if one.table in received
        for place, value in zip(one.places, one.values, strict=True)
    }
    for after in columns:
        for number, place in enumerate(after.places):
            was = before.get((after.table.earlier, after.column.name, place.row))
            if was is not None:
                yield ReadAgain(place.row, *was, after, number)


def _decided(layout: Layout, columns: list[ReadingSeries]) -> dict[str, float]:
    """The size typed for each cylinder in the plan; "" for the one typed for all of them."""
    finished = layout.stations.finished_bores
    bored_to = finished.bored_to.size if finished and finished.bored_to else None
    planned = layout.stations.bore_plan
    return {
        place.row: value
        for one in columns
        if one.column in (planned.each.typed_bore if planned else None, bored_to)
        for place, value in zip(one.places, one.values, strict=True)
    }


def _smaller(one: ReadAgain, decided: float) -> bool:
    """Say whether a finished size is less than it was by more than two steps, and further from what
    was decided.
    """
    closer = abs(one.was - decided) < abs(one.now - decided)
    return closer and one.was - one.now > SMALLER * one.after.step
