"""Job: which block this is, with what it is measured, how far the work has come."""

from __future__ import annotations

from builder.equations import verdicts
from builder.layout import Layout, Place
from builder.quantities import read_quantity
from builder.spec_model import groups_of
from builder.standards import table
from builder.table import Form, Given, Line, Prose, Reading, Result, Row, Sheet, Table, typed_words, words
from builder.units import convert


def sheet(layout: Layout) -> Sheet:
    """The sheet of the job."""
    start = Prose(title="Start here", lines=[(line,) for line in table("start")["lines"]], widths=(6,))
    parts = (start, _block(layout), _progress(layout), _instruments(layout), _rule(layout))
    return Sheet(name="Job", title="Block record", parts=parts, widths={1: 30, 2: 26, 5: 24, 6: 14})


def _block(layout: Layout) -> Form:
    engine = layout.spec.engine
    before_cut = "Copy or photograph before any cut on the deck: they are machined away."
    state = Result(name="state", words="State", unit=None, equation=verdicts.said_again,
                   inputs={"words": "decision.release_state"})  # fmt: skip
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
            Line(column=typed_words("received_on", "Received, as 2026-05-31", "Year-month-day.", day=True)),
            Line(column=state),
        ),
    )


def _rule(layout: Layout) -> Form:
    """How the uncertainty of a reading counts at a limit."""
    name = layout.spec.decision.rule
    known = table("decision")[name]
    factor = Given(name="guard_factor", words="Share of ± that guards a limit", unit="", decimals=3,
                   value=read_quantity(known["factor"]))  # fmt: skip
    return Form(
        key="rule",
        title="Decision rule",
        lines=(Line(column=words("name", "Rule", name)), Line(column=factor, note=known["source"])),
    )


def _progress(layout: Layout) -> Table:
    wanted: dict[str, list[Place]] = {}
    for place in layout.wanted():
        wanted.setdefault(place.at.sheet, []).append(place)
    ticks = {name: [place.key for place in places if place.unit is None] for name, places in wanted.items()}
    ticked = [name for name in wanted if ticks[name]]

    def counts(row: str) -> list[str]:
        return [f"progress.{row}.numbers", *([f"progress.{row}.ticks"] if row in ticked else [])]

    return Table(
        key="progress",
        title="Readings taken",
        heading="Sheet",
        rows=[Row(name, name) for name in wanted],
        columns=(
            Given(name="wanted", words="wanted", unit="", value=lambda row: float(len(wanted[row]))),
            Result(name="numbers", words="sizes", unit="", equation=verdicts.readings_taken,
                   inputs={"readings": lambda row: _down_columns(wanted[row])}),
            Result(name="ticks", words="ticks", unit="", equation=verdicts.ticks_made, rows=ticked,
                   inputs={"ticks": ticks.__getitem__}),
            Result(name="taken", words="taken", unit="", equation=verdicts.taken_in_all, inputs={"counts": counts}),
        ),
    )  # fmt: skip


def _down_columns(places: list[Place]) -> list[str]:
    """The keys of the sizes column by column, so that they are counted over whole ranges."""
    sizes = [place for place in places if place.unit is not None]
    return [place.key for place in sorted(sizes, key=lambda place: (place.at.column, place.at.row))]


def _instruments(layout: Layout) -> Table:
    groups = groups_of(layout.spec)
    return Table(
        key="instruments",
        title="Instruments",
        own_page=True,
        heading="For the readings of",
        note="± is how far one reading may be out (expanded uncertainty, k = 2). If unknown, twice the smallest division "
        "of the gauge. Blank counts as nought: then nothing is ever UNSURE.",
        rows=[Row(name, f"the {name.replace('_', ' ')}") for name in groups],
        columns=(
            Reading(name="uncertainty", words="uncertainty ± (U)", unit=layout.unit_of, wanted=False,
                    possible=lambda row: (0.0, convert(2.0, "mm", layout.unit_of(row))),
                    decimals=lambda row: layout.decimals_of(row) + 1, how="Expanded uncertainty of one reading."),
            Reading(name="resolution", words="resolves", unit=layout.unit_of, wanted=False,
                    possible=lambda row: (0.0, convert(2.0, "mm", layout.unit_of(row))),
                    decimals=lambda row: layout.decimals_of(row) + 1, how="Smallest step the gauge shows."),
            words("unit", "unit", layout.unit_of),
            typed_words("instrument", "instrument", "What it is."),
            typed_words("number", "its number", "As marked on it."),
        ),
    )  # fmt: skip
