"""Depths and stops of a hole decided by itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from datumbook.cells.columns import Column, Result, Sizes
from datumbook.equations import (
    cutting,
    forbidden_cuts,
    hole_safety,
    openings,
    single_holes,
    spindle_speeds,
)
from datumbook.numbers.units import convert
from datumbook.stations.holes.alike import Alike, SingleDangers
from datumbook.stations.holes.allowances import DepthAllowances
from datumbook.stations.holes.group_tables import picked_words
from datumbook.stations.holes.single_lines import SingleLines
from datumbook.stations.holes.single_metal import SingleMetal
from datumbook.stations.holes.single_table import SingleTable
from datumbook.stations.holes.stop_settings import no_deeper
from datumbook.stations.holes.tools import speed_of, speed_to_set
from datumbook.stations.received.shown import shown_words


class SingleStops(SingleTable):
    """How deep each line goes, and where its stops are set."""

    floor: Column
    deepest_tip: Column
    drill_point: Column

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
        self.group, self.step = lines.alike[0], allowed.step(lines.unit)
        self.on_scale = allowed.scale.set(lambda _: lines.unit)
        columns = chain(self._warning(), self._depth(), self._at_the_machine())
        super().__init__(lines, "stops", "Depths and stops", columns)

    def _warning(self) -> Iterator[Column]:
        """What stands against the line, by the verdicts on all that is planned of it."""
        said = forbidden_cuts.line_forbidden
        verdicts = {"verdicts": lambda row: [*self.metal.verdicts(row), *self.verdicts(row)]}
        yield Result(name="forbidden", words="WARNING", equation=said, inputs=verdicts)

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
        yield sizes.result(
            "deepest_tip", "floor less its least", tip, least_floor=allowed.least_floor
        )
        yield no_deeper(sizes, "no_tip_below", "NO TIP BELOW", self._cell("deepest_tip"))
        yield self.on_scale.result(
            "set_depth", "ITS TIP GOES TO", cutting.held_back_on_scale, stop_scale=self.step
        )
        yield sizes.result(
            "full_there",
            "full depth for certain",
            cutting.full_depth_reached,
            set_depth=self._cell("set_depth"),
            before=self._cell("drill_point"),
            stop_scale=self.step,
        )
        yield sizes.result(
            "least_full_depth",
            "and not less than",
            cutting.least_full_depth,
            tap_lead=allowed.tap_lead,
            **thread,
        )
        yield self._held("full_there", known=self.metal.major, low=self._cell("least_full_depth"))
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
        quill, lines = self.depths.quill, self.lines
        yield shown_words("tool", "drill", self.metal.tool)
        speed = speed_of(self.group, "drill")
        if speed is not None:
            spindle = spindle_speeds.spindle_speed
            yield Sizes("1/min", 0).result(
                "spindle_speed",
                "spindle, most",
                spindle,
                cutting_speed=speed,
                diameter=self.metal.diameter,
            )
            yield speed_to_set(self.group.shop)
        yield picked_words("feed", "feed a turn", self._said(lines.drill_row, lines.stand, "feed"))
        yield self.on_scale.result(
            "relief_set_depth",
            "relief sent to",
            cutting.relief_on_scale,
            depth=self.metal.relief_depth,
            least=self.metal.least_depth,
            most=self.metal.most_depth,
            stop_scale=self.step,
        )
        worked_in, scale = lines.unit, self.depths.scale
        read = scale.read(lambda _: worked_in)
        for key, tool in (("", "drill"), ("relief_", "counterbore")):
            yield read.reading(
                f"{key}touch_reading",
                f"{tool}: scale at touch",
                how="Quill scale with this tool on the face through the feeler.",
                wanted=False,
                possible=(-1000.0, 1000.0),
            )
            yield read.reading(
                f"{key}feeler",
                f"{tool}: feeler",
                how="Feeler between tool and face; 0 if none.",
                wanted=False,
                possible=(0.0, convert(1.0, "mm", scale.unit(worked_in))),
            )
            yield read.result(
                f"{key}face_reading",
                f"{tool}: scale at face",
                cutting.face_reading,
                touch_reading=self._cell(f"{key}touch_reading"),
                feeler=self._cell(f"{key}feeler"),
                quill=quill,
            )
            yield self.on_scale.result(
                f"{key}stop_reading",
                f"{tool}: SET STOP AT",
                cutting.stop_unless_forbidden,
                forbidden=self._cell("forbidden"),
                face_reading=self._cell(f"{key}face_reading"),
                set_depth=self._cell(f"{key}set_depth"),
                stop_scale=self.step,
                quill=quill,
            )
