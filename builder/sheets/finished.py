"""Finished: the block measured again when the work on it is done."""

from __future__ import annotations

from builder.equations import verdicts
from builder.layout import Layout
from builder.sheets import bores, heights
from builder.sheets.route import operations_of
from builder.sheets.states import FINISHED
from builder.table import Check, Result, Row, Sheet, Table


def sheet(layout: Layout) -> Sheet:
    """The sheet of the finished block."""
    parts = (
        _cuts(layout),
        bores.bored_to(layout),
        bores.readings(layout, FINISHED),
        bores.each(layout, FINISHED),
        *heights.Station(layout, FINISHED).measured(),
    )
    return Sheet(name="Finished", title="The finished block", parts=parts, stage="finished", widths={7: 46})


def _cuts(layout: Layout) -> Table:
    """Every cut that was intended is recorded as done, or was none."""
    sizes = layout.sizes("heights")
    intended = {"deck": "deck_cut", "bottom_face": "bottom_cut", "line_bore": "crown_metal"}
    known = {key: one for key, one in operations_of(layout.spec).items() if key in intended}
    done = {"intended": "cuts.{row}.intended", "done": "route.{row}.done"}
    return Table(
        key="cuts",
        title="Cuts intended and made",
        heading="Cut",
        note="A cut that is still intended holds the job up until the Route sheet says it is done.",
        rows=[Row(key, one.words) for key, one in known.items()],
        columns=(
            sizes.result("intended", "intended", verdicts.shown_again, value=lambda row: f"plan.{intended[row]}"),
            Result(name="made", words="made", unit=None, equation=verdicts.verdict_of_cut, inputs=done),
            Check(of="made", judged=True, source="the plan and the route"),
        ),
    )
