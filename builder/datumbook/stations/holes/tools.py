"""Tools: what each operation is done with, how fast it turns, how it is fed and lubricated, in the
order of the schedule.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Column, Sizes, words
from datumbook.cells.tables import Prose, Sheet, Table
from datumbook.equations import cutting
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table
from datumbook.standards.cutting import cutting_speed, feed, lubricant
from datumbook.stations.holes.hole_groups import Group, Steps
from datumbook.workbook.layout import WHOLE


class ToolOperations(Table):
    """Every operation with its tool, in the order of the schedule."""

    inch: Column
    spindle_speed: Column


class Tools:
    """The tools of all operations: their sizes, speeds, feeds and lubricants."""

    def __init__(self, steps: Steps) -> None:
        self.steps = steps
        self.speed = steps.of(_speed)
        self.turning = [row for row in steps.cuts if self.speed(row) is not None]
        self.operations = self._operations()

    def sheet(self) -> Sheet:
        """The sheet of the tools."""
        parts = (self.operations, self._lubricants())
        return Sheet(
            name="Tools", title="Tools, speeds and lubricants", parts=parts, widths={1: 30}
        )

    def _operations(self) -> ToolOperations:
        return ToolOperations(
            key="schedule",
            title="Operations, tool by tool",
            heading="Group and operation",
            note="In the order of the Schedule sheet. Diameters in both systems, speeds in ft/min "
            "or "
            "m/min, feeds a turn.",
            rows=self.steps.rows(self.steps.in_turn),
            columns=tuple(self._columns()),
            repeated=True,
        )

    def _columns(self) -> Iterator[Column]:
        of, cuts = self.steps.of, self.steps.cuts
        yield words("tool", "tool", of(lambda one, name: one.tool(name)), width=24)
        yield words("holes", "holes", of(lambda one, _: one.holes_in_words), width=14)
        size = of(lambda one, name: one.size(name))
        inch = Sizes("in", 4, width=9).given("inch", "diameter", size, rows=cuts)
        yield inch
        yield Sizes("mm", 3, width=9).given("millimetre", "diameter", size, rows=cuts)
        speeds = Sizes(of(lambda one, _: "ft/min" if one.unit == "in" else "m/min"), 0, width=8)
        yield speeds.given("cutting_speed", "cutting speed", self.speed, rows=cuts)
        yield Sizes("1/min", 0, width=8).result(
            "spindle_speed", "spindle", cutting.spindle_speed, self.turning, diameter=inch
        )
        yield words("feed", "feed a turn", of(_feed), width=13)
        short = of(lambda one, name: _short(_lubricant(one, name)))
        yield words("lubricant", "lubricant", short, width=13)
        yield words("caution", "caution", of(caution), width=30)

    def _lubricants(self) -> Prose:
        """The reasons for what the operations are lubricated with, each once."""
        every = [_lubricant(*self.steps.by_row[row]) for row in self.steps.in_turn]
        lines = [(line,) for line in dict.fromkeys(every) if line]
        return Prose(title="Lubricants, and why", lines=lines, widths=(WHOLE,))


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
