"""The days of a book held against one another: what cannot have been done on the day that is
written.

Days are words that no formula compares. A block comes in, is measured and worked on, and goes out,
in that order, none of it after today. Each fault is told once, at the day that is wrong if one is:
the day received or released where others lie on its wrong side.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from datumbook.cells.columns import Reading
from datumbook.cells.tables import Stage
from datumbook.messages.findings import Finding
from datumbook.validator.locate.location import Located
from datumbook.validator.readings.entries import Entries
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place

MADE_IN = date(2026, 12, 1)
"""The day this version was made: a clock that shows an earlier one is wrong."""
SLACK = timedelta(days=1)  # a day has begun elsewhere that has not begun here
OLDEST = date(2000, 1, 1)
"""Days before it are slips of the hand; as those that dates typed for sizes may stand for."""
LONGEST_AHEAD = timedelta(days=3653)
"""Nothing is due later than in ten years: neither a calibration nor a look at a film of oil."""


@dataclass(frozen=True)
class DayWritten:
    """A day and the cell it is written in."""

    place: Place
    on: date


def today() -> date:
    """The day of whoever asks, none before this version was made."""
    return max(date.today(), MADE_IN)


def calendar(
    layout: Layout,
    located: Located,
    entries: Entries,
    values: Mapping[str, object],
    reached: Collection[Stage],
) -> Iterator[Finding]:
    """Yield what is wrong with the days of the stages reached."""
    ones = [
        DayWritten(place, day)
        for place in layout.readings()
        if isinstance(place.column, Reading) and place.column.day and place.stage in reached
        if place.key not in entries.spoiled and (day := _day(values.get(place.key))) is not None
    ]
    beyond = list(_beyond(located, ones))
    yield from beyond
    told = {one.key for one in beyond}
    written: dict[str, DayWritten] = {
        one.place.key: one for one in ones if one.place.key not in told
    }
    yield from _overdue(layout, located, written)
    yield from _film(located, written)
    done = [one for one in written.values() if not _ahead(one)]
    yield from _in_and_out(layout, located, written, done)
    yield from _operations(layout, located, written, values)


def sound_since(layout: Layout, values: Mapping[str, object]) -> date:
    """Return the day from which on no day of a book lies too far ahead: what is said of it from
    then on does not hang on when one asks.
    """
    days = (
        (place.column.ahead, day)
        for place in layout.readings()
        if isinstance(place.column, Reading) and place.column.day
        if (day := _day(values.get(place.key))) is not None and day > OLDEST
    )
    return max((day - (LONGEST_AHEAD if ahead else SLACK) for ahead, day in days), default=OLDEST)


def _day(typed: object) -> date | None:
    try:
        return date.fromisoformat(str(typed or "").strip())
    except ValueError:
        return None


def _ahead(one: DayWritten) -> bool:
    assert isinstance(one.place.column, Reading)
    return one.place.column.ahead


def _beyond(located: Located, ones: list[DayWritten]) -> Iterator[Finding]:
    """Days still to come on which something was done, days too far off, days long past."""
    now = today()
    for one in ones:
        latest = now + (LONGEST_AHEAD if _ahead(one) else SLACK)
        if one.on > latest:
            code = "day-far-off" if _ahead(one) else "day-to-come"
            yield located.about(code, one.place, found=one.on, expected=now)
        elif one.on < OLDEST:
            yield located.about("day-long-past", one.place, found=one.on, expected=OLDEST)


def _overdue(
    layout: Layout, located: Located, written: Mapping[str, DayWritten]
) -> Iterator[Finding]:
    """The instruments that were due for calibration before the day they were read; where that is
    not stated, before the block came in.
    """
    gauges, received = layout.stations.instruments.gauges, layout.stations.job.block.received_on
    for group in layout.scope.groups:
        due = written.get(gauges.calibration_due[group])
        read = written.get(gauges.measured_on[group]) or written.get(received.key)
        if due and read and due.on < read.on:
            yield located.about("calibration-overdue", due.place, found=due.on, expected=read.on)


def _film(located: Located, written: Mapping[str, DayWritten]) -> Iterator[Finding]:
    """What is due before it was done, in one row of a table: a film against rust to be looked at
    before it was put on.
    """
    for due in written.values():
        column, row = due.place.column, due.place.row
        if _ahead(due) and column is not None and column.home.has("put_on", row):
            put = written.get(column.home.cell(row, "put_on"))
            if put and due.on < put.on:
                yield located.about("due-before-done", due.place, found=due.on, expected=put.on)


def _in_and_out(
    layout: Layout, located: Located, written: Mapping[str, DayWritten], done: list[DayWritten]
) -> Iterator[Finding]:
    """What was done before the block came in, and what after it was let go."""
    received = written.get(layout.stations.job.block.received_on.key)
    released = written.get(layout.stations.release.decision.released_on.key)
    if received and (early := [one for one in done if one.on < received.on]):
        first = min(early, key=lambda one: one.on)
        yield _told(located, "received-too-late", received, first, len(early))
    if released and (late := [one for one in done if one.on > released.on and one != received]):
        last = max(late, key=lambda one: one.on)
        yield _told(located, "released-too-early", released, last, len(late))


def _told(located: Located, code: str, at: DayWritten, other: DayWritten, count: int) -> Finding:
    sheet, cell = located.shown_at(other.place)
    named = f"{sheet} {cell} ({other.place.label})" + (f" and {count - 1} more" * (count > 1))
    return located.about(code, at.place, found=at.on, expected=other.on, other=named)


def _operations(
    layout: Layout,
    located: Located,
    written: Mapping[str, DayWritten],
    values: Mapping[str, object],
) -> Iterator[Finding]:
    """Operations dated in another order than they are numbered, and those dated and not
    numbered.
    """
    table = layout.stations.route.operations
    dated = [
        (values.get(table.done[row.key]), day)
        for row in table.rows
        if (day := written.get(table.date[row.key])) is not None
    ]
    for number, day in dated:
        if number in (None, ""):
            yield located.about("operation-unnumbered", day.place, found=day.on)
    numbered = sorted(
        ((number, day) for number, day in dated if type(number) is float), key=lambda one: one[0]
    )
    for (_, before), (_, after) in pairwise(numbered):
        if after.on < before.on:
            yield _told(located, "operations-out-of-order", after, before, 1)
            return
