"""The metal round a hole decided by itself: thread, relief, walls, thread engaged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain

from datumbook.cells.columns import Column
from datumbook.equations import (
    budget,
    drilled_holes,
    hole_safety,
    openings,
    single_holes,
    threads,
    tightening,
)
from datumbook.stations.holes.alike import Alike
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.choices import LARGEST
from datumbook.stations.holes.group_tables import picked_words, probed
from datumbook.stations.holes.hole_groups import PERCENT, RATIO
from datumbook.stations.holes.single_lines import SingleLines
from datumbook.stations.holes.single_table import SingleTable


class SingleMetal(SingleTable):
    """Thread, drill, relief, walls and engagement of each line."""

    thread: Column
    tool: Column
    major: Column
    pitch: Column
    diameter: Column
    relief_depth: Column
    least_depth: Column
    most_depth: Column
    thread_depth: Column

    def __init__(self, lines: SingleLines, alike: Alike, allowed: MetalAllowances) -> None:
        self._of_lines(lines, alike)
        self.allowed = allowed
        columns = chain(self._thread(), self._relief(), self._walls(), self._engaged())
        super().__init__(lines, "metal", "Thread, relief and metal left", columns)

    def _thread(self) -> Iterator[Column]:
        """Its thread and its drill, and what the drill leaves of both threads."""
        lines, sizes, value = self.lines, self.sizes, openings.value_at
        options, stand = lines.options, lines.stand
        yield picked_words("thread", "thread", self._said(lines.option, options, "thread"))
        yield picked_words("tool", "drill", self._said(lines.drill_row, stand, "tool"))
        yield sizes.result("major", "major diameter", value, **self._of_option("major"))
        yield sizes.result("pitch", "pitch", value, **self._of_option("pitch"))
        diameters = lines.all_of(stand, "diameter")
        yield sizes.result("diameter", "its size", value, place=lines.drill_row, values=diameters)
        oversizes = lines.all_of(stand, "oversize")
        yield sizes.result(
            "oversize", "it cuts over that", value, place=lines.drill_row, values=oversizes
        )
        yield sizes.result(
            "probable",
            "hole it makes, probably",
            drilled_holes.probable_hole,
            drill=self._cell("diameter"),
        )
        yield probed(replace(sizes, group="holes"), self._widest())
        yield sizes.result("hole_made", "hole counted on", drilled_holes.hole_counted_on)
        drilled = self._cell("hole_made")
        if all(one.thread.form.charted for one in lines.alike):
            share = threads.drill_chart_thread
            yield PERCENT.result("share", "thread by drill charts", share, hole=drilled)
        if all(one.thread.limit_class in LARGEST for one in lines.alike):
            yield sizes.result("least", "least hole", value, **self._of_option("least_hole"))
            yield sizes.result("largest", "largest hole", value, **self._of_option("largest_hole"))
            low, high = self._cell("least"), self._cell("largest")
            yield self._held("hole_made", known=self._cell("major"), low=low, high=high)
        yield self._taken("group_major", "its group's thread", "major")
        yield sizes.result("old_major", "thread that was there", single_holes.major_there)
        yield sizes.result(
            "groove_left", "old groove left", hole_safety.groove_left, new_hole=drilled
        )
        yield self._held("groove_left", known=self._cell("major"), high=self.allowed.nought)

    def _widest(self) -> float:
        """The widest of the groups it may be like."""
        return max(one.widest.to(self.unit) for one in self.lines.alike)

    def _relief(self) -> Iterator[Column]:
        """Its relief: typed, else its group's, grown with the thread."""
        lines, sizes, planned = self.lines, self.sizes, budget.as_planned
        yield self._taken("group_relief", "its group's relief", "relief")
        yield sizes.result(
            "relief_alike",
            "relief for its thread",
            single_holes.relief_alike,
            relief=self._cell("group_relief"),
        )
        yield sizes.result(
            "relief",
            "relief diameter",
            planned,
            typed=lines.relief_diameter,
            suggested=self._cell("relief_alike"),
        )
        yield self._taken("group_depth", "its group's relief depth", "relief_depth")
        yield self._taken("group_pitch", "its group's pitch", "pitch")
        yield sizes.result(
            "depth_alike",
            "depth for its thread",
            openings.relief_deepened,
            depth=self._cell("group_depth"),
            drawn_pitch=self._cell("group_pitch"),
        )
        yield sizes.result(
            "relief_depth",
            "relief depth",
            planned,
            typed=lines.relief_depth,
            suggested=self._cell("depth_alike"),
        )
        over = self._cell("major")
        yield self._held("relief", known=self._cell("relief"), low=over)
        yield self._taken("gasket_hole", "gasket hole", "gasket_hole")
        under = self._cell("relief")
        yield self._held("gasket_hole", known=self._cell("gasket_hole"), low=under)
        for name, end in (("least_depth", "minus"), ("most_depth", "plus")):
            least = end == "minus"
            yield self._taken(end, "may be shallower" if least else "may be deeper", end)
            equation = openings.relief_at_least if least else openings.relief_at_most
            heading = "relief not less deep than" if least else "nor deeper than"
            yield sizes.result(name, heading, equation, depth=self._cell("relief_depth"))

    def _walls(self) -> Iterator[Column]:
        """What it leaves of walls and edge, from the least of its group."""
        sizes, wall = self.sizes, single_holes.single_wall
        least = self.allowed.least_wall
        widest = [self._cell("major"), self._cell("relief")]
        yield sizes.result(
            "widest",
            "widest diameter",
            budget.most_of,
            sizes=lambda row: [one(row) for one in widest],
        )
        for apart, other, name, heading in (
            ("apart", "widest", "to_neighbour", "wall to its neighbour"),
            ("bore_apart", "bore", "to_bore", "wall to the bore"),
        ):
            yield self._taken(apart, f"{heading}: centres", apart)
            yield self._taken(f"{name}_width", f"{heading}: that is", other)
            yield sizes.result(
                name,
                heading,
                wall,
                centre_distance=self._cell(apart),
                diameter=self._cell("widest"),
                other_diameter=self._cell(f"{name}_width"),
            )
            yield self._held(name, known=self._cell(apart), low=least)
        yield self._taken("wall", "wall as stated", "wall")
        yield self._taken("there", "thread there now", "there")
        yield sizes.result(
            "wall_after",
            "wall after",
            single_holes.single_wall_after,
            old_diameter=self._cell("there"),
            new_diameter=self._cell("widest"),
        )
        yield self._held("wall_after", known=self._cell("wall"), low=least)
        yield self._taken("edge", "centre to edge", "edge")
        yield RATIO.result(
            "edge_in_diameters",
            "in diameters",
            hole_safety.edge_in_diameters,
            edge_distance=self._cell("edge"),
        )
        yield self._held("edge_in_diameters", known=self._cell("edge"), low=self.allowed.least_edge)

    def _engaged(self) -> Iterator[Column]:
        """The thread that will hold, against what the rule of its group wants."""
        sizes = self.sizes
        yield self._taken("thread_depth", "thread to", "thread_depth")
        yield self._taken("length_in_hole", "fastener in the hole", "in_hole")
        yield RATIO.result(
            "incomplete_end",
            "incomplete at its end, pitches",
            openings.value_at,
            place=self.lines.group,
            values=self.alike.cells("incomplete_end"),
        )
        yield sizes.result(
            "thread_on_fastener", "full thread on it to", tightening.thread_on_fastener
        )
        mouth = self._cell("relief_depth")
        if self.alike.spoiled:
            yield self._taken("group_mouth", "its group's mouth, no full thread to", "mouth")
            cuts = [self._cell("relief_depth"), self._cell("group_mouth")]
            yield sizes.result(
                "mouth",
                "no full thread to",
                tightening.incomplete_mouth,
                depths=lambda row: [one(row) for one in cuts],
            )
            mouth = self._cell("mouth")
        yield sizes.result(
            "engaged_length",
            "thread engaged",
            hole_safety.engaged_length,
            length_in_hole=self._cell("thread_on_fastener"),
            relief=mouth,
        )
        diameters = self.alike.cells("diameters")
        yield RATIO.result(
            "diameters",
            "wanted, in diameters",
            openings.value_at,
            place=self.lines.group,
            values=diameters,
        )
        yield sizes.result("needed", "needed by it", hole_safety.engagement_by_diameters)
        low = self._cell("needed")
        yield self._held("engaged_length", known=self._cell("needed"), low=low)
