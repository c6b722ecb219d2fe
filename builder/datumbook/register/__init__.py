"""The register of a shop: one line for each workbook of a folder, validated side by side and
forgotten but for its line.

A book is judged by the validator and by nothing else. What is kept of it is small, so that a
register of thousands of books takes no more memory than one of two.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import Any, cast

from datumbook.cells.tables import Stage
from datumbook.equations.standings import HOLDS
from datumbook.messages import ExpectedError
from datumbook.register.instruments import Instrument, day_in, instruments_of
from datumbook.report.document import CountedTo, as_json, document
from datumbook.spec import Spec
from datumbook.spec.limits import LIMIT_GUESSED
from datumbook.validator import Validation, validate
from datumbook.workbook.layout import Layout

FEW_BOOKS = 6  # books that are judged sooner than other processes are begun
AHEAD = 4  # books handed to each process before their answers are fetched
CLOSED = {"RELEASED": "released", "REJECTED": "rejected"}
SEVERITY_ORDER = ("damage", "reading", "check", "note")

LineTold = tuple["RegisterLine", str]
"""A book's line and its JSON document, "" where that was not asked for."""


class RegisterError(ExpectedError):
    """The register could not be finished; the message says why and what to do."""


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


@dataclass(frozen=True)
class HowJudged:
    """How every book of a register is judged: the stage, the day that is today if one was given,
    whether all is told, and the shop's own specs.
    """

    stage: Stage = "finished"
    today: date | None = None
    whole: bool = False
    shop: tuple[Spec, ...] = ()


def register(
    paths: Sequence[Path], asked: HowJudged, processes: int | None = None
) -> Iterator[LineTold]:
    """Yield each book's line in the order given, and its JSON document where all is asked for; ""
    where not.

    Raises RegisterError when a process was ended from outside.
    """
    if len(paths) < FEW_BOOKS:
        yield from (entered(path, asked) for path in paths)
        return
    count = min(processes or os.cpu_count() or 2, len(paths))
    try:
        with ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), _begun) as pool:
            yield from _in_turn(pool, paths, asked, AHEAD * count)
    except BrokenProcessPool:
        raise RegisterError(
            "The register is not complete: a process that read workbooks was ended from outside, "
            "perhaps for want of memory. Validate fewer books at once."
        ) from None


def day_asked(text: str) -> date | None:
    """Return the day that a person names as year-month-day, None for none. Raises ExpectedError."""
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise ExpectedError("write the day as year-month-day, like 2026-05-31.") from None


def _in_turn(
    pool: ProcessPoolExecutor, paths: Sequence[Path], asked: HowJudged, ahead: int
) -> Iterator[LineTold]:
    """The answers in the order of the books, so few of them waiting that memory does not grow with
    their number.
    """
    waiting: deque[Future[LineTold]] = deque()
    for path in paths:
        waiting.append(pool.submit(_entered_apart, path, asked))
        if len(waiting) > ahead:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()


def _begun() -> None:
    """How a process of a register begins: who stops the register stops the first process, and that
    ends the others.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.disable()


def _entered_apart(path: Path, asked: HowJudged) -> LineTold:
    """As entered, in a process of its own: unreachable objects are sought between two books, not in
    the midst of one.
    """
    answer = entered(path, asked)
    gc.collect()
    gc.freeze()  # what is left is kept for the next book, and need not be searched again
    return answer


def entered(path: Path, asked: HowJudged) -> LineTold:
    """Judge one book and return its line, with its JSON document where all is asked for."""
    made = validate(path, asked.stage, asked.shop)
    block = block_of(made, asked.today)
    return block, as_json(told_whole(made, block)) if asked.whole else ""


def told_whole(made: Validation, block: RegisterLine) -> dict[str, Any]:
    """A validated book as the document tells of it, with its line of the register."""
    return document(made) | {"register": asdict(block)}


def block_of(made: Validation, today: date | None = None) -> RegisterLine:
    """The line of a validated book."""
    layout, state, received, closed = made.layout, state_of(made), None, None
    if layout:
        job, decision = layout.stations.job.block, layout.stations.release.decision
        received, closed = (
            day_asked(day_in(made.values.get(line.key)))
            for line in (job.received_on, decision.released_on)
        )
    until, counted_to = _until(made.path, closed if state in CLOSED.values() else None, today)
    days = (until - received).days if received and until and until >= received else None
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
        received_on=received.isoformat() if received else "",
        days_open=days,
        counted_to="" if days is None else counted_to,
        until="" if days is None or until is None else until.isoformat(),
        instruments=instruments_of(layout, made.values) if layout else (),
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
