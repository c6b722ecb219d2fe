"""Stops: where the quill's stop is set for each cutting operation, and for each hole that must not
break through.
"""

from __future__ import annotations

from datumbook.cells.columns import Column, Input, words
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Row, Sheet, SheetPart, Table
from datumbook.equations import cutting, hole_safety, single_holes, standings
from datumbook.stations.holes.allowances import DepthAllowances
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import held, with_rows
from datumbook.stations.holes.hole_groups import Steps, at_the_machine, row_word
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stop_settings import StopSettings, after_the_cut
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tools import Tools
from datumbook.stations.holes.touches import SetUps, touches


class DangerHoles(Table):
    """The holes over a gallery or a sealing face: how deep no tip may go, how deep it goes, and the
    stop for that.
    """

    floor: Column
    deepest_tip: Column
    held_back: Column
    tip_depth: Column
    set_depth: Column
    stop_reading: Column

    def __init__(
        self, steps: Steps, allowed: DepthAllowances, settings: StopSettings, own: OwnLines
    ) -> None:
        self.steps = steps
        self.drillings = {
            self.row_of(row, one.hole): (row, one)
            for row in steps.drills
            for one in steps.apart(row)
        }
        found, sizes = self.drillings, steps.groups.sizes_by(self._group)
        on_scale = steps.groups.scale.set(lambda row: self._group(row).unit)

        def step(row: str) -> Input:
            return allowed.step(self._group(row).unit)

        deepest = sizes.result(
            "deepest_tip", "NO TIP BELOW", hole_safety.deepest_tip, least_floor=allowed.least_floor
        )
        planned = sizes.result(
            "tip_depth",
            "planned for the group",
            standings.shown_again,
            value=lambda row: settings.tip_depth[found[row][0]],
        )
        sent = sizes.result(
            "held_back",
            "its tip, at most",
            single_holes.held_back_unless_own,
            line=lambda row: own.line[found[row][1].hole],
        )
        super().__init__(
            key="danger",
            title="▲ DANGER: these holes must not break through",
            heading="Hole",
            note=f"Stop: {steps.groups.shop.stop}. Drill them last, each to the stop set here and "
            "to no other, tip measured from the finished face, stop tried on another hole first. "
            "The measured depth is judged on the Holes sheet. Blank: a line of its own decides it.",
            rows=[
                Row(key, f"▲ {one.hole}, {self._drilling(key, row)}")
                for key, (row, one) in found.items()
            ],
            columns=(
                words("over", "what lies below", lambda row: found[row][1].over, width=16),
                *after_the_cut(
                    sizes,
                    "face to it, drawing",
                    lambda row: found[row][1].floor,
                    lambda row: self._group(row).planned_cut,
                    list(found),
                ),
                deepest,
                sizes.result(
                    "deepest_full_depth",
                    "full depth at that",
                    hole_safety.deepest_full_depth,
                    drill_point=lambda row: settings.drill_point[found[row][0]],
                ),
                *held(
                    planned,
                    lambda row: f"break-through limit: {found[row][1].over} below",
                    high=deepest,
                ),
                sent,
                on_scale.result(
                    "set_depth",
                    "ITS TIP GOES TO",
                    cutting.depth_on_scale,
                    depth=sent,
                    stop_scale=step,
                ),
                on_scale.result(
                    "stop_reading",
                    "SET STOP AT",
                    cutting.stop_reading,
                    quill=allowed.quill,
                    face_reading=lambda row: settings.face_reading[found[row][0]],
                    stop_scale=step,
                ),
            ),
        )

    def row_of(self, row: str, hole: str) -> str:
        """The row of a dangerous hole at a drilling; at the first it has the hole's own name."""
        group, operation = self.steps.by_row[row]
        again = operation != "drill" and "drill" in group.spec.operations
        return row_key(hole, row_word(operation)) if again else hole

    def _group(self, row: str) -> GroupAtWork:
        """The group of a row of dangerous holes."""
        return self.steps.by_row[self.drillings[row][0]][0]

    def _drilling(self, key: str, row: str) -> str:
        """The group of a dangerous hole, the drilling where it is not the first, and the unit."""
        group, operation = self.steps.by_row[row]
        which = f": {operation}" if "." in key else ""
        return f"{group.spec.words}{which} ({group.unit})"


class Stops:
    """The depths of every cutting operation, and where the quill's stop is set for each."""

    def __init__(
        self, steps: Steps, threads: ThreadHoles, reliefs: Reliefs, tools: Tools, own: OwnLines
    ) -> None:
        self.steps, self.allowances = (
            steps,
            DepthAllowances(steps.groups.basis, steps.groups.scale, steps.groups.units),
        )
        self.settings = StopSettings(steps, self.allowances, threads, reliefs, tools)
        self.danger = DangerHoles(steps, self.allowances, self.settings, own)

    def goes_to(self, row: str, hole: str) -> Key:
        """How deep an operation is sent at a hole, on a line of the scale: a drill with its tip,
        held back in a dangerous hole; another cut with its full depth.
        """
        if hole not in self.steps.together(row):
            return self.danger.set_depth[self.danger.row_of(row, hole)]
        return self.settings.set_depth[row]

    def stop_of(self, row: str, hole: str) -> Key:
        """What the scale reads there: the one place where the stop of a hole is worked out."""
        if hole not in self.steps.together(row):
            return self.danger.stop_reading[self.danger.row_of(row, hole)]
        return self.settings.stop_reading[row]

    def sheet(self, forbidden: Table) -> Sheet:
        """The sheet of the depth stops, with what forbids a cut."""
        set_ups = SetUps(self.steps)
        parts: tuple[SheetPart, ...] = (
            at_the_machine(),
            self.allowances,
            self.settings,
            *with_rows(self.danger),
            forbidden,
            set_ups,
            touches(self.steps, self.allowances, self.settings, set_ups),
        )
        return Sheet(read=True, name="Stops", title="Depths and stops", parts=parts, widths={1: 30})
