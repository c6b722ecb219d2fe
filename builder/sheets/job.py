"""Job: which block this is, with what it is measured, how far the work has come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from builder.equations import verdicts
from builder.table import Form, Given, Line, Prose, Reading, Result, Row, Sheet, Table
from builder.units import convert

if TYPE_CHECKING:
    from builder.layout import Layout, Place

GROUPS = {"bores": "Bores", "lands": "Lands", "heights": "Heights", "holes": "Holes"}

START = (
    "Fill the pale cells, sheet by sheet, in the order of the tabs; Tab moves to the next one.",
    "Type sizes as decimals in the unit of the heading: 82.014. Nothing else belongs in the cell.",
    "State the gauge's uncertainty below once it is known: a size nearer to a limit than that is UNSURE, not OK.",
    "OPEN: a reading is missing. OUT: beyond the limit. UNSURE: too near to tell. OK: inside.",
    "Release lists what holds the job up. Run the validator on the saved file before assembly.",
)


def sheet(layout: Layout) -> Sheet:
    """The sheet of the job."""
    start = Prose(title="Start here", lines=[(line,) for line in START], widths=(9,))
    return Sheet(
        name="Job", title="Block record", parts=(_block(layout), _progress(layout), _instruments(layout), start)
    )


def _block(layout: Layout) -> Form:
    engine = layout.spec.engine

    def given(name: str, words: str, value: str) -> Line:
        return Line(column=Given(name=name, words=words, unit=None, value=value))

    def typed(name: str, words: str, how: str) -> Line:
        return Line(column=Reading(name=name, words=words, unit=None, wanted=False, how=how))

    return Form(
        key="job",
        title="The block",
        lines=(
            given("number", "Job", layout.job.block),
            given("engine", "Engine", engine.name),
            given("identity", "Book", layout.identity),
            given("material", "Material", engine.material),
            typed("casting", "Numbers on the casting", "Copy or photograph before any cut on the deck: they are machined away."),
            typed("owner", "Owner", "Who brought the block."),
            typed("received_on", "Received, as 2026-05-31", "Year-month-day."),
            Line(column=Result(name="state", words="State", unit=None, equation=verdicts.said_again,
                               inputs={"words": "decision.release_state"})),
        ),
    )  # fmt: skip


def _progress(layout: Layout) -> Table:
    wanted = {name: [place for place in layout.wanted() if place.at.sheet == name] for name in GROUPS.values()}
    sheets = [name for name, places in wanted.items() if places]
    numbers = {name: _down_columns(places) for name, places in wanted.items()}
    ticks = {name: [place.key for place in places if place.unit is None] for name, places in wanted.items()}
    ticked = [name for name in sheets if ticks[name]]

    def keys(row: str) -> list[str]:
        return [f"progress.{row}.numbers", *([f"progress.{row}.ticks"] if row in ticked else [])]

    return Table(
        key="progress",
        title="Readings taken",
        heading="Sheet",
        rows=[Row(name, name) for name in sheets],
        columns=(
            Given(name="wanted", words="wanted", unit="", value=lambda row: float(len(wanted[row]))),
            Result(name="numbers", words="sizes", unit="", equation=verdicts.readings_taken,
                   inputs={"readings": numbers.__getitem__}),
            Result(name="ticks", words="ticks", unit="", equation=verdicts.ticks_made, rows=ticked,
                   inputs={"ticks": ticks.__getitem__}),
            Result(name="taken", words="taken", unit="", equation=verdicts.taken_in_all, inputs={"counts": keys}),
        ),
    )  # fmt: skip


def _down_columns(places: list[Place]) -> list[str]:
    """The keys of the sizes column by column, so that they are counted over whole ranges."""
    sizes = [place for place in places if place.unit is not None]
    return [place.key for place in sorted(sizes, key=lambda place: (place.at.column, place.at.row))]


def _instruments(layout: Layout) -> Table:
    groups = [name for name in GROUPS if name != "holes" or layout.spec.holes]

    def words(name: str, heading: str, how: str) -> Reading:
        return Reading(name=name, words=heading, unit=None, wanted=False, how=how, width=16)

    return Table(
        key="instruments",
        title="Instruments",
        heading="For the readings of",
        note="Expanded uncertainty (k = 2) of one reading; blank counts as nought.",
        rows=[Row(name, GROUPS[name]) for name in groups],
        columns=(
            Reading(name="uncertainty", words="± (U)", unit=layout.unit_of, wanted=False, possible=lambda row: (0.0, convert(2.0, "mm", layout.unit_of(row))),
                    decimals=lambda row: layout.decimals_of(row) + 1, how="Expanded uncertainty of one reading."),
            Given(name="unit", words="unit", unit=None, value=layout.unit_of),
            words("instrument", "instrument", "What it is."),
            words("number", "its number", "As marked on it."),
        ),
    )  # fmt: skip
