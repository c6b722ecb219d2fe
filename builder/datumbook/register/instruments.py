"""The instruments of a shop over its jobs: what each book states of them, and what only several
books together show.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from datumbook.grouping import grouped
from datumbook.numbers.printing import figures, with_unit
from datumbook.numbers.units import to_coherent
from datumbook.workbook.layout import Layout

GROWING = 3  # jobs in a row, each of which drifted further than the one before
# mm by which two statements of one figure may differ: the last digit of an inch kept in another
# unit
SAME_SIZE = 1e-6


@dataclass(frozen=True)
class Instrument:
    """What one book states of the instrument of one group of readings; sizes in mm, days as
    year-month-day.
    """

    number: str
    group: str
    job: str
    unit: str
    calibration_due: str = ""
    measured_on: str = ""
    all_told: float | None = None
    setting: float | None = None
    resolution: float | None = None
    zero_before: float | None = None
    zero_after: float | None = None

    @property
    def drift(self) -> float | None:
        """How far the zero had moved when all was measured, None where it was not looked at
        twice.
        """
        return (
            None
            if self.zero_before is None or self.zero_after is None
            else self.zero_after - self.zero_before
        )

    def size(self, millimetres: float) -> str:
        """A size of the instrument in its own unit."""
        return with_unit(figures(millimetres / to_coherent(1.0, self.unit), 6), self.unit)


def instruments_of(layout: Layout, values: Mapping[str, object]) -> tuple[Instrument, ...]:
    """Every instrument that a book names by its number; what the layout does not ask for stays
    unstated.
    """
    found = []
    tables, received = layout.stations.instruments, layout.stations.job.block.received_on
    gauges, settings = tables.gauges, tables.settings
    for group in layout.scope.groups:
        if number := values.get(gauges.number[group]):
            stated = (
                *(gauges.all_told, gauges.setting, gauges.resolution),
                *(settings.zero_before, settings.zero_after),
            )
            due, measured, in_hand = (
                day_in(values.get(key))
                for key in (gauges.calibration_due[group], gauges.measured_on[group], received.key)
            )
            found.append(
                Instrument(
                    " ".join(str(number).split()),
                    group,
                    layout.job.block,
                    layout.unit_of(group),
                    due,
                    measured or in_hand,
                    **{one.name: _size(layout, values, one[group]) for one in stated},
                )
            )
    return tuple(found)


def _size(layout: Layout, values: Mapping[str, object], key: str) -> float | None:
    value, place = values.get(key), layout.places.get(key)
    return (
        to_coherent(value, place.unit)
        if isinstance(value, float) and place is not None and place.unit
        else None
    )


def day_in(typed: object) -> str:
    """A day as typed, year-month-day; "" for words that are none."""
    try:
        return date.fromisoformat(str(typed or "").strip()).isoformat()
    except ValueError:
        return ""


def remarks(stated: Sequence[Instrument], today: str = "") -> Iterator[str]:
    """What the books of a shop say of its instruments only together: contradictions, calibration
    due, drift that grows.

    `today` is the day calibration is held against, year-month-day; where none is given, the last
    day of the readings.
    """
    for ones in grouped(((one.number.casefold(), one.group), one) for one in stated).values():
        ones.sort(
            key=lambda one: one.measured_on
        )  # stable: books without a day stay in the order given
        yield from _contradicted(ones)
        yield from _overdue(ones, today)
        yield from _drifting(ones)


def _named(one: Instrument) -> str:
    return f"Instrument {one.number} (the {one.group.replace('_', ' ')})"


def _contradicted(ones: list[Instrument]) -> Iterator[str]:
    for name, words in (
        ("all_told", "an uncertainty of"),
        ("setting", "an uncertainty of its setting of"),
        ("resolution", "a step of"),
    ):
        known = [(value, one) for one in ones if (value := getattr(one, name)) is not None]
        other = [(value, one) for value, one in known if abs(value - known[0][0]) > SAME_SIZE]
        if other:
            (first, here), (second, there) = known[0], other[0]
            yield (
                f"{_named(here)} is stated with {words} {here.size(first)} in job {here.job} and "
                f"of {there.size(second)} "
                f"in job {there.job}. Find out which holds, and judge the other job anew."
            )


def _overdue(ones: list[Instrument], today: str) -> Iterator[str]:
    due = max((one.calibration_due for one in ones), default="")
    day = today or max((one.measured_on for one in ones), default="")
    if due and day > due:
        last = ones[-1]
        yield (
            f"{_named(last)} was due for calibration on {due}, and it is {day}; last used in job "
            f"{last.job}. "
            "Have it calibrated before it is used again."
        )


def _drifting(ones: list[Instrument]) -> Iterator[str]:
    """The zero moves further from job to job, by more in the end than the instrument resolves."""
    moved = [(drift, one) for one in ones if (drift := one.drift) is not None][-GROWING:]
    growing = all(abs(two) > abs(one) + SAME_SIZE for (one, _), (two, _) in pairwise(moved))
    if len(moved) == GROWING and growing:
        (least, first), (most, last) = moved[0], moved[-1]
        if abs(most) > (last.resolution or 0.0):
            yield (
                f"{_named(last)} drifts further from job to job: {first.size(least)} in "
                f"job {first.job}, {last.size(most)} in job {last.job}. Have it looked at before "
                f"it is used again."
            )
