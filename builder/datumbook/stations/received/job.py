"""Job: which block this is, what is to be done next, how a limit is judged, what was struck and
corrected.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Result, Sizes, typed_words, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Prose, Row, Sheet, Table
from datumbook.equations import standings, station_lines
from datumbook.job import work_in_words
from datumbook.numbers.quantities import counted, read_quantity
from datumbook.standards import table
from datumbook.stations.received.guesses import guessed_figures
from datumbook.stations.received.shown import shown_words
from datumbook.stations.received.way_through import HELPERS, WayThrough
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import WHOLE

STRUCK = 6  # lines for readings that were corrected


class DecisionRule(Form):
    """How the uncertainty of a reading counts at a limit."""

    guard_factor: Column

    def __init__(self, basis: Basis) -> None:
        name = basis.spec.decision.rule
        known, words_of = table("decision")[name], "Share of ± that guards a limit"
        factor = Sizes("", 3).given("guard_factor", words_of, read_quantity(known["factor"]))
        super().__init__(
            key="rule",
            title="Decision rule",
            lines=(words("name", "Rule", name), Line(column=factor, note=known["source"])),
        )


class Block(Form):
    """Which block this is."""

    number: Column
    identity: Column
    owner: Column
    received_on: Column


class Corrections(Table):
    """Readings that were corrected keep what they were."""

    def __init__(self) -> None:
        super().__init__(
            key="struck",
            title="Struck and corrected",
            heading="Line",
            note="A reading that is corrected keeps its old value here, with the reason, the "
            "initials and the day.",
            rows=[Row(str(line), f"line {line}") for line in range(1, STRUCK + 1)],
            columns=(
                typed_words("where", "cell or feature", "Sheet and cell, or the feature in words."),
                typed_words("was", "was", "The old value, as it was read."),
                typed_words("now", "is now", "The value that counts."),
                typed_words("reason", "reason", "Why it was corrected."),
                typed_words("initials", "initials", "Of the person who corrected it."),
                typed_words("struck_on", "on", "Year-month-day.", day=True, width=11),
            ),
        )


class JobRecord:
    """The first sheet: the block, the way through the book, the corrections."""

    def __init__(self, layout: Layout, rule: DecisionRule) -> None:
        self.layout, self.rule, self.corrections = layout, rule, Corrections()
        self.way = WayThrough(layout)
        self.guesses = guessed_figures(layout)
        self.block = self._block()

    def said(self) -> dict[Key, str]:
        """What the job itself says into the cells of this sheet: the owner, and the stations that
        are left as they are.
        """
        job, way = self.layout.job, self.way
        typed: dict[Key, str] = {self.block.owner.key: job.owner} if job.owner else {}
        for one in job.left:
            if row := way.first.get(one.station):
                typed |= {
                    way.column("left")[row]: station_lines.AS_IT_IS,
                    way.reason[row]: one.reason,
                    way.by[row]: one.by,
                }
        return typed

    def sheet(self) -> Sheet:
        """The sheet of the job, above the route."""
        start = [(line,) for line in table("start")["lines"]]
        return Sheet(
            name="Job",
            read=True,
            title="The job, and the way through this book",
            parts=(
                self.block,
                self.way,
                *self.guesses,
                Prose(title="How to fill it in", lines=start, widths=(WHOLE,)),
                self.rule,
                self.corrections,
            ),
            widths={1: 30, 2: 16},
            behind=HELPERS,
            penned=(self.block,),
        )

    def _block(self) -> Block:
        layout, way = self.layout, self.way
        engine = layout.spec.engine

        def state(_: str) -> Column:
            return layout.stations.release.decision.release_state

        def holding(_: str) -> Column:
            return layout.stations.release.decision.holding

        to_read = Sizes("", 0).result(
            "to_read", "Cells still to fill", standings.taken_in_all, counts=way.every(way.to_read)
        )
        line = Result(
            name="next_line",
            words="Line of the next station, below",
            unit="",
            equation=standings.place_of_rank,
            inputs={"rank": counted(1), "urgencies": way.every(way.turn)},
        )
        return Block(
            key="job",
            title="The block",
            lines=(
                Result(
                    name="next",
                    words="Next to do",
                    equation=station_lines.next_to_do,
                    inputs={"holding": holding, "release_state": state},
                ),
                Result(
                    name="next_at",
                    words="At the station",
                    equation=standings.words_at,
                    inputs={"place": line, "lines": way.every(way.go_to)},
                ),
                to_read,
                words("number", "Job", layout.job.block),
                words("engine", "Engine", engine.name),
                words("identity", "Book", layout.identity),
                words("material", "Material", engine.material),
                words("work", "Work", work_in_words(layout.job), runs_on=True),
                typed_words(
                    "casting",
                    "Numbers on the casting",
                    "Copy or photograph before any cut on the deck: they are machined away.",
                ),
                typed_words("owner", "Owner", "Who brought the block."),
                typed_words("received_on", "Received, as 2026-05-31", "Year-month-day.", day=True),
                shown_words("state", "State", state),
                line,
            ),
        )
