"""Filled workbook to verdict: opened safely, recognised, located, compared, read, and every result
worked out anew.

The file is never changed and never trusted: a verdict rests on the readings and on Python alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Literal

from datumbook.cells.tables import Stage, stages_reached
from datumbook.effort import TooMuchWork, held_to, in_one_go
from datumbook.equations.verdicts import NOTHING_ASKED, OK, OPEN, OUT, STALE, UNSURE
from datumbook.files import size_of
from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, Refused, open_book
from datumbook.spec import Spec
from datumbook.validator.compare.contents import compare, stale
from datumbook.validator.compare.pasted import in_few
from datumbook.validator.compare.survey import survey
from datumbook.validator.judge.judgement import (
    Outcome,
    judge,
    limits_of,
    limits_printed,
    outcomes,
    story,
    why_stale,
)
from datumbook.validator.judge.seal import seal_of
from datumbook.validator.judge.whose_limits import against_shop
from datumbook.validator.locate.location import Located, locate
from datumbook.validator.readings.corrections import Struck, struck_readings
from datumbook.validator.readings.entries import read_entries
from datumbook.validator.recognise.recognition import recognise
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.flow import downstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan, Place
from datumbook.workbook.record import Record

__all__ = [
    "EXIT",
    "Outcome",
    "Validation",
    "limits_of",
    "limits_printed",
    "story",
    "validate",
    "why_stale",
    "worst_exit",
]

Verdict = Literal["release", "hold", "untrusted", "unreadable"]
EXIT: dict[Verdict, int] = {"release": 0, "hold": 1, "untrusted": 3, "unreadable": 2}
WORST: tuple[int, ...] = (2, 3, 1, 0)


@dataclass
class Validation:
    """Everything the validator found out about one workbook."""

    path: Path
    findings: list[Finding] = field(default_factory=list)
    layout: Layout | None = None
    values: Mapping[str, object] = field(default_factory=dict)
    typed: Mapping[str, float | str] = field(default_factory=dict)
    readable: bool = True
    stage: Stage = "finished"
    record: Record | None = None
    book: Book | None = None
    located: Located | None = None
    settled: list[Finding] = field(default_factory=list)
    """Doubts about whole series that the Release sheet answers."""

    @cached_property
    def outcomes(self) -> list[Outcome]:
        """Every computed value with what the book shows of it."""
        if self.layout is None or self.located is None:
            return []
        return list(outcomes(self.layout, self.located, self.values))

    @property
    def reached(self) -> tuple[Stage, ...]:
        """The stage asked for and those before it: of what comes later nothing is said."""
        return stages_reached(self.stage)

    @property
    def checks(self) -> list[CheckPlan]:
        """The checks of the stages reached."""
        return (
            [one for one in self.layout.checks if one.stage in self.reached] if self.layout else []
        )

    @property
    def verdict(self) -> Verdict:
        """Where the book stands: the worst of its findings decides."""
        if not self.readable:
            return "unreadable"
        graves = {one.severity for one in self.findings}
        return (
            "untrusted"
            if "damage" in graves
            else "hold"
            if graves & {"reading", "check"}
            else "release"
        )

    @property
    def struck(self) -> list[Struck]:
        """The readings that were corrected, with what they were."""
        return list(struck_readings(self.layout, self.values)) if self.layout else []

    @property
    def seal(self) -> str:
        """What the book is sealed with as it stands, "" where it is not to be trusted or judged."""
        if self.layout is None or self.verdict in ("untrusted", "unreadable"):
            return ""
        return seal_of(self.layout, self.typed)

    @property
    def exit_status(self) -> int:
        """0 releasable, 1 on hold, 3 untrusted, 2 unreadable."""
        return EXIT[self.verdict]

    @property
    def state(self) -> str:
        """The state of the job in the book's own words, "" where there is none; never released
        unless the verdict is.
        """
        if self.layout is None:
            return ""
        form = self.layout.stations.release.decision
        said = str(self.values.get(form.release_state.key, ""))
        return (
            "ON HOLD" if said in ("RELEASABLE", "RELEASED") and self.verdict != "release" else said
        )

    @property
    def counts(self) -> dict[str, int]:
        """How many checks of the stages reached have which verdict and of how many nothing is
        asked, and how many wanted readings there are and are taken.
        """
        said = [self.values[check.verdict] for check in self.checks]
        counted = {word: said.count(word) for word in (OK, OUT, STALE, UNSURE, OPEN)}
        if self.layout is None:
            return counted
        wanted = [one.key for one in self.wanted]
        taken = sum(self.values.get(key) not in (None, "") for key in wanted)
        return counted | {
            "checks": len(said),
            "nothing_asked": said.count(NOTHING_ASKED),
            "readings_wanted": len(wanted),
            "readings_taken": taken,
        }

    @property
    def wanted(self) -> list[Place]:
        """The readings wanted in the stages reached, those of a station left apart."""
        if self.layout is None:
            return []
        left = self.layout.stations.job.way.left_cells(self.values)
        return [
            one for one in self.layout.wanted() if one.stage in self.reached and one.key not in left
        ]


def worst_exit(statuses: list[int]) -> int:
    """Of several books the worst counts: unreadable, untrusted, on hold, releasable."""
    return next(status for status in WORST if status in statuses)


@in_one_go
def validate(path: Path, stage: Stage = "finished", shop: Sequence[Spec] = ()) -> Validation:
    """Validate one workbook; whatever the file holds, the answer is a Validation and never an
    exception.

    At an earlier stage only what belongs to it and to those before it can hold the job up. `shop`
    is the shop's own specs, beside whose figures those of the book are held, where there are any.
    """
    made = Validation(path, stage=stage)
    try:
        with held_to(size_of(path)):
            _judge(made, shop)
    except Refused as refusal:
        return Validation(path, [refusal.finding], readable=False, stage=stage)
    except TooMuchWork as much:
        refused = finding("too-much-work", file=path.name, found=str(much))
        return Validation(path, [refused], readable=False, stage=stage)
    return made


def _judge(made: Validation, shop: Sequence[Spec]) -> None:
    """Read the book and find out everything about it; Refused, TooMuchWork."""
    made.book = book = open_book(made.path)
    recognised = recognise(book)
    made.record, made.layout = recognised.record, recognised.layout
    made.findings += [*book.problems, *recognised.findings]
    if made.layout is not None:
        _examine(made.layout, book, made)
        if shop and made.located is not None:
            made.findings += against_shop(made.layout, made.located, shop)
    made.findings = in_few(made.findings)


def _examine(layout: Layout, book: Book, made: Validation) -> None:
    narrow = made.record.narrow if made.record else None
    located = made.located = locate(layout, book, narrow)
    entries = read_entries(layout, located)
    made.typed = entries.typed
    values = made.values = reckon(layout, entries.typed)
    compared, altered = compare(layout, located, values)
    protected = made.record is None or made.record.protected
    made.findings += located.findings + survey(layout, located, compared, protected) + compared
    apart = altered | entries.unread  # what hangs on these is explained by them
    made.findings += stale(layout, located, values, downstream(layout, apart) | apart)
    typed = [one for one in entries.findings if layout.places[one.key].stage in made.reached]
    made.settled = [one for one in entries.settled if layout.places[one.key].stage in made.reached]
    twice = {(one.code, one.sheet, one.cell) for one in typed}
    made.findings = [
        one for one in made.findings if (one.code, one.sheet, one.cell) not in twice
    ] + typed
    made.findings += judge(layout, located, entries, values, made.stage)
