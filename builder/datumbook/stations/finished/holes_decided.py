"""Holes decided: what was not done as drawn, and who decided it, for the release."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.stations.holes.hole_work import HoleWork
from datumbook.stations.holes.single_lines import LINES
from datumbook.stations.received.shown import shown_words

DECIDED = {"hole": "hole", "opened_to": "opened to", "decided_by": "decided by"}


def _said(name: str, heading: str, cells: dict[str, dict[str, Key]]) -> Result:
    """What is said in one column, in the lines that say it."""
    rows = [row for row, said in cells.items() if name in said]
    return shown_words(name, heading, lambda row: cells[row][name], rows, width=14)


class HolesDecided(Table):
    """Every group, and every line of a single hole: what it was opened to, by whom."""

    def __init__(self, work: HoleWork) -> None:
        self.work = work
        lines = dict(self._lines())
        super().__init__(
            key="holes_decided",
            title="Holes decided at the bench",
            heading="Holes",
            note="Blank: as drawn.",
            rows=[Row(key, words) for key, (words, _) in lines.items()],
            columns=[
                _said(name, heading, {row: cells for row, (_, cells) in lines.items()})
                for name, heading in DECIDED.items()
            ],
        )

    def _lines(self) -> Iterator[tuple[str, tuple[str, dict[str, Key]]]]:
        """Each line: its key, its words, and the cells that say what was decided."""
        opened = self.work.opened
        for group in self.work.groups.all:
            row = group.spec.key
            cells = {name: opened.column(name)[row] for name in ("opened_to", "decided_by")}
            yield row, (group.spec.words, cells)
        for table in self.work.single_lines:
            for line in LINES:
                cells = {name: table.column(name)[line] for name in DECIDED}
                yield f"{table.key}_{line}", (f"{table.title}, line {line}", cells)
