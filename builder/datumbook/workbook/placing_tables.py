"""Tables into cells: headings, limits, freshness, rows; or rows side by side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from datumbook.cells.columns import Check, Column, Reading, Result, Sizes, per
from datumbook.cells.handles import Key
from datumbook.cells.tables import MOVED_SINCE, UNFIT, Guest, MeasuredAfter, Row, Table
from datumbook.equations import assembly, order, standings
from datumbook.grouping import grouped
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.units import shown
from datumbook.spec import Limit
from datumbook.workbook.cursor import Cursor
from datumbook.workbook.inputs import resolved
from datumbook.workbook.placed import CheckPlan

MOVED, MOVED_OR_OTHERWISE = "moved since by done number", "moved, or read otherwise"


class TableCursor(Cursor):
    """A cursor that places tables."""

    def table(self, table: Table) -> None:
        """Place a table below its title."""
        columns = _slots(table)
        if table.turned:
            self._turned(table, columns)
            return
        if table.spoilers:
            self._moved(table)
            self._unfit(table)
        self._headings(table, columns)
        self._limit_rows(table, columns)
        for row in table.rows:
            self.text(1, row.words, "row")
            for item in table.columns:
                if item.slot not in table.hosted:
                    self._table_cell(table, row, item, columns.get(item.slot, 0))
            for guest in table.guests:
                self._guest(guest, row, columns[guest.column.slot])
            self.row += 1

    def _turned(self, table: Table, slots: Mapping[str, int]) -> None:
        """A table with its rows side by side: every column becomes a line, its words and unit at
        the left.
        """
        top = self.row
        self.text(1, table.heading, "heading")
        for column, row in enumerate(table.rows, start=2):
            self.text(column, row.words, "heading")
        for item in table.columns:
            self.row = top - 1 + slots.get(item.slot, 0)
            if item.slot in slots:
                self.text(1, _words(item, ", "), "row")
            for column, row in enumerate(table.rows, start=2):
                self._table_cell(table, row, item, column)
        self.row = top + 1 + len(slots)

    def _moved(self, table: Table) -> None:
        """The line that says which operation moved a table's readings since they were taken; over
        it, with the first table of a series, after which step that was.
        """
        assert table.spoilers is not None
        series = table.spoilers.series
        if series is None:
            return
        if series.step.key not in self.layout.places:
            self._measured_after(series)
        moved = Sizes("", 0).result(
            MOVED_SINCE,
            MOVED,
            order.moved_since,
            number=series.number,
            done=list(table.spoilers.done),
        )
        self._over(table, moved)

    def _unfit(self, table: Table) -> None:
        """The line that says why a table's readings are not judged, where a state of assembly is
        meant: moved since, or read in another state.
        """
        assert table.spoilers is not None
        state = table.spoilers.state
        if state is None:
            return
        found = state.unfit
        if table.has(MOVED_SINCE, ""):
            moved = table.cell("", MOVED_SINCE)
            inputs: dict[str, Key] = {"moved_since": moved, "by_state": found}
            column = Result(
                name=UNFIT, words=MOVED_OR_OTHERWISE, equation=assembly.unfit, inputs=inputs
            )
        else:
            column = Result(
                name=UNFIT,
                words=MOVED_OR_OTHERWISE.partition("or ")[2],
                equation=standings.said_again,
                inputs={"words": found},
            )
        self._over(table, column)

    def _over(self, table: Table, column: Result) -> None:
        """One cell over a table, in a line of its own."""
        column.home = table
        self.text(1, column.words[:1].upper() + column.words[1:], "row")
        self.cell(table, column, 2, "", f"{table.title} · {column.words}")
        self.row += 1

    def _measured_after(self, series: MeasuredAfter) -> None:
        """After which step a series was measured, in one line."""
        series.section = self.section
        self.text(1, "Measured after the step", "row")
        self.text(3, "line, done number", "line_note")
        for at, column in ((2, series.step), (4, series.line), (5, series.number)):
            self.cell(series, column, at, "", f"{series.title} · {column.words}")
        label = f"{series.title} · measured after the step"
        self.cell(series, series.verdict, 6, "", label)
        key = series.verdict.key
        plan = CheckPlan(
            key,
            key,
            label,
            self.plan.sheet.name,
            source="the route",
            judged=True,
            section=self.section,
        )
        self.check(plan, 6, ())
        self.row += 1

    def _headings(self, table: Table, columns: Mapping[str, int]) -> None:
        """The words over the columns with their units; beside other parts these have a row of their
        own, for both sides share its height.
        """
        self.text(1, table.heading, "heading")
        each = [*table.columns, *(one.column for one in table.guests)]
        over = [(item, columns[item.slot]) for item in each if item.slot in columns]
        apart = bool(self.plan.sheet.beside)
        for item, column in over:
            words = _words(item, "\n")
            self.text(column, words.partition("\n")[0] if apart else words, "heading")
        self.row += 1
        units = [(_words(item, "\n").partition("\n")[2], column) for item, column in over]
        if apart and any(unit for unit, _ in units):
            for unit, column in units:
                self.text(column, unit, "unit")
            self.row += 1

    def _limit_rows(self, table: Table, columns: Mapping[str, int]) -> None:
        by_name = {item.name: item for item in table.columns if isinstance(item, Column)}
        limited = {item.of.name: item.limits for item in _limited(table)}
        for words, bounds, ends in (
            (NOT_LESS, {name: one.low for name, one in limited.items()}, "low_end"),
            (NOT_MORE, {name: one.high for name, one in limited.items()}, "high_end"),
        ):
            if not any(bounds.values()):
                continue
            self.text(1, words, "limit_words")
            for name, bound in bounds.items():
                column = by_name[name]
                unit, decimals = per(column.unit, ""), per(column.decimals, "")
                label = f"{table.title} · {column.words} · {words}"
                self.given(getattr(column, ends), columns[name], bound, unit, decimals, label)
            self.row += 1

    def _table_cell(self, table: Table, row: Row, item: Column | Check, at: int) -> None:
        if not item.stands_in(row.key):
            return
        if isinstance(item, Check):
            self._table_check(table, row, item, at)
        else:
            self.cell(table, item, at, row.key, f"{row.words} · {item.words}")

    def _guest(self, guest: Guest, host: Row, at: int) -> None:
        """The cell of another table's column that stands in this row, if one does."""
        home = guest.column.home
        assert isinstance(home, Table)
        for row in home.rows:
            if row.key == guest.rows.get(host.key):
                self.cell(home, guest.column, at, row.key, f"{row.words} · {guest.column.words}")

    def _table_check(self, table: Table, row: Row, check: Check, at: int) -> None:
        of, limits = check.of, per(check.limits, row.key)
        key = of[row.key]
        low, high = (_end(end, row) for end in (check.low, check.high))
        if limits is not None:
            low = of.low_end if limits.low else low
            high = of.high_end if limits.high else high
        plan = CheckPlan(
            key,
            key if check.judged else of.verdict[row.key],
            self.layout.place(key).label,
            self.plan.sheet.name,
            check.says,
            low,
            high,
            per(check.source, row.key) or (limits.told if limits is not None else ""),
            check.judged,
            fresh_in=table.stale_with or table.fresh_in,
            if_stated=check.if_stated,
            section=self.section,
            spot=per(check.spot, row.key),
            asked=check.asked[row.key] if check.asked else None,
            story=tuple(one[row.key] for one in check.story),
        )
        # how the readings of one state were taken stands, whatever is read later
        answered = () if check.if_stated else table.answered(of.name, row.key)
        self.check(plan, at, answered)


