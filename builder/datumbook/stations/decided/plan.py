"""Plan: the cuts intended, and what they leave, before the spindle starts."""

from __future__ import annotations

from datumbook.cells.tables import Sheet
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn


def plan_of_cuts(cuts: Cuts, boring: BorePlan, knock_on: KnockOn) -> Sheet:
    """The sheet on which cuts and boring are decided."""
    return Sheet(
        name="Plan",
        title="Plan of the cuts",
        parts=[*cuts.parts(), *boring.parts(), *knock_on.parts()],
        stage="planned",
    )
