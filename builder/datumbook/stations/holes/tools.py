"""Tools: what each operation is done with, how fast it turns, how it is fed and lubricated, in the
order of the schedule.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Column, Given, Result, words
from datumbook.cells.tables import Prose, Sheet, Table
from datumbook.equations import cutting
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table
from datumbook.standards.cutting import cutting_speed, feed, lubricant
from datumbook.stations.holes.hole_groups import Group, Groups, Steps
from datumbook.stations.holes.schedule import holes_in_words, order_of, rows_of
from datumbook.workbook.layout import WHOLE, Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the tools."""
    groups = Groups(layout)
    steps = Steps(groups)
    rows = rows_of(groups, order_of(groups))
    parts = (_operations(steps, rows), _lubricants(steps, rows))
    return Sheet(name="Tools", title="Tools, speeds and lubricants", parts=parts, widths={1: 30})


def _operations(steps: Steps, rows: list[str]) -> Table:
    return Table(
        key="schedule",
        title="Operations, tool by tool",
        heading="Group and operation",
        note="In the order of the Schedule sheet. Diameters in both systems, speeds in ft/min or "
        "m/min, feeds a turn.",
        rows=steps.rows(rows),
        columns=tuple(_columns(steps)),
        repeated=True,
    )


def _columns(steps: Steps) -> Iterator[Column]:
    yield words("tool", "tool", steps.of(lambda one, name: one.tool(name)), width=24)
    yield words("holes", "holes", steps.of(lambda one, _: holes_in_words(one)), width=14)
    size = steps.of(lambda one, name: one.size(name))
    yield Given(
        name="inch", words="diameter", unit="in", decimals=4, value=size, rows=steps.cuts, width=9
    )
    yield Given(
        name="millimetre",
        words="diameter",
        unit="mm",
        decimals=3,
        value=size,
        rows=steps.cuts,
        width=9,
    )
    speed = steps.of(_speed)
    yield Given(
        name="cutting_speed",
        words="cutting speed",
        decimals=0,
        value=speed,
        rows=steps.cuts,
        width=8,
        unit=steps.of(lambda one, _: "ft/min" if one.unit == "in" else "m/min"),
    )
    known = [row for row in steps.cuts if speed(row) is not None]
    yield Result(
        name="spindle_speed",
        words="spindle",
        unit="1/min",
        decimals=0,
        rows=known,
        width=8,
        equation=cutting.spindle_speed,
        inputs={"diameter": "schedule.{row}.inch"},
    )
    yield words("feed", "feed a turn", steps.of(_feed), width=13)
    yield words(
        "lubricant",
        "lubricant",
        steps.of(lambda one, name: _short(_lubricant(one, name))),
        width=13,
    )
    yield words("caution", "caution", steps.of(caution), width=30)


def caution(group: Group, operation: str) -> str:
    """What to mind at an operation."""
    by_hand = table("cautions")["by_operation"].get(operation, "")
    dangers = [
        f"{one.hole} stands over {one.over}: locked stop"
        for one in group.spec.danger
        if operation == "drill"
    ]
    return "; ".join(part for part in (*dangers, by_hand) if part)


def _speed(group: Group, operation: str) -> Quantity | None:
    """The table's speed; blank for a material the table lacks."""
    try:
        row = cutting_speed(operation, group.material)
    except LookupError:
        return None
    return read_quantity(f"{row.value} {row.unit}")


def _feed(group: Group, operation: str) -> str | None:
    """The range of feed, in words; nothing for what is done by hand or what the table does not
    hold.
    """
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
