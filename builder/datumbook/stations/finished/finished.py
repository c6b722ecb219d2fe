"""Finished: the block measured again when the work on it is done."""

from __future__ import annotations

from datumbook.cells.columns import Check, Input, Per, Result
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import standings, verdicts
from datumbook.stations.received import heights
from datumbook.stations.received.route import operations_of
from datumbook.stations.received.states import FINISHED
from datumbook.workbook.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the finished block."""
    parts = (
        _cuts(layout),
        *layout.stations.finished_bores.parts(),
        *(
            part
            for bank in layout.spec.rows
            for part in heights.Station(layout, FINISHED, bank).measured()
        ),
    )
    return Sheet(name="Finished", title="The finished block", parts=parts, stage="finished")


def _cuts(layout: Layout) -> Table:
    """Every cut that was intended is recorded as done, or was none."""
    sizes, known = layout.sizes("heights"), operations_of(layout.spec)
    cuts = {
        f"deck{bank.suffix}": (
            "deck",
            f"{bank.key}_plan.deck_cut" if bank.key else "plan.deck_cut",
            bank.words,
        )
        for bank in layout.spec.rows
    }
    cuts |= {
        "bottom_face": ("bottom_face", "plan.bottom_cut", ""),
        "line_bore": ("line_bore", "plan.crown_metal", ""),
    }
    cuts = {key: cut for key, cut in cuts.items() if cut[0] in known and cut[1] in layout.places}
    done: dict[str, Per[Input]] = {
        "intended": "cuts.{row}.intended",
        "done": lambda row: f"route.{cuts[row][0]}.done",
    }
    return Table(
        key="cuts",
        title="Cuts intended and made",
        heading="Cut",
        note="A cut that is still intended holds the job up until the Route sheet says it is done.",
        rows=[
            Row(key, " ".join(part for part in (known[cut].words, words) if part))
            for key, (cut, _, words) in cuts.items()
        ],
        columns=(
            sizes.result(
                "intended", "intended", standings.shown_again, value=lambda row: cuts[row][1]
            ),
            Result(
                name="made", words="made", unit=None, equation=verdicts.verdict_of_cut, inputs=done
            ),
            Check(of="made", judged=True, source="the plan and the route"),
        ),
    )
