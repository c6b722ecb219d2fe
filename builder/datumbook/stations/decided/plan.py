"""Plan: the cuts intended, and what they leave, before the spindle starts."""

from __future__ import annotations

from datumbook.cells.tables import Sheet
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn


class PlanOfCuts:
    """The sheet on which cuts and boring are decided."""

    def __init__(self, cuts: Cuts, boring: BorePlan, knock_on: KnockOn) -> None:
        self.cuts, self.boring, self.knock_on = cuts, boring, knock_on

    def sheet(self) -> Sheet:
        """The sheet of the plan."""
        parts = [*self.cuts.parts(), *self.boring.parts(), *self.knock_on.parts()]
        return Sheet(name="Plan", title="Plan of the cuts", parts=parts, stage="planned")
