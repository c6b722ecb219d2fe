"""Declared tables into cells: gives the parts of a sheet their rows and columns, from the top
down.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from datumbook.cells.columns import Check, Column, Given, Reading, Result, per
from datumbook.cells.handles import DeclarationError, Handle
from datumbook.cells.tables import FaceMap, Form, Line, Picture, Prose, Row, Sheet, Table
from datumbook.equations import verdicts
from datumbook.formulas.spelling import Address
from datumbook.formulas.tracing import parameters
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import shown
from datumbook.spec import Limit, Spec
from datumbook.workbook.layout import (
    HEAD_ROWS,
    HEADING,
    WHOLE,
    CheckPlan,
    Layout,
    LayoutError,
    Place,
    Resolved,
    Role,
    SheetPlan,
    Text,
)
from datumbook.workbook.repeats import take_twice


class Placing:
    """Gives the parts of a sheet their rows and columns, from the top down."""

    def __init__(self, layout: Layout, sheet: Sheet) -> None:
        self.layout = layout
        self.plan = SheetPlan(sheet)
        self.row = HEAD_ROWS + 1
        layout.plans[sheet.name] = self.plan

    def place_all(self) -> None:
        """Place the head and every part."""
        self._head()
        for part in self.plan.sheet.parts:
            if isinstance(part, Picture):
                self._picture(part)
                continue
            first = self.row
            if isinstance(part, Table):
                take_twice(part, self.layout)
                self._table(part)
            elif isinstance(part, Form):
                self._form(part)
            elif isinstance(part, FaceMap):
                self._chart(part)
            else:
                self._prose(part)
            self.plan.spans.append((first, self.row - 1, getattr(part, "own_page", False)))
            self.row += 1
        self.plan.rows = self.row - 1

    def _picture(self, picture: Picture) -> None:
        """Room for a picture; one that stands beside another begins in the same row."""
        if picture.beside:
            self.plan.pictures.append((self.plan.pictures[-1][0], picture))
            return
        self.plan.pictures.append((self.row, picture))
        self.plan.spans.append((self.row, self.row + picture.lines - 1, picture.own_page))
        self.row += picture.lines + 1

    def _head(self) -> None:
        sheet, layout = self.plan.sheet, self.layout
        self._text(1, 1, sheet.title, "title", 6)
        self._text(2, 1, layout.heading, HEADING, 8)
        self._text(3, 1, sheet.how or conventions(layout.spec), "how", WHOLE)

    def _text(self, row: int, column: int, words: str, style: str, across: int = 1) -> None:
        self.plan.texts.append(
            Text(Address(self.plan.sheet.name, row, column), words, style, across)
        )
        self.plan.columns = max(self.plan.columns, column)

    def _chart(self, chart: FaceMap) -> None:
        """Room for a picture; the points of what is drawn stand beside it, in columns that are not
        printed.
        """
        self._part_title(chart, chart.note)
        self.plan.charts.append((self.row, chart))
        first = self.row
        for drawn in chart.outlines:
            for number, point in enumerate(drawn.points, start=1):
                self.row = first + number - 1
                for axis, size in zip(("along", "across"), point, strict=True):
                    column, label = (
                        chart.column_of(drawn, axis),
                        f"{drawn.words} · point {number} · {axis}",
                    )
                    self._given(
                        chart.cell(f"{drawn.name}_{number}", axis),
                        column,
                        size,
                        chart.unit,
                        1,
                        label,
                    )
        self.row = first + chart.rows

    def _part_title(self, part: Table | Form | Prose | FaceMap, note: str) -> None:
        self._text(self.row, 1, part.title, "part", WHOLE)
        self.row += 1
        if note:
            self._text(self.row, 1, note, "note", WHOLE)
            self.row += 1

    def _table(self, table: Table) -> None:
        self._part_title(table, " ".join(part for part in (table.note, _sources(table)) if part))
        columns = _columns(table)
        if table.turned:
            self._turned(table, columns)
            return
        checks = [item for item in table.columns if isinstance(item, Check)]
        if table.spoilers:
            self._freshness(table)
        self._headings(table, columns)
        limited = {check.held: check.limits for check in checks if isinstance(check.limits, Limit)}
        if limited:
            self._limit_rows(table, columns, limited)
        for row in table.rows:
            self._table_row(table, row, columns)
            self.row += 1

    def _turned(self, table: Table, slots: Mapping[str, int]) -> None:
        """A table with its rows side by side: every column becomes a line, its words and unit at
        the left.
        """
        top = self.row
        self._text(top, 1, table.heading, "heading")
        for column, row in enumerate(table.rows, start=2):
            self._text(top, column, row.words, "heading")
        for item in table.columns:
            self.row = top - 1 + slots.get(_slot(item), 0)
            if _slot(item) in slots:
                self._text(self.row, 1, _words(item, ", "), "row")
            for column, row in enumerate(table.rows, start=2):
                self._table_cell(table, row, item, column)
        self.row = top + 1 + len(slots)

    def _freshness(self, table: Table) -> None:
        """The line that says after which operation a table's readings were taken, and which came
        since.
        """
        self._text(self.row, 1, "Taken after done number", "row")
        how = "The highest done number on the Route sheet when these were read."
        taken = Reading(
            name="taken_after",
            words="taken after done number",
            unit="",
            wanted=False,
            whole=True,
            possible=(0.0, 99.0),
            how=how,
        )
        self._column_cell(
            f"{table.key}.taken_after",
            taken,
            Row("", ""),
            2,
            f"{table.title} · taken after done number",
            table,
        )
        self._text(self.row, 3, "moved since by done number", "line_note", 3)
        spoilers = [one if "." in one else f"route.{one}.done" for one in table.spoilers]
        moved = Result(
            name="spoiled_by",
            words="moved by",
            unit="",
            equation=verdicts.latest_done,
            inputs={"done": spoilers},
        )
        self._column_cell(
            f"{table.key}.spoiled_by",
            moved,
            Row("", ""),
            6,
            f"{table.title} · moved by done number",
            table,
        )
        self.row += 1

    def _headings(self, table: Table, columns: Mapping[str, int]) -> None:
        self._text(self.row, 1, table.heading, "heading")
        for item in table.columns:
            if _slot(item) in columns:
                self._text(self.row, columns[_slot(item)], _words(item, "\n"), "heading")
        if table.repeated:
            self.plan.repeated = (self.row, self.row)
        self.row += 1

    def _limit_rows(
        self, table: Table, columns: Mapping[str, int], limited: Mapping[str, Limit]
    ) -> None:
        by_name = {item.name: item for item in table.columns if isinstance(item, Column)}
        for end, words in (("from", NOT_LESS), ("to", NOT_MORE)):
            bounds = {
                name: limit.low if end == "from" else limit.high for name, limit in limited.items()
            }
            if not any(bounds.values()):
                continue
            self._text(self.row, 1, words, "limit_words")
            for name, bound in bounds.items():
                if bound is not None:
                    column = by_name[name]
                    unit = per(column.unit, "")
                    label = f"{table.title} · {column.words} · {words}"
                    self._given(
                        f"{table.key}.{name}.{end}",
                        columns[name],
                        bound,
                        unit,
                        per(column.decimals, ""),
                        label,
                    )
            self.row += 1

    def _table_row(self, table: Table, row: Row, columns: Mapping[str, int]) -> None:
        self._text(self.row, 1, row.words, "row")
        for item in table.columns:
            self._table_cell(table, row, item, columns.get(_slot(item), 0))

    def _table_cell(self, table: Table, row: Row, item: Column | Check, column: int) -> None:
        if not item.stands_in(row.key):
            return
        if isinstance(item, Check):
            self._table_check(table, row, item, column)
        else:
            key = f"{table.key}.{row.key}.{item.name}"
            self._column_cell(key, item, row, column, f"{row.words} · {item.words}", table)

    def _table_check(self, table: Table, row: Row, check: Check, column: int) -> None:
        key = f"{table.key}.{row.key}.{check.held}"
        limits = per(check.limits, row.key)
        stem = f"{table.key}.{check.held}"
        if limits is not None:
            low, high = (
                (f"{stem}.from" if limits.low else None),
                (f"{stem}.to" if limits.high else None),
            )
        else:
            low, high = (_in_row(table, row, end) for end in (check.low, check.high))
        source = limits.source if limits is not None else per(check.source, row.key)
        finished = check.superseded_by.format(row=row.key)
        plan = CheckPlan(
            key,
            self.layout.place(key).label,
            self.plan.sheet.name,
            check.says,
            low,
            high,
            source,
            check.judged,
            finished,
            _fresh(table if table.spoilers else table.fresh_in),
            check.if_stated,
        )
        answered = table.answered(check.held, row.key, check.answers)
        if answered is not None:
            self.layout.answered[answered] = plan.verdict
        self._check(plan, column)

    def _form(self, form: Form) -> None:
        self._part_title(form, form.note)
        limited = any(line.limits or line.says for line in form.lines)
        for column, words in enumerate(
            ("", "value", "unit", "from", "to", "verdict") if limited else (), start=1
        ):
            self._text(self.row, column, words, "heading")
        self.row += 1 if limited else 0
        for line in form.lines:
            self._line(form, line, limited)
            self.row += 1

    def _line(self, form: Form, line: Line, limited: bool) -> None:
        column = line.column
        key = f"{form.key}.{column.name}"
        self._text(self.row, 1, column.words, "row")
        self._column_cell(key, column, Row("", column.words), 2, column.words, form)
        unit = per(column.unit, "")
        if unit:
            self._text(self.row, 3, shown(unit), "unit")
        if line.note:
            at, across = (7, 1) if 7 in self.plan.sheet.widths else (7 if limited else 4, 4)
            self._text(self.row, at, line.note, "line_note", across)
            self.plan.columns = max(self.plan.columns, at + across - 1)
        if line.limits or line.says:
            self._line_limits(form, key, line, unit)

    def _line_limits(self, form: Form, key: str, line: Line, unit: str | None) -> None:
        ends: dict[str, str | None] = {"from": None, "to": None}
        limits = line.limits
        for place, (end, bound) in enumerate(
            (("from", limits.low), ("to", limits.high)) if limits else (), start=4
        ):
            if bound is not None:
                ends[end] = f"{key}.{end}"
                self._given(
                    f"{key}.{end}",
                    place,
                    bound,
                    unit,
                    per(line.column.decimals, ""),
                    f"{line.column.words} · {end}",
                )
        source = limits.source if limits else ""
        label = self.layout.place(key).label
        answered = form.answered(line.column.name, "", line.answers)
        if answered is not None:
            self.layout.answered[answered] = f"{key}.verdict"
        self._check(
            CheckPlan(
                key,
                label,
                self.plan.sheet.name,
                line.says,
                ends["from"],
                ends["to"],
                source,
                superseded_by=line.superseded_by,
                fresh_in=_fresh(form.fresh_in),
            ),
            6,
        )

    def _prose(self, prose: Prose) -> None:
        self._part_title(prose, "")
        for line in prose.lines:
            column = 1
            for words, width in zip(line, prose.widths, strict=False):
                self._text(self.row, column, words, "prose", width)
                column += width
            self.row += 1

    def _column_cell(
        self, key: str, column: Column, row: Row, at: int, label: str, part: Table | Form
    ) -> None:
        unit, decimals = per(column.unit, row.key), per(column.decimals, row.key)
        if isinstance(column, Given):
            self._given(key, at, per(column.value, row.key), unit, decimals, label, column)
            return
        role: Role = "reading" if isinstance(column, Reading) else "result"
        equation = column.equation if isinstance(column, Result) else None
        inputs = _inputs(column, part, row.key) if isinstance(column, Result) else {}
        self._put(
            Place(key, self._at(at), role, label, unit, decimals, column, row.key, equation, inputs)
        )

    def _given(
        self,
        key: str,
        at: int,
        value: Any,
        unit: str | None,
        decimals: int,
        label: str,
        column: Column | None = None,
    ) -> None:
        if value is None:
            return
        plain = value.to(unit or "") if isinstance(value, Quantity) else value
        self._put(Place(key, self._at(at), "given", label, unit, decimals, column, value=plain))

    def _check(self, plan: CheckPlan, at: int) -> None:
        self.layout.checks.append(plan)
        if not plan.judged:
            equation, inputs = verdict_of(plan)
            label = f"{plan.words} · verdict"
            self._put(
                Place(
                    plan.verdict,
                    self._at(at),
                    "verdict",
                    label,
                    None,
                    0,
                    equation=equation,
                    inputs=inputs,
                )
            )

    def _at(self, column: int) -> Address:
        self.plan.columns = max(self.plan.columns, column)
        return Address(self.plan.sheet.name, self.row, column)

    def _put(self, place: Place) -> None:
        if place.key in self.layout.places:
            raise LayoutError(f"two cells are called {place.key}")
        self.layout.places[place.key] = place


def verdict_of(check: CheckPlan) -> tuple[Callable[..., str], dict[str, Resolved]]:
    """Return the equation of a check's verdict and what it is called with."""
    if check.says is not None:
        return verdicts.verdict_of_tick, {"tick": check.key}
    inputs: dict[str, Resolved] = {"value": check.key, "uncertainty": f"release.{check.key}.guard"}
    ends: dict[str, Resolved] = {
        name: end for name, end in (("low", check.low), ("high", check.high)) if end
    }
    if not ends:
        raise LayoutError(f"the check of {check.key} has no limit")
    if check.if_stated:
        return verdicts.stated_at_most, {"value": check.key} | ends
    shape = "between" if len(ends) == 2 else "at_least" if check.low else "at_most"
    if check.fresh_in:
        fresh: dict[str, Resolved] = {
            name: f"{check.fresh_in}.{name}" for name in ("taken_after", "spoiled_by")
        }
        return getattr(verdicts, f"fresh_{shape}"), inputs | ends | fresh
    return getattr(verdicts, f"verdict_{shape}"), inputs | ends


