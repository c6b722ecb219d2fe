"""A finished job is released; without any one of its readings, or with it out of limits, it is not,
and that one is named.

Every reading of the demonstration's block is taken away in turn, and pushed to either end of what
it can be at all, in memory, by the validator's own road. What was received is changed before the
finished block is measured: afterwards the finished readings stand in for it.
"""

from __future__ import annotations

from functools import cache

import pytest

from clean_readings import Readings, clean_readings, shipped_layout
from datumbook.cells.columns import Reading, possible
from datumbook.messages.findings import Finding
from datumbook.validator import validate
from datumbook.validator.judge.judgement import judge
from datumbook.validator.readings.entries import read_entries
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.flow import downstream, upstream
from datumbook.workbook.placed import Place
from datumbook.writer import write
from long_runs import mostly_long
from memory_books import located
from programs import workshop

LAYOUT = shipped_layout()
WANTED = [place.key for place in LAYOUT.wanted()]
MEASURED = [place.key for place in LAYOUT.wanted() if place.unit is not None]
TICKED = [place.key for place in LAYOUT.wanted() if place.unit is None]
MOST = 1e3  # for a reading of which nothing is known


@cache
def complete() -> Readings:
    """Every reading, every operation in its turn, everything read after the last of them, and the
    release signed.
    """
    return clean_readings(LAYOUT) | {"decision.decision": "released"}


@cache
def received() -> Readings:
    """The same before anything is measured as finished: what was received is then what is
    judged.
    """
    return {key: value for key, value in complete().items() if not key.startswith("finished_")}


@cache
def values(finished: bool) -> dict[str, object]:
    return dict(reckon(LAYOUT, complete() if finished else received()))


@cache
def sources(check: str) -> set[str]:
    return {
        check,
        *upstream(LAYOUT, next(one for one in LAYOUT.checks if one.key == check).verdict),
    }


@cache
def superseded(key: str) -> bool:
    """Whether every check of a reading gives way to one of the finished block, is made with its
    finished twin, or asks what a line bore would take, of which this job has none.
    """
    twin = f"finished_{key}" in LAYOUT.places
    return all(
        one.superseded_by or (twin and one.sheet == "Fits") or one.key.startswith("line_bored.")
        for one in LAYOUT.checks
        if key in sources(one.key)
    )


def judged(key: str, value: float | str | None) -> tuple[list[Finding], object]:
    """What the validator finds with one reading changed, and the state of the job.

    A reading as received, whose checks all give way to finished ones, is changed before those are
    taken.
    """
    finished = not superseded(key)
    typed = {**(complete() if finished else received()), key: value}
    book = located(LAYOUT, typed)
    entries = read_entries(LAYOUT, book)
    moved = {key, *downstream(LAYOUT, {key})}
    standing = {one: kept for one, kept in values(finished).items() if one not in moved}
    found = reckon(LAYOUT, entries.typed, standing)  # type: ignore[arg-type]
    held = [
        one
        for one in (*entries.findings, *judge(LAYOUT, book, entries, found, "finished"))
        if one.severity != "note"
    ]
    return held, found["decision.release_state"]


def names(finding: Finding, key: str) -> bool:
    """Whether a finding is about this reading or about a check that is worked out from it."""
    return finding.key == key or (finding.code.startswith("check-") and key in sources(finding.key))


def test_the_complete_job_is_released_with_exit_status_0() -> None:
    path = workshop() / "complete.xlsx"
    write(LAYOUT, path, complete())
    found = validate(path)
    assert (found.verdict, found.exit_status, found.state) == ("release", 0, "RELEASED")
    assert LAYOUT.spec.engine.cylinders == 4
    assert reckon(LAYOUT, complete(), values(finished=True)) == values(finished=True)  # type: ignore[arg-type]


@pytest.mark.parametrize("key", mostly_long(WANTED, 8))
def test_without_this_reading_it_is_not_released_and_the_reading_is_named(key: str) -> None:
    held, state = judged(key, None)
    assert state != "RELEASED"
    assert [one for one in held if one.code == "reading-missing" and one.key == key]


@pytest.mark.parametrize("key", mostly_long(TICKED, 8))
def test_a_tick_that_says_otherwise_is_named(key: str) -> None:
    held, state = judged(key, "not done")
    assert state != "RELEASED"
    assert any(names(one, key) for one in held)


def ends(place: Place) -> tuple[float, float]:
    """Just within either end of what a reading can be."""
    assert isinstance(place.column, Reading)
    low, high = possible(place.column, place.row) or (-MOST, MOST)
    return low + 0.001 * (high - low), high - 0.001 * (high - low)


@pytest.mark.parametrize("key", mostly_long(MEASURED, 8))
def test_out_of_limits_at_one_end_at_least_it_is_not_released_and_is_named(key: str) -> None:
    found = (judged(key, end) for end in ends(LAYOUT.place(key)))
    assert any(
        state != "RELEASED" and any(names(one, key) for one in held) for held, state in found
    )
