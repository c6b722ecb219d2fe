"""Touched: what this job was for, station by station, and what was left as it is."""

from __future__ import annotations

from datumbook.cells.columns import Column, Given, Input, Per, Result, words
from datumbook.cells.tables import Row, Table
from datumbook.equations import station_lines
from datumbook.job.scope import described, words_of
from datumbook.standards.works import StationKind, stations
from datumbook.stations.received.shown import shown_words
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
        known = [key for key in described(scope.given) if key not in scope.stations]
        absent = [key for key in known if not _for_the_asking(stations()[key])]
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
                shown_words("reason", "reason", self._of(way.reason), here),
                shown_words("by", "says", self._of(way.by), here),
            ),
        )

    def _of(self, column: Column) -> Per[Input]:
        """A column of the way through, by its station."""
        return lambda row: column[self.way.first[row]]


def _for_the_asking(station: StationKind) -> bool:
    """Whether a station is measured only where a job names it: nobody misses it elsewhere."""
    return station.by_name and bool(station.sections)


def again(touched: Touched) -> Table:
    """The same for whoever brought the block."""
    said = {row.key: row.words for row in touched.rows}
    columns: list[Column] = [
        shown_words(of.name, of.words, of.__getitem__, of.rows, of.width)
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
