"""Plan: what is to be cut, decided before the spindle starts, and what that is worked out from."""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.columns import Result
from datumbook.cells.tables import CLOSE_ROW_PIXELS, Form, Row, Sheet, Table
from datumbook.equations.standings import said_again, shown_again
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.decided.work_off import WorkOff


def plan_of_cuts(
    cuts: Cuts, boring: BorePlan, further: Sequence[Form], budget: MetalBudget
) -> Sheet:
    """The page on which cuts and boring are decided, in the order of the work; beside them what
    they leave.
    """
    return Sheet(
        name="Plan",
        title="Plan of the cuts",
        parts=[*cuts.decisions(), boring.each],
        beside=[*cuts.left(), *further, _spared(budget)],
        stage="planned",
        row_pixels=CLOSE_ROW_PIXELS,
        one_page=True,
    )


def _spared(budget: MetalBudget) -> Table:
    """What the plan leaves of each resource, as the budget has it."""
    spare = budget.spare
    return Table(
        key="spared",
        title="What is left of the metal",
        heading="Resource",
        rows=[Row(one.key, one.words) for one in budget.lines.values()],
        columns=(
            budget.unit(),
            budget.sizes.result("left", "to spare", shown_again, value=lambda row: spare[row]),
            Result(
                name="standing",
                words="verdict",
                unit=None,
                equation=said_again,
                inputs={"words": lambda row: spare.verdict[row]},
            ),
        ),
    )


def workings_of_plan(
    stacks: StacksInHand,
    work: WorkOff,
    cuts: Cuts,
    further: Sequence[Table],
    boring: BorePlan,
    knock_on: KnockOn,
) -> Sheet:
    """What the plan is worked out from, and what it does to compression and cam drive."""
    return Sheet(
        name="Workings",
        title="How the plan is worked out",
        parts=[
            stacks,
            work,
            *cuts.workings(),
            *further,
            *boring.shifts.values(),
            *knock_on.parts(),
        ],
        stage="planned",
    )
