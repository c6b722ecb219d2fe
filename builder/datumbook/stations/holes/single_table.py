"""Tables of the holes decided by themselves: what they share."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from datumbook.cells.columns import Column, Equation, Input, Per, Result, Sizes
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.equations import openings, single_holes
from datumbook.stations.holes.alike import Alike
from datumbook.stations.holes.quill_scale import IN_KEYS
from datumbook.stations.holes.single_lines import LINES, SingleLines
from datumbook.stations.received.shown import shown_words

JUDGED_BY: dict[tuple[bool, bool], Equation] = {
    (True, True): single_holes.single_between,
    (True, False): single_holes.single_at_least,
    (False, True): single_holes.single_at_most,
}


class SingleTable(Table):
    """A table of the lines of one unit, worked out from what is typed in them."""

    def __init__(self, lines: SingleLines, word: str, said: str, columns: Iterator[Column]) -> None:
        super().__init__(
            key=f"single_{word}_{IN_KEYS[lines.unit]}",
            title=f"{said} ({lines.unit})",
            heading="What",
            turned=True,
            rows=[Row(line, f"line {line}") for line in LINES],
            columns=(shown_words("hole", "hole", lines.hole), *columns),
        )

    def _of_lines(self, lines: SingleLines, alike: Alike) -> None:
        self.judged: list[str] = []  # the columns that hold verdicts
        self.lines, self.alike, self.unit = lines, alike, lines.unit
        self.sizes = Sizes(lines.unit, lines.places, width=9.5)

    def _of_option(self, name: str) -> dict[str, Per[Input]]:
        lines = self.lines
        return {"place": lines.option, "values": lines.all_of(lines.options, name)}

    def _said(self, place: Column, table: Any, name: str) -> dict[str, Per[Input]]:
        return {"place": place, "lines": self.lines.all_of(table, name)}

    def _taken(self, name: str, heading: str, of: str) -> Column:
        """A figure of the group it is like."""
        values = self.alike.cells(of)
        value = openings.value_at
        return self.sizes.result(name, heading, value, place=self.lines.group, values=values)

    def _cell(self, name: str) -> Callable[[str], Key]:
        return lambda row: self.column(name)[row]

    def _judged(self, of: str, equation: Equation, **inputs: Per[Input]) -> Result:
        """The verdict on a value of the lines in use."""
        self.judged.append(f"{of}_judged")
        return Result(
            name=f"{of}_judged",
            words="verdict",
            equation=equation,
            inputs={"hole": self.lines.hole, **inputs},
        )

    def verdicts(self, row: str) -> list[Key]:
        """The verdicts on one line."""
        return [
            one[row] for one in self.columns if isinstance(one, Result) and one.name in self.judged
        ]

    def _held(self, of: str, known: Per[Input], **ends: Per[Input]) -> Result:
        """A planned size against its limits, where what it is worked out from is stated."""
        shape = JUDGED_BY["low" in ends, "high" in ends]
        return self._judged(of, shape, known=known, value=self._cell(of), **ends)
