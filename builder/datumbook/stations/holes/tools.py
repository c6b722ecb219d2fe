"""Tools: what each operation is done with, how fast it turns, how it is fed and lubricated, in the
order of the schedule.
"""

from __future__ import annotations

from datumbook.cells.columns import Column, Sizes, words
from datumbook.cells.tables import Prose, Sheet, Table
from datumbook.equations import cutting
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table
from datumbook.standards.cutting import cutting_speed, feed, lubricant
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Steps
from datumbook.workbook.layout import WHOLE


class Tools(Table):
    """Every operation with its tool, speed, feed and lubricant, in the order of the schedule."""

    inch: Column
    spindle_speed: Column

    def __init__(self, steps: Steps) -> None:
        self.steps, of, cuts = steps, steps.of, steps.cuts
        speed, size = of(_speed), of(lambda one, name: one.size(name))
        self.turning = [row for row in cuts if speed(row) is not None]
        inch = Sizes("in", 4, width=9).given("inch", "diameter", size, rows=cuts)
        speeds = Sizes(of(lambda one, _: "ft/min" if one.unit == "in" else "m/min"), 0, width=8)
        super().__init__(
            key="schedule",
            title="Operations, tool by tool",
            heading="Group and operation",
            note="In the order of the Schedule sheet. Diameters in both systems, speeds in ft/min "
            "or m/min, feeds a turn.",
            rows=steps.rows(steps.in_turn),
            columns=(
                words("tool", "tool", of(lambda one, name: one.tool(name)), width=24),
                words("holes", "holes", of(lambda one, _: one.holes_in_words), width=14),
                inch,
                Sizes("mm", 3, width=9).given("millimetre", "diameter", size, rows=cuts),
                speeds.given("cutting_speed", "cutting speed", speed, rows=cuts),
                Sizes("1/min", 0, width=8).result(
                    "spindle_speed", "spindle", cutting.spindle_speed, self.turning, diameter=inch
                ),
                words("feed", "feed a turn", of(_feed), width=13),
                words("lubricant", "lubricant", of(_lubricant_alone), width=13),
                words("caution", "caution", of(caution), width=30),
            ),
            repeated=True,
        )

    def sheet(self) -> Sheet:
        """The sheet of the tools, below them the reasons for the lubricants, each once."""
        every = [_lubricant(*self.steps.by_row[row]) for row in self.steps.in_turn]
        lines = [(line,) for line in dict.fromkeys(every) if line]
        reasons = Prose(title="Lubricants, and why", lines=lines, widths=(WHOLE,))
        return Sheet(
            name="Tools",
            title="Tools, speeds and lubricants",
            parts=(self, reasons),
            widths={1: 30},
        )


def caution(group: GroupAtWork, operation: str) -> str:
    """What to mind at an operation."""
    by_hand = table("cautions")["by_operation"].get(operation, "")
    dangers = [
        f"{one.hole} stands over {one.over}: locked stop"
        for one in group.spec.danger
        if operation == "drill"
    ]
    return "; ".join(part for part in (*dangers, by_hand) if part)


def _speed(group: GroupAtWork, operation: str) -> Quantity | None:
    """The table's speed; blank for a material the table lacks."""
    try:
        row = cutting_speed(operation, group.material)
    except LookupError:
        return None
    return read_quantity(f"{row.value} {row.unit}")


def _feed(group: GroupAtWork, operation: str) -> str | None:
    """The range of feed, in words; nothing for what is done by hand or what the table does not
    hold.
    """
    size = group.size(operation)
    try:
        return feed(operation, group.material, size.to("mm")).words if size else None
    except LookupError:
        return None


def _lubricant(group: GroupAtWork, operation: str) -> str | None:
    if operation in {"insert", "plug", "probe depth"}:
        return None
    try:
        return lubricant(operation, group.material).words
    except LookupError:
        return f"as the cutter's maker says for {group.material}"


def _lubricant_alone(group: GroupAtWork, operation: str) -> str | None:
    """A lubricant without its reason; the reasons stand below the table."""
    said = _lubricant(group, operation)
    return said and said.split(";")[0].split(":")[0]
