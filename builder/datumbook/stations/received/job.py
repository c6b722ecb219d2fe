"""Job: which block this is, how far the work has come, how a limit is judged, what was struck and
corrected.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Given, Result, Sizes, typed_words, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Prose, Row, Sheet, Table
from datumbook.equations import standings
from datumbook.grouping import grouped
from datumbook.numbers.quantities import read_quantity
from datumbook.standards import table
from datumbook.workbook.layout import Layout, Place

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
    received_on: Column


class Progress(Table):
    """How many of the wanted readings of each sheet are taken."""

    numbers: Column
    ticks: Column


class Corrections(Table):
    """Readings that were corrected keep what they were."""

    def __init__(self) -> None:
        super().__init__(
            key="struck",
            title="Struck and corrected",
            heading="Line",
            note="A reading that is corrected keeps its old value here, with the reason, the "
            "initials and the day.",
            rows=[Row(str(line), f"{line}.") for line in range(1, STRUCK + 1)],
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
    """The first sheet: the block, the readings taken in the placed stations, the corrections."""

    def __init__(self, layout: Layout, rule: DecisionRule, release_state: Column) -> None:
        self.rule, self.corrections = rule, Corrections()
        self.block = _block(layout, release_state)
        self.progress = _progress(layout)

    def sheet(self) -> Sheet:
        """The sheet of the job."""
        return Sheet(
            name="Job",
            title="Block record",
            parts=(
                Prose(
                    title="Start here",
                    lines=[(line,) for line in table("start")["lines"]],
                    widths=(6,),
                ),
                self.block,
                self.progress,
                self.rule,
                self.corrections,
            ),
            widths={1: 30, 2: 26, 5: 24, 6: 14},
        )


def _block(layout: Layout, release_state: Column) -> Block:
    engine = layout.spec.engine
    return Block(
        key="job",
        title="The block",
        lines=(
            words("number", "Job", layout.job.block),
            words("engine", "Engine", engine.name),
            words("identity", "Book", layout.identity),
            words("material", "Material", engine.material),
            typed_words(
                "casting",
                "Numbers on the casting",
                "Copy or photograph before any cut on the deck: they are machined away.",
            ),
            typed_words("owner", "Owner", "Who brought the block."),
            typed_words("received_on", "Received, as 2026-05-31", "Year-month-day.", day=True),
            Result(
                name="state",
                words="State",
                equation=standings.said_again,
                inputs={"words": release_state},
            ),
        ),
    )


def _progress(layout: Layout) -> Progress:
    wanted = grouped((place.at.sheet, place) for place in layout.wanted())
    ticks = {
        name: [place.key for place in places if place.unit is None]
        for name, places in wanted.items()
    }
    ticked, count = [name for name in wanted if ticks[name]], Sizes("", 0)
    numbers = count.result(
        "numbers",
        "sizes",
        standings.readings_taken,
        readings=lambda row: _down_columns(wanted[row]),
    )
    made = count.result(
        "ticks", "words", standings.words_given, ticked, cells=lambda row: ticks[row]
    )
    return Progress(
        key="progress",
        title="Readings taken",
        heading="Sheet",
        rows=[Row(name, name) for name in wanted],
        columns=(
            Given(
                name="wanted",
                words="wanted",
                unit="",
                whole=True,
                value=lambda row: float(len(wanted[row])),
            ),
            numbers,
            made,
            count.result(
                "taken",
                "taken",
                standings.taken_in_all,
                counts=lambda row: [numbers[row], *([made[row]] if row in ticked else [])],
            ),
        ),
    )


def _down_columns(places: list[Place]) -> list[Key]:
    """The keys of the sizes column by column, so that they are counted over whole ranges."""
    sizes = [place for place in places if place.unit is not None]
    return [place.key for place in sorted(sizes, key=lambda place: (place.at.column, place.at.row))]
