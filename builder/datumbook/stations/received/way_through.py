"""Way through: every station of the book with what is left to do there, and whether it is left as
it is.
"""

from __future__ import annotations

from collections.abc import Mapping

from datumbook.cells.columns import Column, Given, Result, Sizes, typed_words, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import standings, station_lines
from datumbook.grouping import grouped
from datumbook.standards.order import operations
from datumbook.stations.received.instruments import INSTRUMENTS
from datumbook.stations.received.route import step_words
from datumbook.stations.received.shown import shown_words
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan, Place

HELPERS = ("numbers", "ticks", "line", "turn")  # what the sheet needs and paper does not


class WayThrough(Table):
    """The stations in walking order, each with its link, the cells still to fill, what holds, and
    the line by which it is taken out of the job. A row is named by the station's sheet.
    """

    go_to: Column
    to_read: Column
    holding: Column
    turn: Column
    state: Column
    reason: Column
    by: Column

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        sections = layout.sections
        self.wanted_at = grouped((_name(one), one) for one in layout.wanted())
        self.checks_at = grouped((_name(one), one) for one in layout.checks)
        lines = {*self.wanted_at, *self.checks_at, INSTRUMENTS}
        walked = [one for one in sections if one.name in lines]
        self.station = {one.name: one.station for one in walked if one.station}
        self.first = {one.station: one.name for one in reversed(walked) if one.station}
        super().__init__(
            key="stations",
            title="The way through this book",
            heading="Station",
            note="Left as it is: the station asks for nothing and holds nothing up; the release "
            "and the customer's page say so, with the reason. What a cut rests on can be left "
            "too: the workings then say that the cut has no forecast.",
            rows=[Row(one.name, one.title) for one in walked],
            columns=self._columns([one.name for one in walked]),
        )

    def every(self, column: Column) -> list[Key]:
        """The cells of a column, station by station."""
        return [column[row.key] for row in self.rows]

    def left_at(self, section: Sheet | None) -> Key:
        """The cell that says whether the station of a section is left as it is."""
        known = section and section.name in self.row_keys
        return self.state[section.name if section and known else INSTRUMENTS]

    def left_of(self, station: str) -> Key | None:
        """The same of a station by its key; None where it has no line."""
        return self.state[self.first[station]] if station in self.first else None

    def left_cells(self, values: Mapping[str, object]) -> set[str]:
        """The wanted cells of the stations that are left as they are."""
        return {
            place.key
            for row, places in self.wanted_at.items()
            if values.get(self.state[row]) == station_lines.AS_IT_IS
            for place in places
        }

    def _columns(self, rows: list[str]) -> tuple[Column, ...]:
        count = Sizes("", 0, width=7.5)
        sized = [name for name in rows if self._sizes(name)]
        ticked = [name for name in rows if self._ticks(name)]
        asked, unasked = (
            [one for one in rows if one in self.wanted_at],
            [one for one in rows if one not in self.wanted_at],
        )
        numbers = count.result(
            "numbers", "sizes", standings.readings_taken, sized, readings=self._sizes
        )
        made = count.result("ticks", "words", standings.words_given, ticked, cells=self._ticks)
        return (
            words("go_to", "go to", self._begins, width=14),
            Given(
                name="wanted",
                words="wanted",
                unit="",
                whole=True,
                value=lambda row: float(len(self.wanted_at.get(row, ()))),
                width=7.5,
            ),
            count.result(
                "taken",
                "filled",
                standings.taken_in_all,
                asked,
                counts=lambda row: [
                    *([numbers[row]] if row in sized else []),
                    *([made[row]] if row in ticked else []),
                ],
            ),
            count.result(
                "to_read",
                "to fill",
                station_lines.still_to_read,
                asked,
                left=lambda row: self.state[row],
            ),
            Given(name="to_read", words="to fill", unit="", whole=True, value=0.0, rows=unasked),
            count.result(
                "holding",
                "hold it up",
                standings.holding_here,
                [name for name in rows if name in self.checks_at],
                standings=self._standings,
            ),
            *self._left(rows),
            words("needed", "needed for", self._needed, width=22),
            numbers,
            made,
            Given(
                name="line",
                words="line",
                unit="",
                whole=True,
                value=lambda row: float(rows.index(row) + 1),
                width=5,
            ),
            count.result("turn", "turn", station_lines.comes_next),
        )

    def _left(self, rows: list[str]) -> tuple[Column, ...]:
        """Where a station is left as it is, said in the first of its lines."""
        said = [name for name in rows if name in self.first.values()]
        again = [name for name in rows if name in self.station and name not in said]
        others = [name for name in rows if name not in self.station]
        return (
            typed_words(
                "left",
                "left as it is?",
                "left as it is takes the station out of the job.",
                choices=(station_lines.IN_JOB, station_lines.AS_IT_IS),
                rows=said,
                width=13,
            ),
            typed_words("by", "initials", "Who says so.", rows=said, width=8),
            typed_words("reason", "reason", "Why.", rows=said, width=42),
            Result(
                name="state",
                words="so it is",
                equation=station_lines.left_as_it_is,
                inputs={"said": lambda row: self.column("left")[row]},
                rows=said,
                width=13,
            ),
            shown_words(
                "state",
                "so it is",
                lambda row: self.state[self.first[self.station[row]]],
                rows=again,
                width=13,
            ),
            words("state", "so it is", "", rows=others, width=13),
        )

    def _state(self, row: str) -> Key:
        return self.state[row]

    def _begins(self, row: str) -> str:
        sheet, line = next(
            (name, plan.begins[row])
            for name, plan in self.layout.plans.items()
            if row in plan.begins
        )
        return f"{sheet}!A{line}"

    def _sizes(self, row: str) -> list[Key]:
        """The sizes of a station column by column, so that they are counted over whole ranges."""
        sizes = [place for place in self.wanted_at.get(row, ()) if place.unit is not None]
        return [one.key for one in sorted(sizes, key=lambda one: (one.at.column, one.at.row))]

    def _ticks(self, row: str) -> list[Key]:
        return [place.key for place in self.wanted_at.get(row, ()) if place.unit is None]

    def _standings(self, row: str) -> list[Key]:
        standing = self.layout.stations.release.checks.standing
        return [standing[one.key] for one in self.checks_at[row]]

    def _needed(self, row: str) -> str:
        """The cuts of this job that cannot do without a station."""
        station = self.station.get(row)
        return ", ".join(
            step_words(name)
            for name in self.layout.scope.operations
            if operations()[name].cut and station in operations()[name].needs
        )


def _name(of: Place | CheckPlan) -> str:
    """The name of the station a cell or a check stands at."""
    return of.section.name if of.section else ""
