"""Schedule: the hole work in the order that spares changes: the tools in turn, and for each its
walk from hole to hole.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import chain, groupby

from datumbook.cells.columns import Column, Equation, Input, Per, Result, Sizes, words
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Prose, Row, Sheet, SheetPart, Table
from datumbook.equations import openings, single_holes
from datumbook.optimise.tool_order import Stretch, ToolOrder
from datumbook.standards.oversize import BEYOND_CHART
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import GroupTable, picked_words, with_rows
from datumbook.stations.holes.hole_groups import Groups, Steps, at_the_machine, row_word
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.tools import Tools
from datumbook.stations.holes.walks import Walk, done, walks
from datumbook.workbook.placed import WHOLE

HOW_TO_DRILL = (
    "Mark the box of each hole by pen as the tool leaves it; what gauging finds is written on the "
    "Holes sheet. "
    "Depths are from the finished "
    "face; a stop reading holds for its touch below alone."
)
BOX = "□"
COLUMN_WIDTH = 11.5  # so that no heading is broken within a word
FEWEST = {
    "tool changes": "no order mounts fewer, and none that mounts as few has fewer set-ups",
    "set-ups": "no order has fewer set-ups, and none with as few mounts fewer",
}
WHY = {
    "tool changes": "tool changes, as each tool has its own zero and is touched off anew; then "
    "set-ups",
    "set-ups": "set-ups, as a block that is turned is levelled and trued anew; then tool changes",
}


class Schedule:
    """The walks: for each tool, the holes of each group in walking order."""

    def __init__(
        self, steps: Steps, opened: Openings, own: OwnLines, tools: Tools, stops: Stops
    ) -> None:
        self.steps, self.opened, self.own = steps, opened, own
        self.tools, self.stops = tools, stops

    def sheet(self) -> Sheet:
        """The sheet of the schedule."""
        parts: tuple[SheetPart, ...] = (
            at_the_machine(),
            *with_rows(self._decided()),
            _changes(self.steps),
            *self._walks(),
        )
        return Sheet(
            name="Schedule",
            read=True,
            title="Schedule of hole work",
            parts=parts,
            how=HOW_TO_DRILL,
            widths={1: 18},
        )

    def _walks(self) -> Iterator[Table]:
        """One table for each tool and group, in the order of the tools, with a line a hole; the
        walk of a dangerous hole is its line.
        """
        for _, several in groupby(walks(self.steps), lambda one: one.tool_key):
            yield self._walk(list(several))

    def _decided(self) -> Table:
        """The groups that may be opened at the bench: what that does to the tools below."""
        groups, opened = self.steps.groups, self.opened
        return GroupTable(
            groups,
            key="decided_tools",
            title="Opened at the bench",
            note="The order below is that of the drawing: a group that is opened keeps its walks, "
            "each with the tool that stands in its lines. A hole with a line of its own on the "
            "Threads sheet is left out of them: its walk stands on the Holes sheet.",
            only=groups.keys(lambda one: one.drill),
            turned=False,
            columns=(
                picked_words("opened_to", "opened to", opened.said(opened.options, "option")),
                Result(
                    name="said",
                    words="its tools",
                    equation=openings.tools_in_words,
                    inputs={"drill": lambda row: opened.drill_place[row], "option": opened.option},
                    width=40,
                ),
            ),
        )

    def _walk(self, several: Sequence[Walk]) -> Table:
        walk = several[0]
        group, operations = walk.group, walk.operations
        by_itself = {one.danger.hole: f", walk {one.number}" for one in several if one.danger}
        return Table(
            key=f"walk_{walk.tool_key}",
            title=_numbered(several),
            heading="Hole",
            note="; ".join(
                (
                    f"{group.spec.words}, {group.face_words} ({group.unit})",
                    *_probed(group, operations),
                    *_dangers(group, operations),
                )
            ),
            rows=[
                Row(name, f"{group.alarm(name)}{name}{by_itself.get(name, '')}")
                for name in group.walk
            ],
            columns=(
                *_place(group),
                self._tool(group, walk.held),
                *chain.from_iterable(self._depths(group, name) for name in operations),
                *map(_box, operations),
            ),
        )

    def _tool(self, group: GroupAtWork, operation: str | None) -> Result:
        """What is in the spindle at each hole, if anything is."""
        equation: Equation = single_holes.hand_unless_own
        inputs: dict[str, Per[Input]] = {"line": self._line}
        if operation is not None:
            tool = self.tools.tool[group.spec.key, row_word(operation)]
            equation, inputs["tool"] = single_holes.tool_unless_own, lambda _: tool
        return Result(name="tool", words="tool", equation=equation, inputs=inputs, width=22)

    def _line(self, hole: str) -> Key:
        """The line that decides a hole by itself."""
        return self.own.line[hole]

    def _depths(self, group: GroupAtWork, name: str) -> tuple[Column, ...]:
        """The depth of a cut at each hole and where its stop is set, both from the Stops sheet; of
        a thread its depth alone.
        """
        sizes, word = Sizes(group.unit, group.places, width=COLUMN_WIDTH), row_word(name)
        scale = self.steps.groups.scale
        unit = scale.unit(group.unit)
        on_scale = Sizes(unit, scale.places(unit), width=COLUMN_WIDTH)
        step, here = row_key(group.spec.key, word), single_holes.unless_own
        if step in self.steps.cuts:
            heading = f"{name}: tip at" if step in self.steps.drills else f"{name}: depth"
            goes_to, stop = partial(self.stops.goes_to, step), partial(self.stops.stop_of, step)
            return (
                on_scale.result(f"{word}_depth", heading, here, line=self._line, value=goes_to),
                on_scale.result(f"{word}_stop", "SET STOP AT", here, line=self._line, value=stop),
            )
        if name == "start tap":
            return (sizes.given("thread_depth", "thread to", group.spec.thread_depth),)
        return ()


def _numbered(several: Sequence[Walk]) -> str:
    """The title of walks with one tool at one group: the numbers of all of them."""
    first, last = several[0], several[-1]
    said = first.held or "by hand"
    alone = first if first.danger else several[1] if len(several) > 1 else None
    if alone is None:
        return first.title
    own = f"▲ {alone.number}" if alone is last else f"▲ {alone.number} to {last.number}"
    return f"Walk {own}: {said}" if alone is first else f"Walk {first.number}, {own}: {said}"


def _box(operation: str) -> Column:
    """A printed box for the pen where an operation is done at each hole; what counts is gauged."""
    return words(row_word(operation), operation, BOX, width=COLUMN_WIDTH)


def _changes(steps: Steps) -> Prose:
    """The set-ups and the tools in turn, and what is done with each."""
    shop, order = steps.groups.shop, steps.order
    if order.fewest:
        said = FEWEST[shop.spared]
    else:
        said = f"no order can need fewer than {order.bound[0]} mounted and {order.bound[1]} set-ups"
    return Prose(
        title=f"Tools in turn, as drawn: {order.mounted} mounted, {order.set_ups} set-ups",
        lines=[
            *_turns(steps.groups, order),
            ("Spared first", WHY[shop.spared]),
            ("How few there can be", said),
        ],
        widths=(4, WHOLE),
    )


def _turns(groups: Groups, order: ToolOrder) -> Iterator[tuple[str, ...]]:
    """One line a set-up and one a tool that is mounted; work that needs no change stands with the
    tool before it.
    """
    tool, face, mounted, turned = "", "", 0, 0
    for stretch in order.stretches:
        if stretch.face != face:
            face, turned = stretch.face, turned + 1
            yield (f"Set-up {turned}: {face} up",)
        if stretch.tool != tool:
            tool, mounted = stretch.tool, mounted + 1
            yield f"{mounted}. {tool}", _done(groups, stretch)
        else:
            yield tool or "no tool in the spindle", _done(groups, stretch)


def _done(groups: Groups, stretch: Stretch) -> str:
    """What a stretch does to each of its groups, in words."""
    return "; ".join(
        f"{group.holes_in_words}: {', '.join(names)}" for group, names in done(groups, stretch)
    )


def _probed(group: GroupAtWork, operations: Sequence[str]) -> Iterator[str]:
    if "drill" in operations:
        yield "first hole: probe its size before it is tapped, for the Threads sheet"
        if group.drill and group.made_by(group.drill, group.thread).oversize.beyond:
            yield f"what {group.drill.name} cuts over its size is {BEYOND_CHART}"


def _dangers(group: GroupAtWork, operations: Sequence[str]) -> Iterator[str]:
    if {"drill", "insert drill"} & set(operations):
        for one in group.spec.danger:
            yield f"▲ {one.hole} stands over {one.over}: locked stop of its own, drilled last"


def _place(group: GroupAtWork) -> tuple[Column, ...]:
    """Where the holes stand, along and across, in the unit of the coordinates."""
    if not group.centres:
        return ()
    unit = group.spec.places[0][0].unit
    sizes = Sizes(unit, 1 if unit == "mm" else 3, width=9.5)
    return (
        sizes.given("along", "along", lambda row: group.centres[row][0]),
        sizes.given("across", "across", lambda row: group.centres[row][1]),
    )
