"""Schedule: the hole work in the order that spares changes: the tools in turn, and for each its
walk from hole to hole.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from datumbook.cells.columns import Column, Reading, Sizes
from datumbook.cells.tables import Prose, Row, Sheet, SheetPart, Table
from datumbook.equations import standings
from datumbook.equations.verdicts import DONE
from datumbook.optimise.tool_order import Stretch, ToolOrder
from datumbook.stations.holes.hole_groups import Group, Groups, Steps, at_the_machine, row_word
from datumbook.stations.holes.stops import Stops
from datumbook.workbook.layout import WHOLE

HOW = (
    "Tick each hole as the tool leaves it; what gauging finds is written on the Holes sheet. "
    "Depths are from the finished "
    "face; a stop reading holds for its touch on the Stops sheet alone."
)
WIDE = 11.5  # so that no heading is broken within a word
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

    def __init__(self, steps: Steps, stops: Stops | None) -> None:
        self.steps, self.stops = steps, stops

    def sheet(self) -> Sheet:
        """The sheet of the schedule."""
        parts: tuple[SheetPart, ...] = (at_the_machine(), _changes(self.steps), *self._walks())
        return Sheet(
            name="Schedule", title="Schedule of hole work", parts=parts, how=HOW, widths={1: 18}
        )

    def _walks(self) -> Iterator[Table]:
        """One table for each tool and group, in the order of the tools, with a line a hole."""
        number = 0
        for stretch in self.steps.order.stretches:
            for at in dict.fromkeys(of for of, _ in stretch.work):
                number += 1
                group = self.steps.groups.all[at]
                operations = [
                    group.spec.operations[place] for of, place in stretch.work if of == at
                ]
                at_hand = any(group.tool(name) == stretch.tool for name in operations)
                tool = stretch.tool if at_hand else "by hand"
                yield self._walk(group, operations, f"Walk {number}: {tool}")

    def _walk(self, group: Group, operations: Sequence[str], title: str) -> Table:
        said = (
            f"{group.spec.words}, {group.face_words} ({group.unit})",
            *_dangers(group, operations),
        )
        return Table(
            key=f"walk_{group.spec.key}_{row_word(operations[0])}",
            title=title,
            heading="Hole",
            note="; ".join(said),
            rows=[Row(name, f"{group.alarm(name)}{name}") for name in group.walk],
            columns=tuple(self._columns(group, operations)),
        )

    def _columns(self, group: Group, operations: Sequence[str]) -> Iterator[Column]:
        sizes = Sizes(group.unit, group.places, width=WIDE)
        yield from _place(group)
        for name in operations:
            if self.stops is not None and f"{group.spec.key}.{row_word(name)}" in self.steps.cuts:
                yield from _depths(group, sizes, self.stops, name)
            elif name == "start tap":
                yield sizes.given("thread_depth", "thread to", group.spec.thread_depth)
        for name in operations:
            yield Reading(
                name=row_word(name),
                words=f"{name}: done",
                unit=None,
                choices=(DONE,),
                wanted=False,
                width=WIDE,
                how=f"Type done when this hole has had: {name}.",
            )


def _changes(steps: Steps) -> Prose:
    """The set-ups and the tools in turn, and what is done with each."""
    shop, order = steps.groups.shop, steps.order
    if order.fewest:
        said = FEWEST[shop.spared]
    else:
        said = f"no order can need fewer than {order.bound[0]} mounted and {order.bound[1]} set-ups"
    title = f"Tools in turn: {order.mounted} mounted, {order.set_ups} set-ups"
    lines = [
        *_turns(steps.groups, order),
        ("Spared first", WHY[shop.spared]),
        ("How few there can be", said),
    ]
    return Prose(title=title, lines=lines, widths=(4, WHOLE))


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
    by_group: dict[int, list[str]] = {}
    for number, place in stretch.work:
        by_group.setdefault(number, []).append(groups.all[number].spec.operations[place])
    said = [
        f"{groups.all[number].holes_in_words}: {', '.join(names)}"
        for number, names in by_group.items()
    ]
    return "; ".join(said)


def _dangers(group: Group, operations: Sequence[str]) -> Iterator[str]:
    if {"drill", "insert drill"} & set(operations):
        for one in group.spec.danger:
            yield f"▲ {one.hole} stands over {one.over}: locked stop of its own, drilled last"


def _place(group: Group) -> Iterator[Column]:
    """Where the holes stand, along and across, in the unit of the coordinates."""
    places = dict(zip(group.spec.names, group.spec.places, strict=False))
    if not places:
        return
    unit = group.spec.places[0][0].unit
    sizes = Sizes(unit, 1 if unit == "mm" else 3, width=9.5)
    yield sizes.given("along", "along", lambda row: places[row][0])
    yield sizes.given("across", "across", lambda row: places[row][1])


def _depths(group: Group, sizes: Sizes, stops: Stops, name: str) -> Iterator[Column]:
    """The depth of a cut at each hole and where its stop is set, both from the Stops sheet."""
    again, word, step = standings.shown_again, row_word(name), f"{group.spec.key}.{row_word(name)}"
    heading = f"{name}: tip at" if step in stops.steps.drills else f"{name}: depth"
    yield sizes.result(f"{word}_depth", heading, again, value=partial(stops.goes_to, step))
    yield sizes.result(f"{word}_stop", "SET STOP AT", again, value=partial(stops.stop_of, step))
