"""The days of a book: what cannot have been done when it is said to have been is told once and
holds the job; what honest shops write is not told.

That a block comes in, is worked on and goes out in this order, and that nothing was done tomorrow,
needs no source.
"""

from __future__ import annotations

from datetime import timedelta

import pytest

from clean_readings import CONCEDED, shipped_layout
from datumbook.messages.findings import catalogue
from datumbook.validator.judge import calendar
from judged_in_memory import news_of
from long_runs import mostly_long

TODAY = calendar.today()
TOMORROW, LATER = (TODAY + timedelta(days=days) for days in (1, 2))
DUE, READ = "instruments.bores.calibration_due", "instruments.bores.measured_on"
OUT_DAY, CONCEDED_ON = "decision.released_on", f"release.{CONCEDED}.conceded_on"

ATTACKS: dict[str, tuple[dict[str, str | float | None], str]] = {
    "released in a far year": ({OUT_DAY: "2099-05-12"}, "day-to-come"),
    "released in two days": ({OUT_DAY: LATER.isoformat()}, "day-to-come"),
    "released in the year 9999": ({OUT_DAY: "9999-12-31"}, "day-to-come"),
    "received in a far year": ({"job.received_on": "2126-05-01"}, "day-to-come"),
    "read in a far year": ({READ: "2099-05-01"}, "day-to-come"),
    "cut in a far year": ({"route.deck.date": "2099-05-01"}, "day-to-come"),
    "conceded in a far year": ({CONCEDED_ON: "2099-05-01"}, "day-to-come"),
    "corrected in a far year": ({"struck.1.struck_on": "2099-05-01"}, "day-to-come"),
    "a certificate without an end": ({DUE: "2099-05-01"}, "day-far-off"),
    "received a century ago": ({"job.received_on": "1926-05-01"}, "day-long-past"),
    "released in the year 1": ({OUT_DAY: "0001-01-01"}, "day-long-past"),
    "read a century ago": ({READ: "1926-05-01"}, "day-long-past"),
    "received after it was read": (
        {"job.received_on": "2026-05-10", READ: "2026-05-09"},
        "received-too-late",
    ),
    "received after the deck was cut": (
        {"job.received_on": "2026-05-10", "route.deck.date": "2026-05-09"},
        "received-too-late",
    ),
    "received after a concession": ({"job.received_on": "2026-05-12"}, "received-too-late"),
    "received after the release": ({"job.received_on": "2026-06-01"}, "received-too-late"),
    "released before it was read": ({READ: "2026-05-13"}, "released-too-early"),
    "released before a cut": ({"route.bore.date": "2026-05-13"}, "released-too-early"),
    "released before the last wash": ({"route.wash.date": "2026-05-13"}, "released-too-early"),
    "released before what it concedes": ({OUT_DAY: "2026-05-10"}, "released-too-early"),
    "corrected after the release": ({"struck.2.struck_on": "2026-05-20"}, "released-too-early"),
    "numbered the other way round": (
        {"route.bore.date": "2026-05-09", "route.hone.date": "2026-05-08"},
        "operations-out-of-order",
    ),
    "a cut dated and not numbered": (
        {"route.deck.date": "2026-05-08", "route.deck.done": None},
        "operation-unnumbered",
    ),
    "read after the certificate ran out": (
        {DUE: "2026-05-01", READ: "2026-05-02"},
        "calibration-overdue",
    ),
    "run out before the block came in, the day of reading left blank": (
        {DUE: "2026-05-01", "job.received_on": "2026-05-02"},
        "calibration-overdue",
    ),
}
HONEST: dict[str, dict[str, str | float | None]] = {
    "released tomorrow, by the clock elsewhere": {OUT_DAY: TOMORROW.isoformat()},
    "all on one day": {
        "job.received_on": "2026-05-11",
        READ: "2026-05-11",
        "route.deck.date": "2026-05-11",
        "route.bore.date": "2026-05-11",
        OUT_DAY: "2026-05-11",
    },
    "a block that stood for years": {"job.received_on": "2009-03-02", READ: "2009-03-02"},
    "no day but that of the release": {"job.received_on": None},
    "no day of the release": {OUT_DAY: None, "decision.decision": None},
    "read as received long before it is finished": {
        "job.received_on": "2026-01-05",
        READ: "2026-01-06",
        "route.deck.date": "2026-04-01",
        "route.hone.date": "2026-04-20",
    },
    "read again when finished": {READ: "2026-05-12", "route.hone.date": "2026-05-10"},
    "a certificate that is good for years": {DUE: "2031-01-31", READ: "2026-05-02"},
    "a certificate that ran out after the readings": {DUE: "2026-05-03", READ: "2026-05-03"},
    "few of the operations dated": {
        "route.strip.date": "2026-05-04",
        "route.wash.date": "2026-05-10",
    },
    "one operation not needed": {"route.repair.done": None},
    "corrected before the release": {"struck.1.struck_on": "2026-05-12"},
}


@pytest.mark.parametrize("attack", mostly_long(ATTACKS, 5))
def test_days_that_cannot_be_are_told_once_and_hold_the_job(attack: str) -> None:
    changed, code = ATTACKS[attack]
    told = [one for one in news_of(changed) if one.code != "check-open"]
    assert [one.code for one in told] == [code]
    assert catalogue()[code]["severity"] == "check"
    assert shipped_layout().place(told[0].key).column.day  # type: ignore[union-attr]


@pytest.mark.parametrize("shop", mostly_long(HONEST, 3))
def test_honest_days_are_not_told(shop: str) -> None:
    assert news_of(HONEST[shop]) == []


def test_a_day_that_a_program_made_of_a_number_is_held_as_well() -> None:
    """A spreadsheet keeps a day as a number; the reader gives year-month-day back."""
    assert [one.code for one in news_of({OUT_DAY: " 2099-05-12 "})] == ["day-to-come"]


def test_one_wrong_day_is_told_once_however_many_lie_on_its_wrong_side() -> None:
    days = {f"route.{name}.date": "2026-05-05" for name in ("strip", "clean", "deck", "hone")}
    (one,) = news_of({**days, "job.received_on": "2026-05-06"})
    assert (one.code, one.key) == ("received-too-late", "job.received_on")
    assert "3 more" in one.message


def test_a_clock_that_stands_before_this_version_was_made_accuses_nobody(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Stopped(calendar.date):
        @classmethod
        def today(cls) -> Stopped:
            return cls(1970, 1, 1)

    monkeypatch.setattr(calendar, "date", Stopped)
    assert calendar.today() == calendar.MADE_IN
    assert news_of({}) == []
