"""Plan: what is to be cut, decided before the spindle starts, and what that is worked out from."""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.columns import Result
from datumbook.cells.tables import CLOSE_ROW_PIXELS, Form, Row, Sheet, Table
from datumbook.equations.standings import said_again, shown_again
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.face_corners import SetUpsCompared
from datumbook.stations.decided.resources import Faced
from datumbook.stations.decided.work_off import WorkOff


def plan_of_cuts(
    cuts: Cuts | None, boring: BorePlan | None, further: Sequence[Form], budget: MetalBudget
) -> Sheet | None:
    """The page on which cuts and boring are decided, in the order of the work; beside them what
    they leave. None where a job measures neither heights nor bores.
    """
    decided = [
        *(cuts.decisions() if cuts else ()),
        *([boring.each] if boring and boring.anything else ()),
    ]
    if not decided:
        return None
    return Sheet(
        name="Plan",
        read=True,
        title="Plan of the cuts",
        parts=decided,
        beside=[
            *(cuts.left() if cuts else ()),
            *further,
            *([_spared(budget)] if budget.lines else ()),
        ],
        stage="planned",
        row_pixels=CLOSE_ROW_PIXELS,
        one_page=True,
        penned=[one for one in decided if not isinstance(one, SetUpsCompared)],
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
    work: WorkOff,
    faced: Faced | None,
    further: Sequence[Table],
    boring: BorePlan | None,
    forecasts: Sequence[Table],
) -> Sheet | None:
    """What the plan is worked out from, and what it does to compression and cam drive."""
    below = [
        *((faced.stacks, work, *faced.cuts.workings(), *further) if faced else ()),
        *(boring.workings() if boring else ()),
        *(faced.knock_on.parts() if faced else ()),
    ]
    if not (forecasts or below):
        return None
    return Sheet(
        name="Workings",
        read=True,
        title="How the plan is worked out",
        parts=forecasts,
        below=below,
        stage="planned",
    )
