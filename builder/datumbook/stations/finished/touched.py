"""Touched: what this job was for, station by station, and what was left as it is."""

from __future__ import annotations

from datumbook.cells.columns import Column, Given, Result, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.equations import standings, station_lines
from datumbook.job.scope import described, words_of
from datumbook.workbook.layout import Layout

NOT_IN_JOB = "not part of this job"


class Touched(Table):
    """Every station the engine has figures for: in this job, left as it is with reason and
    initials, or no part of it.
    """

    touched: Column
    reason: Column
    by: Column

    def __init__(self, layout: Layout) -> None:
        scope, way = layout.scope, layout.stations.job.way
        self.way = way
        here = [key for key in described(scope.given) if key in way.first]
        absent = [key for key in described(scope.given) if key not in scope.stations]
        super().__init__(
            key="touched",
            title="What was touched, and what was not",
            heading="Station",
            rows=[Row(key, capital(words_of(key))) for key in (*here, *absent)],
            columns=(
                Result(
                    name="touched",
                    words="this job",
                    equation=station_lines.in_job_or_left,
                    inputs={"left": lambda row: way.state[way.first[row]]},
                    rows=here,
                    width=19,
                ),
                words("touched", "this job", NOT_IN_JOB, rows=absent, width=19),
                self._said("reason", "reason", way.reason, here),
                self._said("by", "says", way.by, here),
            ),
        )

    def _said(self, name: str, heading: str, of: Column, rows: list[str]) -> Result:
        def typed(row: str) -> Key:
            return of[self.way.first[row]]

        return Result(
            name=name,
            words=heading,
            equation=standings.said_again,
            inputs={"words": typed},
            rows=rows,
        )


def again(touched: Touched) -> Table:
    """The same for whoever brought the block."""
    said = {row.key: row.words for row in touched.rows}
    columns: list[Column] = [
        Result(
            name=of.name,
            words=of.words,
            equation=standings.said_again,
            inputs={"words": of.__getitem__},
            rows=of.rows,
            width=of.width,
        )
        for of in touched.columns
        if isinstance(of, Result | Given)
    ]
    return Table(
        key="not_touched",
        title=touched.title,
        heading=touched.heading,
        rows=[Row(key, words) for key, words in said.items()],
        columns=columns,
    )


def capital(said: str) -> str:
    """Words that begin a line."""
    return said[:1].upper() + said[1:]
