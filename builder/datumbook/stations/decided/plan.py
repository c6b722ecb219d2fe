"""Plan: what is to be cut, decided before the spindle starts, and what that is worked out from."""

from __future__ import annotations

from datumbook.cells.tables import Form, Sheet, Table
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.decided.work_off import WorkOff


def plan_of_cuts(cuts: Cuts, further: list[Form], boring: BorePlan) -> Sheet:
    """The page on which cuts and boring are decided, in the order of the work."""
    return Sheet(
        name="Plan",
        title="Plan of the cuts",
        parts=[*cuts.decisions(), *further, *boring.parts()],
        stage="planned",
    )


def workings_of_plan(
    stacks: StacksInHand, work: WorkOff, cuts: Cuts, further: list[Table], knock_on: KnockOn
) -> Sheet:
    """What the plan is worked out from, and what it does to compression and cam drive."""
    return Sheet(
        name="Workings",
        title="How the plan is worked out",
        parts=[stacks, work, *cuts.workings(), *further, *knock_on.parts()],
        stage="planned",
    )
