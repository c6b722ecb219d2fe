"""Schedule: each group's operations in order, with tool, speed and lubricant."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import cutting
from builder.layout import Layout
from builder.quantities import Quantity, read_quantity
from builder.sheets.hole_groups import Group, Groups, Steps, at_the_machine
from builder.standards.cutting import cutting_speed, lubricant
from builder.table import Column, Given, Result, Sheet, Table, words


def sheet(layout: Layout) -> Sheet:
    """The sheet of the schedule."""
    steps = Steps(Groups(layout))
    return Sheet(name="Schedule", title="Schedule of hole work", parts=(at_the_machine(), _operations(steps)))


def _operations(steps: Steps) -> Table:
    def columns() -> Iterator[Column]:
        yield words("tool", "tool", steps.of(_tool), width=34)
        size = steps.of(lambda one, name: one.size(name))
        yield Given(name="inch", words="diameter", unit="in", decimals=4, value=size, rows=steps.cuts)
        yield Given(name="millimetre", words="diameter", unit="mm", decimals=3, value=size, rows=steps.cuts)
        speed = steps.of(_speed)
        speed_unit = steps.of(lambda one, _: "ft/min" if one.unit == "in" else "m/min")
        yield Given(
            name="cutting_speed",
            words="cutting speed, ft/min or m/min",
            unit=speed_unit,
            decimals=0,
            value=speed,
            rows=steps.cuts,
        )
        known = [row for row in steps.cuts if speed(row) is not None]
        yield Result(name="spindle_speed", words="spindle", unit="1/min", decimals=0, rows=known,
                     equation=cutting.spindle_speed, inputs={"diameter": "schedule.{row}.inch"})  # fmt: skip
        yield words("lubricant", "lubricant", steps.of(_lubricant), width=34)

    return Table(
        key="schedule",
        title="Operations in order",
        heading="Group and operation",
        note="One group after the other, each operation on every hole of the group before the next.",
        rows=steps.rows(steps.by_row),
        columns=tuple(columns()),
    )


def _speed(group: Group, operation: str) -> Quantity | None:
    """The table's speed; blank for a material the table lacks."""
    try:
        row = cutting_speed(operation, group.material)
    except LookupError:
        return None
    return read_quantity(f"{row.value} {row.unit}")


def _lubricant(group: Group, operation: str) -> str:
    try:
        return lubricant(operation, group.material).words
    except LookupError:
        return f"as the cutter's maker says for {group.material}"


def _tool(group: Group, operation: str) -> str:
    size = group.size(operation)
    return {
        "drill": f"drill {group.drill.name}" if group.drill else "",
        "counterbore": f"counterbore {size.text}" if size else "",
        "start tap": f"{group.thread.designation} taper tap, spindle unpowered",
        "finish tap": f"{group.thread.designation} second, then bottoming tap, by hand",
        "chase": f"{group.thread.designation} chaser, by hand",
        "deburr": "countersink, by hand",
    }[operation]