def conventions(spec: Spec) -> str:
    """One line that fixes what left, front and cylinder 1 mean for this engine."""
    engine = spec.engine
    return (
        f"Cylinder 1 is at the {engine.first_cylinder}. Left and right as seen from the "
        f"{engine.seen_from}. "
        f"Thrust side: {engine.thrust_side}."
    )


def _sources(table: Table) -> str:
    """Who sets the limits of a table's columns, in one line."""
    words = {item.name: item.words for item in table.columns if isinstance(item, Column)}
    said: dict[str, list[str]] = {}
    for item in table.columns:
        if isinstance(item, Check) and isinstance(item.limits, Limit):
            said.setdefault(item.limits.source, []).append(words[item.held])
    return "".join(
        f"Limits of {', '.join(names)}: {source}. " for source, names in said.items()
    ).strip()


def _fresh(table: Table | str | None) -> str:
    """The key of the table whose readings can go stale, "" where none does."""
    return table.key if isinstance(table, Table) else table or ""


def _in_row(table: Table, row: Row, end: Any) -> str | None:
    """The key of a limit's end: a column of the same row, or a cell elsewhere."""
    if end is None:
        return None
    if isinstance(end, str) and "." not in end:
        return table.cell(row.key, end)
    found = resolved(per(end, row.key), row.key)
    assert isinstance(found, str)
    return found


