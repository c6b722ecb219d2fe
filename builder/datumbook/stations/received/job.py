"""Job: which block this is, how far the work has come, how a limit is judged, what was struck and
corrected.
"""

from __future__ import annotations

from datumbook.cells.columns import Given, Result, typed_words, words
from datumbook.cells.tables import Form, Line, Prose, Row, Sheet, Table
from datumbook.equations import standings
from datumbook.numbers.quantities import read_quantity
from datumbook.standards import table
from datumbook.workbook.layout import Layout, Place

STRUCK = 6  # lines for readings that were corrected


def sheet(layout: Layout) -> Sheet:
    """The sheet of the job."""
    start = Prose(
        title="Start here", lines=[(line,) for line in table("start")["lines"]], widths=(6,)
    )
    parts = (start, _block(layout), _progress(layout), _rule(layout), _struck())
    return Sheet(name="Job", title="Block record", parts=parts, widths={1: 30, 2: 26, 5: 24, 6: 14})


def _block(layout: Layout) -> Form:
    engine = layout.spec.engine
    before_cut = "Copy or photograph before any cut on the deck: they are machined away."
    state = Result(
        name="state",
        words="State",
        unit=None,
        equation=standings.said_again,
        inputs={"words": "decision.release_state"},
    )
    return Form(
        key="job",
        title="The block",
        lines=(
            Line(column=words("number", "Job", layout.job.block)),
            Line(column=words("engine", "Engine", engine.name)),
            Line(column=words("identity", "Book", layout.identity)),
            Line(column=words("material", "Material", engine.material)),
            Line(column=typed_words("casting", "Numbers on the casting", before_cut)),
            Line(column=typed_words("owner", "Owner", "Who brought the block.")),
            Line(
                column=typed_words(
                    "received_on", "Received, as 2026-05-31", "Year-month-day.", day=True
                )
            ),
            Line(column=state),
        ),
    )


def _rule(layout: Layout) -> Form:
    """How the uncertainty of a reading counts at a limit."""
    name = layout.spec.decision.rule
    known = table("decision")[name]
    factor = Given(
        name="guard_factor",
        words="Share of ± that guards a limit",
        unit="",
        decimals=3,
        value=read_quantity(known["factor"]),
    )
    return Form(
        key="rule",
        title="Decision rule",
        lines=(Line(column=words("name", "Rule", name)), Line(column=factor, note=known["source"])),
    )


def _progress(layout: Layout) -> Table:
    wanted: dict[str, list[Place]] = {}
    for place in layout.wanted():
        wanted.setdefault(place.at.sheet, []).append(place)
    ticks = {
        name: [place.key for place in places if place.unit is None]
        for name, places in wanted.items()
    }
    ticked = [name for name in wanted if ticks[name]]

    def counts(row: str) -> list[str]:
        return [f"progress.{row}.numbers", *([f"progress.{row}.ticks"] if row in ticked else [])]

    return Table(
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
            Result(
                name="numbers",
                words="sizes",
                unit="",
                equation=standings.readings_taken,
                inputs={"readings": lambda row: _down_columns(wanted[row])},
            ),
            Result(
                name="ticks",
                words="ticks",
                unit="",
                equation=standings.ticks_made,
                rows=ticked,
                inputs={"ticks": ticks.__getitem__},
            ),
            Result(
                name="taken",
                words="taken",
                unit="",
                equation=standings.taken_in_all,
                inputs={"counts": counts},
            ),
        ),
    )


def _down_columns(places: list[Place]) -> list[str]:
    """The keys of the sizes column by column, so that they are counted over whole ranges."""
    sizes = [place for place in places if place.unit is not None]
    return [place.key for place in sorted(sizes, key=lambda place: (place.at.column, place.at.row))]


def _struck() -> Table:
    """Readings that were corrected keep what they were."""
    return Table(
        key="struck",
        title="Struck and corrected",
        heading="Line",
        note="A reading that is corrected keeps its old value here, with the reason, the initials "
        "and the day.",
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
