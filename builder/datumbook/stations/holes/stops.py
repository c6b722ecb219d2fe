"""Stops: where the quill's stop is set for each cutting operation, and for each hole that must not
break through.
"""

from __future__ import annotations

from datumbook.cells.handles import Key
from datumbook.cells.tables import Sheet, SheetPart
from datumbook.stations.holes.allowances import DepthAllowances
from datumbook.stations.holes.danger_holes import DangerHoles, DangerTaps
from datumbook.stations.holes.forbidden import ForbiddenCuts
from datumbook.stations.holes.group_tables import with_rows
from datumbook.stations.holes.hole_groups import Steps, at_the_machine
from datumbook.stations.holes.hole_walls import HoleWalls
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stop_settings import StopSettings
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tools import Tools
from datumbook.stations.holes.touches import SetUps, touches


class Stops:
    """The depths of every cutting operation, and where the quill's stop is set for each that is not
    forbidden.
    """

    def __init__(
        self,
        steps: Steps,
        threads: ThreadHoles,
        reliefs: Reliefs,
        walls: HoleWalls,
        tools: Tools,
        own: OwnLines,
    ) -> None:
        self.steps, groups = steps, steps.groups
        self.allowances = DepthAllowances(groups.basis, groups.scale, groups.units)
        self.settings = StopSettings(steps, self.allowances, threads, reliefs, tools)
        self.danger = DangerHoles(steps, self.allowances, self.settings, own)
        self.taps = DangerTaps(steps, self.allowances, self.danger)
        self.forbidden = ForbiddenCuts(steps, self.settings, self.danger, walls, reliefs, threads)
        self.settings.forbidden = self.danger.forbidden = self.forbidden.said

    def goes_to(self, row: str, hole: str) -> Key:
        """How deep an operation is sent at a hole, on a line of the scale: a drill with its tip,
        held back in a dangerous hole; another cut with its full depth. Blank where it is forbidden.
        """
        return self.forbidden.goes_to[self.forbidden.row_of(row, hole)]

    def stop_of(self, row: str, hole: str) -> Key:
        """What the scale reads there: the one place where the stop of a hole is worked out."""
        if hole not in self.steps.together(row):
            return self.danger.stop_reading[self.danger.row_of(row, hole)]
        return self.settings.stop_reading[row]

    def sheet(self) -> Sheet:
        """The sheet of the depth stops, with what forbids a cut."""
        set_ups = SetUps(self.steps)
        parts: tuple[SheetPart, ...] = (
            at_the_machine(),
            self.allowances,
            self.settings,
            *with_rows(self.danger, self.taps),
            self.forbidden,
            set_ups,
            touches(self.steps, self.allowances, self.settings, set_ups),
        )
        return Sheet(read=True, name="Stops", title="Depths and stops", parts=parts, widths={1: 30})