def _columns(table: Table) -> dict[str, int]:
    """Where each column of a table stands, by its slot; a check that is judged elsewhere has
    none.
    """
    found: dict[str, int] = {}
    for item in table.columns:
        if not (isinstance(item, Check) and item.judged):
            found.setdefault(_slot(item), len(found) + 2)
    return found


def _slot(item: Column | Check) -> str:
    """What names the place of a column in its table: columns of one name share it, each in rows of
    its own.
    """
    return f"{item.held}.verdict" if isinstance(item, Check) else item.name


def _words(item: Column | Check, before_unit: str) -> str:
    """The words over a column, its unit after them where it is one for all rows."""
    if isinstance(item, Check):
        return "verdict"
    return item.words + (
        before_unit + shown(item.unit) if isinstance(item.unit, str) and item.unit else ""
    )


def _inputs(result: Result, part: Table | Form, row: str) -> dict[str, Resolved]:
    """What an equation is called with; a parameter it does not name is a column of the same row."""
    before, group, after = parameters(result.equation)
    found: dict[str, Resolved] = {}
    for name in (*before, *((group,) if group else ()), *after):
        try:
            given = per(result.inputs.get(name), row)
            if given is None:
                if not part.has(name, row):
                    getattr(part, name)
                    raise DeclarationError(f"{part.key}.{name} has no row {row}")
                found[name] = part.cell(row, name)
            else:
                found[name] = resolved(given, row)
        except DeclarationError as refusal:
            asker = part.cell(row, result.name)
            raise DeclarationError(f"{asker} asks for `{name}`: {refusal}") from refusal
    return found


def resolved(given: Any, row: str) -> Any:
    """What a declared input stands for in one row: the key of a cell, a quantity, or a list."""
    if isinstance(given, Handle):
        return given.key if isinstance(given.home, Form) else given[row]
    if isinstance(given, str):
        return given.format(*row.split("."), row=row) if "{" in given else given
    if isinstance(given, Quantity):
        return given
    return [resolved(one, row) for one in given]
