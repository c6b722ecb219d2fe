"""Fits: every part held against the place it goes into, finished if that is measured, else as it is
planned.
"""

from __future__ import annotations

from datumbook.cells.tables import Form, Sheet, Table
from datumbook.stations.finished.bore_fits import CylinderFits
from datumbook.stations.finished.crowns import Crowns
from datumbook.stations.finished.running_fits import RunningFits


class Fits:
    """How the parts fit the block: in its bores, where they run, and at the top of the stroke."""

    def __init__(self, bores: CylinderFits, running: RunningFits, crowns: Crowns) -> None:
        self.bores, self.running, self.crowns = bores, running, crowns

    def sheet(self) -> Sheet:
        """The sheet of the fits."""
        return Sheet(
            name="Fits", title="How the parts fit the block", parts=self.parts(), stage="finished"
        )

    def parts(self) -> list[Table | Form]:
        """What is held against its place here, if anything; gudgeon pins stand with the parts."""
        return [*self.bores.parts(), *self.running.parts, *self.crowns.parts()]
