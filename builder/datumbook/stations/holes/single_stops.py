"""Depths and stops of a hole decided by itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from datumbook.cells.columns import Column, Sizes
from datumbook.equations import cutting, hole_safety, openings, single_holes
from datumbook.numbers.units import convert
from datumbook.stations.holes.alike import Alike, SingleDangers
from datumbook.stations.holes.allowances import DepthAllowances
from datumbook.stations.holes.group_tables import picked_words
from datumbook.stations.holes.single_lines import SingleLines
from datumbook.stations.holes.single_metal import SingleMetal
from datumbook.stations.holes.single_table import SingleTable
from datumbook.stations.holes.tools import speed_of
from datumbook.stations.received.shown import shown_words


class SingleStops(SingleTable):
    """How deep each line goes, and where its stops are set."""

    floor: Column
    deepest_tip: Column

    def __init__(
        self,
        lines: SingleLines,
        alike: Alike,
        dangers: SingleDangers,
        metal: SingleMetal,
        allowed: DepthAllowances,
    ) -> None:
        self._of_lines(lines, alike)
        self.dangers, self.metal, self.depths = dangers, metal, allowed
        self.group = lines.alike[0]
        columns = chain(self._depth(), self._at_the_machine())
        super().__init__(lines, "stops", "Depths and stops", columns)

    def _depth(self) -> Iterator[Column]:
        """How deep its drill goes, over a gallery no deeper than that allows."""
        sizes, allowed, metal = self.sizes, self.depths, self.metal
        thread = {"thread_depth": metal.thread_depth, "pitch": metal.pitch}
        yield sizes.result(
            "full_depth",
            "full depth wanted",
            cutting.drilled_depth,
            tap_lead=allowed.tap_lead,
            chip_room=allowed.chip_room,
            **thread,
        )
        point = cutting.drill_point
        yield sizes.result(
            "drill_point",
            "drill point",
            point,
            diameter=metal.diameter,
            point_angle=allowed.point_angle,
        )
        yield sizes.result("tip_depth", "depth at the tip, wanted", cutting.tip_depth)
        yield from self._floor()
        tip = hole_safety.deepest_tip
        yield sizes.result("deepest_tip", "NO TIP BELOW", tip, least_floor=allowed.least_floor)
        limit = self._cell("deepest_tip")
        yield self._held("tip_depth", known=self.metal.major, high=limit)
        yield sizes.result("held_back", "ITS TIP GOES TO", hole_safety.held_back)
        yield sizes.result(
            "full_there",
            "full depth at that",
            hole_safety.deepest_full_depth,
            deepest_tip=self._cell("held_back"),
        )
        yield Sizes("", 1).result(
            "lead_room",
            "room for lead, pitches",
            hole_safety.lead_room,
            full_depth=self._cell("full_there"),
            chip_room=allowed.chip_room,
            **thread,
        )
        yield Sizes(None, 0).result(
            "tap_that_fits", "tap that finishes it", hole_safety.tap_that_fits, **allowed.leads
        )

    def _floor(self) -> Iterator[Column]:
        """The floor below it: its own where the spec has one for it, else its group's."""
        sizes, dangers, hole = self.sizes, self.dangers, self.lines.hole
        if not dangers.found:
            yield self._taken("floor", "face to void", "floor")
            return
        yield self._taken("group_floor", "face to void, its group", "floor")
        yield Sizes("", 0).result(
            "danger",
            "▲ which below",
            openings.place_among,
            typed=hole,
            usual=hole,
            choices=dangers.cells("name"),
        )
        yield picked_words(
            "over", "▲ over", {"place": self._cell("danger"), "lines": dangers.cells("over")}
        )
        yield sizes.result(
            "floor",
            "face to void",
            single_holes.own_or_shared,
            line=self._cell("danger"),
            shared=self._cell("group_floor"),
            own=dangers.cells("floor"),
        )

    def _at_the_machine(self) -> Iterator[Column]:
        """Speed and feed of its drill, and where its stops are set."""
        sizes, quill, lines = self.sizes, self.depths.quill, self.lines
        yield shown_words("tool", "drill", self.metal.tool)
        speed = speed_of(self.group, "drill")
        if speed is not None:
            spindle = cutting.spindle_speed
            yield Sizes("1/min", 0).result(
                "spindle_speed",
                "spindle",
                spindle,
                cutting_speed=speed,
                diameter=self.metal.diameter,
            )
        yield picked_words("feed", "feed a turn", self._said(lines.drill_row, lines.stand, "feed"))
        for key, tool, depth in (
            ("", "drill", self._cell("held_back")),
            ("relief_", "counterbore", self.metal.relief_depth),
        ):
            yield sizes.reading(
                f"{key}touch_reading",
                f"{tool}: scale at touch",
                how="Quill scale with this tool on the face through the feeler.",
                wanted=False,
                possible=(-1000.0, 1000.0),
            )
            yield sizes.reading(
                f"{key}feeler",
                f"{tool}: feeler",
                how="Feeler between tool and face; 0 if none.",
                wanted=False,
                possible=(0.0, convert(1.0, "mm", self.unit)),
            )
            yield sizes.result(
                f"{key}face_reading",
                f"{tool}: scale at face",
                cutting.face_reading,
                touch_reading=self._cell(f"{key}touch_reading"),
                feeler=self._cell(f"{key}feeler"),
                quill=quill,
            )
            yield sizes.result(
                f"{key}stop_reading",
                f"{tool}: SET STOP AT",
                cutting.stop_reading,
                face_reading=self._cell(f"{key}face_reading"),
                depth=depth,
                quill=quill,
            )
