"""Schedule: the hole work in the order that spares changes: the tools in turn, and for each its
walk from hole to hole.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.columns import Column, Reading, Sizes
from datumbook.cells.tables import Prose, Row, Sheet, Table
from datumbook.equations import cutting, hole_safety, standings
from datumbook.equations.verdicts import DONE
from datumbook.optimise.tool_order import Stretch, ToolOrder, tool_order
from datumbook.stations.holes.hole_groups import Group, Groups, Steps, at_the_machine, row_word
from datumbook.workbook.layout import WHOLE, Layout

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


def sheet(layout: Layout) -> Sheet:
    """The sheet of the schedule."""
    groups = Groups(layout)
    order = order_of(groups)
    parts: list[Prose | Table] = [
        at_the_machine(),
        _changes(groups, order),
        *walks(groups, Steps(groups), order),
    ]
    return Sheet(
        name="Schedule", title="Schedule of hole work", parts=parts, how=HOW, widths={1: 18}
    )


def order_of(groups: Groups) -> ToolOrder:
    """The order of the tools over all groups."""
    return tool_order([one.chain for one in groups.all], groups.all[0].shop.spared)


def rows_of(groups: Groups, order: ToolOrder) -> list[str]:
    """The operations in the order of the tools, as rows."""
    work = [(number, place) for stretch in order.stretches for number, place in stretch.work]
    return [
        f"{one.spec.key}.{row_word(one.spec.operations[place])}"
        for number, place in work
        for one in [groups.all[number]]
    ]


def _changes(groups: Groups, order: ToolOrder) -> Prose:
    """The set-ups and the tools in turn, and what is done with each."""
    shop = groups.all[0].shop
    if order.fewest:
        said = FEWEST[shop.spared]
    else:
        said = f"no order can need fewer than {order.bound[0]} mounted and {order.bound[1]} set-ups"
    title = f"Tools in turn: {order.mounted} mounted, {order.set_ups} set-ups"
    lines = [
        *_turns(groups, order),
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
        f"{holes_in_words(groups.all[number])}: {', '.join(names)}"
        for number, names in by_group.items()
    ]
    return "; ".join(said)


def holes_in_words(group: Group) -> str:
    """The holes of a group, a long run by its ends."""
    names = group.spec.names
    return f"{names[0]} to {names[-1]} ({len(names)})" if len(names) > 3 else ", ".join(names)


def walks(groups: Groups, steps: Steps, order: ToolOrder) -> Iterator[Table]:
    """One table for each tool and group, in the order of the tools, with a line a hole."""
    number = 0
    for stretch in order.stretches:
        for at in dict.fromkeys(of for of, _ in stretch.work):
            number += 1
            operations = [
                groups.all[at].spec.operations[place] for of, place in stretch.work if of == at
            ]
            tool = (
                stretch.tool
                if any(groups.all[at].tool(name) == stretch.tool for name in operations)
                else "by hand"
            )
            yield _walk(groups.all[at], steps, operations, f"Walk {number}: {tool}")


def walk_key(group: Group, operations: Sequence[str]) -> str:
    """The key of a walk: its group and the first operation done on it."""
    return f"walk_{group.spec.key}_{row_word(operations[0])}"


def _walk(group: Group, steps: Steps, operations: Sequence[str], title: str) -> Table:
    return Table(
        key=walk_key(group, operations),
        title=title,
        heading="Hole",
        note="; ".join(
            [f"{group.spec.words}, {group.face_words} ({group.unit})", *_dangers(group, operations)]
        ),
        rows=[
            Row(name, f"{'▲ DANGER ' if group.spec.danger_of(name) else ''}{name}")
            for name in group.walk
        ],
        columns=tuple(_columns(group, steps, operations)),
    )


def _dangers(group: Group, operations: Sequence[str]) -> Iterator[str]:
    if "drill" in operations:
        for one in group.spec.danger:
            yield f"▲ {one.hole} stands over {one.over}: locked stop, drilled last"


def _columns(group: Group, steps: Steps, operations: Sequence[str]) -> Iterator[Column]:
    sizes = Sizes(group.unit, group.places, width=WIDE)
    yield from _place(group)
    for name in operations:
        if f"{group.spec.key}.{row_word(name)}" in steps.cuts:
            yield from _depths(group, sizes, walk_key(group, operations), name)
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


def _place(group: Group) -> Iterator[Column]:
    """Where the holes stand, along and across, in the unit of the coordinates."""
    places = dict(zip(group.spec.names, group.spec.places, strict=False))
    if not places:
        return
    unit = group.spec.places[0][0].unit
    sizes = Sizes(unit, 1 if unit == "mm" else 3, width=9.5)
    yield sizes.given("along", "along", lambda row: places[row][0])
    yield sizes.given("across", "across", lambda row: places[row][1])


def _depths(group: Group, sizes: Sizes, walk: str, name: str) -> Iterator[Column]:
    """The depth of a cut at each hole, no deeper than a dangerous one allows, and what the scale
    reads there.
    """
    step, column = f"stops.{group.spec.key}.{row_word(name)}", f"{row_word(name)}_depth"
    tip = name in ("drill", "insert drill")
    depth, heading = (
        (f"{step}.tip_depth", f"{name}: tip at") if tip else (f"{step}.depth", f"{name}: depth")
    )
    danger = [hole for hole in group.walk if name == "drill" and group.spec.danger_of(hole)]
    plain = [hole for hole in group.walk if hole not in danger]
    if danger:
        yield sizes.result(
            column,
            heading,
            hole_safety.held_back,
            danger,
            tip_depth=depth,
            deepest_tip="danger.{row}.deepest_tip",
        )
    if plain:
        yield sizes.result(column, heading, standings.shown_again, plain, value=depth)
    yield sizes.result(
        f"{row_word(name)}_stop",
        "SET STOP AT",
        cutting.stop_reading,
        quill="allowances.quill",
        face_reading=f"{step}.face_reading",
        depth=f"{walk}.{{row}}.{column}",
    )
