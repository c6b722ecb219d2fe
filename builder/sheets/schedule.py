"""Schedule: the hole work in the order that spares tool changes and set-ups, and for each tool its walk from hole to hole."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import cutting
from builder.layout import WHOLE, Layout
from builder.quantities import Quantity, read_quantity
from builder.sheets.hole_groups import Group, Groups, Steps, at_the_machine, row_word
from builder.sheets.walks import walks
from builder.standards import table
from builder.standards.cutting import cutting_speed, feed, lubricant
from builder.table import Column, Given, Prose, Result, Sheet, Table, words
from builder.tool_order import Stretch, ToolOrder, tool_order

WHY = {
    "tool changes": "Spared first: tool changes, as each tool has its own zero and is touched off anew; then set-ups.",
    "set-ups": "Spared first: set-ups, as a block that is turned is levelled and trued anew; then tool changes.",
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the schedule."""
    groups = Groups(layout)
    steps, order = Steps(groups), order_of(groups)
    rows = rows_of(groups, order)
    parts: list[Prose | Table] = [at_the_machine(), _changes(groups, order), _lubricants(steps, rows)]
    parts += [_operations(steps, rows), *walks(groups, steps, order)]
    return Sheet(name="Schedule", title="Schedule of hole work", parts=parts, widths={1: 30})


def order_of(groups: Groups) -> ToolOrder:
    """The order of the tools over all groups."""
    return tool_order([one.chain for one in groups.all], groups.all[0].shop.spared)


def rows_of(groups: Groups, order: ToolOrder) -> list[str]:
    """The operations in the order of the tools, as rows."""
    work = [(number, place) for stretch in order.stretches for number, place in stretch.work]
    return [f"{one.spec.key}.{row_word(one.spec.operations[place])}" for number, place in work
            for one in [groups.all[number]]]  # fmt: skip


def _changes(groups: Groups, order: ToolOrder) -> Prose:
    """The set-ups and the tools in turn, and what is done with each."""
    shop = groups.all[0].shop
    if order.fewest:
        said = "no order needs fewer of either"
    else:
        said = f"no order can need fewer than {order.bound[0]} and {order.bound[1]}"
    title = f"Tools in turn: {order.mounted} mounted, {order.set_ups} set-ups; {said}"
    return Prose(title=title, lines=[*_turns(groups, order), (WHY[shop.spared],)], widths=(2, WHOLE))


def _turns(groups: Groups, order: ToolOrder) -> Iterator[tuple[str, ...]]:
    """One line a set-up and one a tool that is mounted; work that needs no change stands with the tool before it."""
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
    said = [f"{holes_in_words(groups.all[number])}: {', '.join(names)}" for number, names in by_group.items()]
    return "; ".join(said)


def holes_in_words(group: Group) -> str:
    """The holes of a group, a long run by its ends."""
    names = group.spec.names
    return f"{names[0]} to {names[-1]} ({len(names)})" if len(names) > 3 else ", ".join(names)


def _operations(steps: Steps, rows: list[str]) -> Table:
    return Table(
        key="schedule",
        title="Operations, tool by tool",
        heading="Group and operation",
        note="No operation comes before the one it follows in its hole; what is done by hand is done while its face is up. "
        "Diameters in both systems, speeds in ft/min or m/min, feeds a turn. The walks from hole to hole follow.",
        rows=steps.rows(rows),
        columns=tuple(_columns(steps)),
        repeated=True,
    )


def _columns(steps: Steps) -> Iterator[Column]:
    yield words("tool", "tool", steps.of(lambda one, name: one.tool(name)), width=24)
    yield words("holes", "holes", steps.of(lambda one, _: holes_in_words(one)), width=14)
    size = steps.of(lambda one, name: one.size(name))
    yield Given(name="inch", words="diameter", unit="in", decimals=4, value=size, rows=steps.cuts, width=9)
    yield Given(name="millimetre", words="diameter", unit="mm", decimals=3, value=size, rows=steps.cuts, width=9)
    speed = steps.of(_speed)
    yield Given(name="cutting_speed", words="cutting speed", decimals=0, value=speed, rows=steps.cuts, width=8,
                unit=steps.of(lambda one, _: "ft/min" if one.unit == "in" else "m/min"))  # fmt: skip
    known = [row for row in steps.cuts if speed(row) is not None]
    yield Result(name="spindle_speed", words="spindle", unit="1/min", decimals=0, rows=known, width=8,
                 equation=cutting.spindle_speed, inputs={"diameter": "schedule.{row}.inch"})  # fmt: skip
    yield words("feed", "feed a turn", steps.of(_feed), width=13)
    yield words("lubricant", "lubricant", steps.of(lambda one, name: _short(_lubricant(one, name))), width=13)
    yield words("caution", "caution", steps.of(caution), width=30)


def caution(group: Group, operation: str) -> str:
    """What to mind at an operation."""
    by_hand = table("cautions")["by_operation"].get(operation, "")
    dangers = [f"{one.hole} stands over {one.over}: locked stop" for one in group.spec.danger if operation == "drill"]
    return "; ".join(part for part in (*dangers, by_hand) if part)


def _speed(group: Group, operation: str) -> Quantity | None:
    """The table's speed; blank for a material the table lacks."""
    try:
        row = cutting_speed(operation, group.material)
    except LookupError:
        return None
    return read_quantity(f"{row.value} {row.unit}")


def _feed(group: Group, operation: str) -> str | None:
    """The range of feed, in words; nothing for what is done by hand or what the table does not hold."""
    size = group.size(operation)
    try:
        return feed(operation, group.material, size.to("mm")).words if size else None
    except LookupError:
        return None


def _lubricant(group: Group, operation: str) -> str | None:
    if operation in {"insert", "plug", "probe depth"}:
        return None
    try:
        return lubricant(operation, group.material).words
    except LookupError:
        return f"as the cutter's maker says for {group.material}"


def _short(said: str | None) -> str | None:
    """What is said of a lubricant before its reason; the reasons stand below the table."""
    return said and said.split(";")[0].split(":")[0]


def _lubricants(steps: Steps, rows: list[str]) -> Prose:
    """The reasons for what the operations are lubricated with, each once."""
    said = dict.fromkeys(words for row in rows if (words := _lubricant(*steps.by_row[row])))
    return Prose(title="Lubricants, and why", lines=[(line,) for line in said], widths=(WHOLE,))
