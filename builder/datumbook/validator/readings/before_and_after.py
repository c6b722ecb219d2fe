"""Readings as received against the same as finished: metal goes and does not come, unless a bore
was sleeved.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.numbers.printing import figures
from datumbook.validator.readings.series import ReadingSeries, Suspicion

GROWN = 10  # steps of the gauge, two readings of which fall apart by no more
SMALLER = 2  # steps, where a second sign says that two sizes stand in each other's place


def grown(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """A height as finished above the same as received: no cut adds metal. Of bores see `shrunk`:
    they may be sleeved.
    """
    tables = {(column.table, column.name): column for column in columns}
    for (table, name), before in tables.items():
        after = tables.get((f"finished_{table}", name)) if table == "corners" else None
        was = dict(zip((place.row for place in before.places), before.values, strict=True))
        for number, value in enumerate(after.values if after else ()):
            row = after.places[number].row if after else ""
            if after and value - was.get(row, value) > GROWN * max(before.step, after.step):
                yield after.tell("suspect-growth", number, expected=figures(was[row]))


def shrunk(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """A cylinder finished smaller than received, while its sizes as received are those that were
    decided: exchanged.

    A cylinder that was sleeved is smaller as well, but what is smaller is then the size decided.
    """
    decided = _decided(columns)
    pairs: dict[str, list[tuple[float, ReadingSeries, int]]] = {}
    before = {
        (f"finished_{column.table}", column.name): column
        for column in columns
        if column.table == "bores"
    }
    for after in columns:
        first = before.get((after.table, after.name))
        was = (
            {place.row: value for place, value in zip(first.places, first.values, strict=True)}
            if first
            else {}
        )
        for number, place in enumerate(after.places):
            if place.row in was:
                pairs.setdefault(place.row.partition(".")[0], []).append(
                    (was[place.row], after, number)
                )
    for cylinder, each in pairs.items():
        size = decided.get(cylinder, decided.get(""))
        if (
            size is not None
            and len(each) >= 2
            and all(_smaller(was, one, at, size) for was, one, at in each)
        ):
            received, finished, number = each[0]
            yield finished.tell(
                "suspect-shrunk", number, expected=figures(received), cylinder=cylinder
            )


def _decided(columns: list[ReadingSeries]) -> dict[str, float]:
    """The size typed for each cylinder in the plan; "" for the one typed for all of them."""
    planned = [
        column for column in columns if (column.table, column.name) == ("bore_plan", "typed_bore")
    ]
    found = {
        place.row: value
        for column in planned
        for place, value in zip(column.places, column.values, strict=True)
    }
    found.update(("", column.values[0]) for column in columns if column.table == "bored_to")
    return found


def _smaller(was: float, after: ReadingSeries, number: int, decided: float) -> bool:
    """Say whether a finished size is less than it was by more than two steps, and further from what
    was decided.
    """
    now = after.values[number]
    return was - now > SMALLER * after.step and abs(was - decided) < abs(now - decided)
