"""Tools: what each operation is done with, how fast it turns, how it is fed and lubricated, in the
order of the schedule.
"""

from __future__ import annotations

from itertools import chain

from datumbook.cells.columns import Check, Column, Result, Sizes, words
from datumbook.cells.tables import Prose, Sheet, Table
from datumbook.equations import openings, spindle_speeds, standings
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.holes import Shop
from datumbook.standards import table
from datumbook.standards.cutting import cutting_speed, feed, lubricant
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import picked_words, stated
from datumbook.stations.holes.hole_groups import Steps, row_word
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.options import TAPPED
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.workbook.placed import WHOLE


class Tools(Table):
    """Every operation with its tool, speed, feed and lubricant, in the order of the schedule."""

    inch: Column
    spindle_speed: Column
    speed_set: Column
    feed: Column | None
    tool: Column

    def __init__(
        self, steps: Steps, opened: Openings, threads: ThreadHoles, reliefs: Reliefs
    ) -> None:
        self.steps, self.opened, self.reliefs = steps, opened, reliefs
        of, cuts = steps.of, steps.cuts
        self.decided = {
            row: table.column(size)[self._group(row)]
            for name, table, size in (
                ("drill", threads, "drill_size"),
                ("counterbore", reliefs, "diameter"),
            )
            for row in steps.those(name)
        }
        speed = of(speed_of)
        self.turning = [row for row in cuts if speed(row) is not None]
        inch = self._diameter("inch", Sizes("in", 4, width=9))
        metric = steps.groups.basis.unit_of("holes") == "mm"
        speeds = Sizes("m/min" if metric else "ft/min", 0, width=8)
        super().__init__(
            key="schedule",
            title="Operations, tool by tool",
            heading="Group and operation",
            note="In the order of the Schedule sheet. Diameters in both systems.",
            rows=steps.rows(steps.in_turn),
            columns=(
                *self._tools(),
                words("holes", "holes", of(lambda one, _: one.holes_in_words), width=14),
                *inch,
                *self._diameter("millimetre", Sizes("mm", 3, width=9)),
                speeds.given("cutting_speed", "cutting speed", speed, rows=cuts),
                Sizes("1/min", 0, width=8).result(
                    "spindle_speed",
                    "spindle, most",
                    spindle_speeds.spindle_speed,
                    self.turning,
                    diameter=inch[0],
                ),
                speed_to_set(steps.groups.shop, self.turning),
                *self._feeds(),
                words("lubricant", "lubricant", of(_lubricant_alone), width=13),
                words("caution", "caution", of(caution), width=30),
            ),
        )

    def _diameter(self, name: str, sizes: Sizes) -> list[Column]:
        """The diameter of each cutter: of a drill and a relief as decided."""
        size = self.steps.of(lambda one, operation: one.size(operation))
        plain = [row for row in self.steps.cuts if row not in self.decided]
        again, decided = standings.shown_again, self.decided
        both: tuple[Column, ...] = (
            sizes.result(name, "diameter", again, list(decided), value=decided.__getitem__),
            sizes.given(name, "diameter", size, rows=plain),
        )
        return [one for one in both if one.rows] or list(both)

    def _tools(self) -> list[Column | Check]:
        """The tool of each operation, in words: those that go by thread or drill as decided."""
        steps, opened, of = self.steps, self.opened, self.steps.of
        tapped = {name: steps.those(name) for name in TAPPED}
        picked = [
            picked_words(
                "tool",
                "tool",
                opened.said(opened.tools, row_word(name), self._group),
                rows,
                width=24,
            )
            for name, rows in tapped.items()
            if rows
        ]
        drills, reliefs = steps.those("drill"), steps.those("counterbore")
        taken = {*chain.from_iterable(tapped.values()), *self.decided}
        plain = [row for row in steps.by_row if row not in taken]
        drilled = opened.of_drill("lines", opened.stand.tool, self._group)
        return stated(
            *picked,
            picked_words("tool", "tool", drilled, drills, width=24),
            Result(
                name="tool",
                words="tool",
                equation=openings.cutter_of_relief,
                inputs={
                    "typed": lambda row: opened.relief_diameter[self._group(row)],
                    "usual": lambda row: self.reliefs.cutter[self._group(row)],
                },
                rows=reliefs,
                width=24,
            ),
            words("tool", "tool", of(lambda one, name: one.tool(name)), rows=plain, width=24),
        )

    def _feeds(self) -> list[Column | Check]:
        """The range of feed: of a drill as decided."""
        steps, opened = self.steps, self.opened
        drills = steps.those("drill")
        plain = [row for row in steps.by_row if row not in drills and steps.of(_feed)(row)]
        picked = opened.of_drill("lines", opened.stand.feed, self._group)
        return stated(
            picked_words("feed", "feed a turn", picked, drills, width=13),
            words("feed", "feed a turn", steps.of(_feed), rows=plain, width=13),
        )

    def _group(self, row: str) -> str:
        """The group of an operation."""
        return self.steps.by_row[row][0].spec.key

    def sheet(self) -> Sheet:
        """The sheet of the tools, below them the reasons for the lubricants, each once."""
        every = [_lubricant(*self.steps.by_row[row]) for row in self.steps.in_turn]
        lines = [(line,) for line in dict.fromkeys(every) if line]
        reasons = Prose(title="Lubricants, and why", lines=lines, widths=(WHOLE,))
        return Sheet(
            name="Tools",
            read=True,
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


def speed_to_set(shop: Shop, rows: list[str] | None = None) -> Result:
    """The speed that the spindle is set to: the machine's next below what the cutter may turn, or
    that cut off where the machine's are not known.
    """
    sizes, words = Sizes("1/min", 0, width=8), "set to"
    if not shop.spindle_speeds:
        return sizes.result("speed_set", words, spindle_speeds.speed_cut_off, rows)
    speeds = list(shop.spindle_speeds)
    return sizes.result("speed_set", words, spindle_speeds.speed_of_machine, rows, speeds=speeds)


def speed_of(group: GroupAtWork, operation: str) -> Quantity | None:
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
        return feed(operation, group.material, size.to("mm")).words_in(size.unit) if size else None
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
