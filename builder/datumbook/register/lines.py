"""One line of the register: what a book says by itself, and the days it is open, which hang on when
one asks.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import cast

from datumbook.equations.standings import HOLDS
from datumbook.messages import ExpectedError
from datumbook.register.instruments import Instrument, day_in, instruments_of
from datumbook.report.document import CountedTo
from datumbook.spec.limits import LIMIT_GUESSED
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

CLOSED = {"RELEASED": "released", "REJECTED": "rejected"}
SEVERITY_ORDER = ("damage", "reading", "check", "note")


@dataclass(frozen=True)
class RegisterLine:
    """One line of the register: a block, or a file that is no book of one.

    `worst` is a check with its place, or what is wrong with the file; `readings_missing` are those
    that hold the job up, None where there is no book. `days_open` run from `received_on` to
    `until`, the day that `counted_to` names; None where no day received is stated or it is later
    than that.
    """

    file: str
    job: str
    engine: str
    identity: str
    state: str
    exit_status: int
    worst: str
    readings_missing: int | None
    received_on: str
    days_open: int | None
    counted_to: CountedTo
    until: str
    instruments: tuple[Instrument, ...] = ()


def day_asked(text: str) -> date | None:
    """Return the day that a person names as year-month-day, None for none. Raises ExpectedError."""
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise ExpectedError("write the day as year-month-day, like 2026-05-31.") from None


def undated_line(made: Validation) -> RegisterLine:
    """The line of a validated book as its content alone decides it: no days open are counted yet,
    and `until` is the day it was released or rejected, "" for one that is open.
    """
    layout, state, received, closed = made.layout, state_of(made), "", ""
    if layout:
        job, decision = layout.stations.job.block, layout.stations.release.decision
        received = day_in(made.values.get(job.received_on.key))
        closed = day_in(made.values.get(decision.released_on.key))
    return RegisterLine(
        file=str(made.path),
        job=layout.job.block if layout else "",
        engine=layout.spec.engine.name if layout else "",
        identity=layout.identity if layout else "",
        state=state,
        exit_status=made.exit_status,
        worst=_worst(made),
        readings_missing=sum(one.code == "reading-missing" for one in made.findings)
        if layout
        else None,
        received_on=received,
        days_open=None,
        counted_to="",
        until=closed if state in CLOSED.values() else "",
        instruments=instruments_of(layout, made.values) if layout else (),
    )


def dated(line: RegisterLine, path: Path, today: date | None = None) -> RegisterLine:
    """An undated line as that of this file, with the days it is open."""
    received, closed = day_asked(line.received_on), day_asked(line.until)
    until, counted_to = _until(path, closed, today)
    days = (until - received).days if received and until and until >= received else None
    return replace(
        line,
        file=str(path),
        days_open=days,
        counted_to="" if days is None else counted_to,
        until="" if days is None or until is None else until.isoformat(),
    )


def state_of(made: Validation) -> str:
    """Where a block stands, in a word or two."""
    if made.verdict == "unreadable":
        return "unreadable"
    if made.verdict == "untrusted":
        return "not ours" if any(one.code == "not-ours" for one in made.findings) else "damaged"
    if made.verdict == "hold":
        return CLOSED.get(made.state, "on hold")
    later = made.stage != "finished" and made.state == "ON HOLD"
    return f"complete as {made.stage}" if later else CLOSED.get(made.state, "releasable")


def _until(path: Path, closed: date | None, today: date | None) -> tuple[date | None, CountedTo]:
    """The day to which a block was open, and what day that is."""
    if closed or today:
        return closed or today, "release" if closed else "today"
    try:
        return date.fromtimestamp(path.stat().st_mtime), "file"
    except (OSError, OverflowError, ValueError):
        return None, ""


def _worst(made: Validation) -> str:
    """The worst thing about a book: what damaged it, else the worst check, else the first thing
    to put right.
    """
    first = {one.severity: one for one in reversed(made.findings)}
    check = _worst_check(made.layout, made.values) if made.layout else ""
    if "damage" in first or (not check and {"reading", "check"} & first.keys()):
        one = next(first[severity] for severity in SEVERITY_ORDER if severity in first)
        return one.message.removesuffix(one.remedy).rstrip()
    return check if made.verdict == "hold" else ""


def _worst_check(layout: Layout, values: Mapping[str, object]) -> str:
    """The check that the Release sheet ranks first among those that hold the job up."""
    every = layout.stations.release.checks
    held = [one for one in layout.checks if every.standing.held_in(values, one.key) == HOLDS]
    if not held:
        return ""
    worst = max(held, key=lambda one: cast(float, every.urgency.held_in(values, one.key) or 0.0))
    place = layout.places[worst.key]
    said = f"{values.get(worst.verdict)} {place.at.sheet} {place.at.cell} ({place.label})"
    return f"{said}: {LIMIT_GUESSED}" if worst.guessed else said