def sources(table: Table) -> str:
    """Who sets the limits of a table's columns, in one line."""
    words = {item.name: item.words for item in table.columns if isinstance(item, Column)}
    said = grouped((item.limits.told, words[item.of.name]) for item in _limited(table))
    return "".join(
        f"Limits of {', '.join(names)}: {source}. " for source, names in said.items()
    ).strip()


def _limited(table: Table) -> list[Any]:
    """The checks that hold all rows to one limit."""
    return [
        one for one in table.columns if isinstance(one, Check) and isinstance(one.limits, Limit)
    ]


def _end(end: Any, row: Row) -> Key | None:
    """The key of a limit's end: a column of the same row, or a cell elsewhere."""
    return None if end is None else Key(resolved(per(end, row.key), row.key))


def _slots(table: Table) -> dict[str, int]:
    """Where each column of a table stands, by its slot, guests behind its own readings; a check
    that is judged elsewhere has none, and a guest elsewhere neither.
    """
    guests = [one.column for one in table.guests]
    read = [one for one in table.columns if isinstance(one, Reading)] if guests else []
    slots: dict[str, int] = {}
    for item in (*read, *guests, *table.columns):
        aside = item.slot in table.hosted or (isinstance(item, Check) and item.judged)
        if not aside:
            slots.setdefault(item.slot, len(slots) + 2)
    return slots


def _words(item: Column | Check, before_unit: str) -> str:
    """The words over a column, its unit after them where it is one for all rows."""
    if isinstance(item, Check):
        return "verdict"
    unit = item.unit if isinstance(item.unit, str) else ""
    return item.words + (before_unit + shown(unit) if unit else "")
