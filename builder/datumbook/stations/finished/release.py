"""Release: what holds the job up, the worst first, and who lets the block go."""

from __future__ import annotations

from typing import Any

from datumbook.cells.columns import Column, Given, Input, Per, Result, typed_words
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import standings
from datumbook.numbers.quantities import Quantity, counted
from datumbook.stations.finished.every_check import EveryCheck
from datumbook.stations.finished.holes_decided import HolesDecided
from datumbook.stations.finished.touched import Touched
from datumbook.stations.received.job import DecisionRule
from datumbook.workbook.layout import Layout

RANKS = 12


class Decision(Form):
    """Where the job stands, and who says so."""

    under_concession: Column
    left: Column
    holding: Column
    decision: Column
    reason: Column
    measured_by: Column
    read_again: Column
    released_by: Column
    released_on: Column
    seal: Column
    release_state: Column


class Release:
    """Every check of the placed stations, what holds the job up, and the decision."""

    def __init__(self, layout: Layout, rule: DecisionRule) -> None:
        self.checks = EveryCheck(layout, rule)
        self.decision, self.touched = self._decision(), Touched(layout)
        self.holes = layout.stations.holes

    def sheet(self) -> Sheet:
        """The sheet of the release."""
        rows = self.checks.rows
        return Sheet(
            name="Release",
            read=True,
            title="Release",
            parts=[
                *(self.decision, self._held_up(), self.touched),
                *([HolesDecided(self.holes)] if self.holes else []),
            ],
            below=[self.checks],
            penned=(self.decision,),
            widths={1: 46, 2: max(14, *(len(self.checks.address(row.key)) for row in rows))},
        )

    def _decision(self) -> Decision:
        stands = self.checks.every(self.checks.standing)

        def count(name: str, heading: str, equation: Any, **inputs: Any) -> Column:
            return Result(name=name, words=heading, unit="", equation=equation, inputs=inputs)

        conceded, either = standings.under_concession, ("released", "rejected")
        left = standings.left
        name = "Name of the person who measured."
        columns = (
            Given(
                name="checks",
                words="Checks",
                unit="",
                whole=True,
                value=float(len(self.checks.rows)),
            ),
            count("passing", "OK, or nothing asked of them", standings.passing, standings=stands),
            count("under_concession", "Under a concession", conceded, standings=stands),
            count("left", "At stations left as they are", left, standings=stands),
            count("holding", "Hold the job up", standings.holding),
            typed_words(
                "decision",
                "Decision: released or rejected",
                "One of the two words.",
                choices=either,
            ),
            typed_words("reason", "Reason, if rejected", "Why the block cannot go on."),
            typed_words("measured_by", "Measured by", name),
            typed_words(
                "read_again",
                "Series that were doubted stand, because",
                "Where validate doubts a whole series: what was read again, by whom, and what it "
                "showed.",
            ),
            typed_words("released_by", "Released or rejected by", "Name of a second person."),
            typed_words("released_on", "Date, as 2026-05-31", "Year-month-day.", day=True),
            typed_words(
                "seal",
                "Seal, as validate prints it",
                "Eight letters and digits that stand for everything in this book.",
            ),
            Result(name="release_state", words="State", equation=standings.release_state),
        )
        return Decision(
            key="decision",
            title="Where the job stands",
            note="Released: every check OK or conceded, and two people have put their names. "
            "Rejected: with the reason.",
            lines=[Line(column=column) for column in columns],
        )

    def _held_up(self) -> Table:
        checks = self.checks

        def rank(row: str) -> Quantity:
            return counted(int(row))

        place = Result(
            name="place",
            words="line",
            unit="",
            equation=standings.place_of_rank,
            inputs={"rank": rank, "urgencies": checks.every(checks.urgency)},
        )

        def words(name: str, heading: str, of: Column, width: float = 0.0) -> Result:
            inputs: dict[str, Per[Input]] = {"place": place, "lines": checks.every(of)}
            return Result(
                name=name, words=heading, equation=standings.words_at, inputs=inputs, width=width
            )

        return Table(
            key="held_up",
            title="What holds it up, the worst first",
            heading="Rank",
            rows=[Row(str(at), f"rank {at}") for at in range(1, min(RANKS, len(checks.rows)) + 1)],
            columns=(
                words("where", "go to", checks.go_to),
                words("verdict", "verdict", checks.verdict),
                place,
                words("what", "check", checks.check, width=30.0),
            ),
        )
