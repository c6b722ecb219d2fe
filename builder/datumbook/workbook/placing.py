"""Placing: gives the declared parts of a sheet their rows and columns, from the top down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from datumbook.cells.columns import per
from datumbook.cells.face_maps import FaceMap
from datumbook.cells.scales import ChartScale
from datumbook.cells.tables import Form, Line, Picture, Prose, Sheet, SheetPart, Table
from datumbook.numbers.units import shown
from datumbook.spec import Spec
from datumbook.workbook.guesses import held_to_guess
from datumbook.workbook.inputs import judged_by
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import HEAD_ROWS, HEADING, WHOLE, CheckPlan, PrintedText, Span
from datumbook.workbook.placing_tables import TableCursor, sources
from datumbook.workbook.repeats import take_twice


def place(layout: Layout, sheet: Sheet) -> None:
    """Give every cell of a sheet its place in the layout. DeclarationError for one asked in vain,
    or declared twice.
    """
    cursor = SheetCursor(layout, sheet)
    layout.plans[sheet.name] = cursor.plan
    cursor.fill()


def judge(layout: Layout) -> None:
    """Give the verdict of every check its equation, and each check as received the finished one
    that answers it; every cell that is asked for must be there. DeclarationError naming both.
    """
    guard = layout.stations.release.checks.guard_of
    for check in layout.checks:
        if not check.judged:
            layout.places[check.verdict].judged(*judged_by(check, guard))
        held_to_guess(layout, check)
    for place in layout.places.values():
        for one in place.asks:
            if one not in layout.places:
                layout.missing(one, place.key)


class SheetCursor(TableCursor):
    """A cursor that places all parts of a sheet."""

    def fill(self) -> None:
        """Place the head and every part, those of the second column beside the first."""
        self._head()
        for section in self.plan.sheet.every_section:
            self._section(section, section.on_paper)
        self._printed_so_far()
        for section in self.plan.sheet.every_section:
            self._section(section, section.on_screen)
        if beside := self.plan.sheet.beside:
            below, texts = self.row, self.plan.texts
            self.plan.seconds = self.plan.columns + 2
            texts[:] = [ended(one, self.plan.columns) for one in texts]
            self.row, self.left = HEAD_ROWS + 1, self.plan.columns + 1
            self._parts(beside)
            self.row = max(self.row, below)
            self._printed_so_far()
        self.plan.rows = self.row - 1

    def _printed_so_far(self) -> None:
        self.plan.printed_rows, self.plan.printed_columns = self.row - 1, self.plan.columns

    def _section(self, section: Sheet, parts: Sequence[SheetPart]) -> None:
        """Place parts of a section, under its title where they are its first."""
        if not parts:
            return
        top, spans = self.row, self.plan.spans
        before = len(spans)
        if section.name not in self.plan.begins:
            self._begin(section)
        self.section = section
        self._parts(parts)
        spans[before] = replace(spans[before], first=top)  # its title stays with its first part

    def _begin(self, section: Sheet) -> None:
        """The title of a section that is not the first of its sheet, which has its head."""
        first = not self.plan.begins
        self.plan.begins[section.name] = 1 if first else self.row
        if first:
            return
        self.text(1, section.title, "section", WHOLE)
        self.row += 1
        if section.how:
            self.text(1, section.how, "note", WHOLE)
            self.row += 1

    def _parts(self, parts: Sequence[SheetPart]) -> None:
        for part in parts:
            if isinstance(part, Picture):
                self._picture(part)
                continue
            first = self.row
            if isinstance(part, Table | Form):
                part.section = self.section
            if isinstance(part, Table):
                self._state_read(part)
                take_twice(part, self.layout)
                self._title(part, part.note, sources(part))
                self.table(part)
            elif isinstance(part, Form):
                self._form(part)
            elif isinstance(part, FaceMap):
                self._chart(part)
            else:
                self._prose(part)
            self._span(first, self.row - 1, part)
            self.row += 1

    def _span(self, first: int, last: int, part: SheetPart) -> None:
        self.plan.spans.append(Span(first, last, part, self.section, self.left))

    def _state_read(self, part: Table) -> None:
        """Before the first table of a series, in which state of assembly the series was read."""
        state = part.spoilers.state if part.spoilers else None
        if state is not None and state.unfit not in self.layout.places:
            self._parts([state])

    def _picture(self, picture: Picture) -> None:
        """Room for a picture; one that stands beside another begins in the same row."""
        if picture.beside:
            self.plan.pictures.append((self.plan.pictures[-1][0], picture))
            return
        self.plan.pictures.append((self.row, picture))
        self._scale(picture.scale)
        self._span(self.row, self.row + picture.lines - 1, picture)
        self.row += picture.lines + 1

    def _scale(self, scale: ChartScale) -> None:
        """The limit lines of a scale, behind the first picture that is drawn to it."""
        first = self.row
        for column, line in enumerate(scale.limits, start=2):
            label = f"{line.words}, {line.name}"
            for number, key in enumerate(scale.cells(line), start=1):
                if key not in self.layout.places:
                    self.row = first + number
                    self.given(key, column, line.size, scale.unit, scale.decimals, label)
        self.row = first

    def _head(self) -> None:
        sheet = self.plan.sheet
        self.text(1, sheet.title, "title", 6, row=1)
        self.text(1, self.layout.heading, HEADING, 8, row=2)
        self.text(1, sheet.how or conventions(self.layout.spec), "how", WHOLE, row=3)

    def _chart(self, chart: FaceMap) -> None:
        """Room for a picture; the points of what is drawn stand beside it, in columns that are not
        printed.
        """
        self._title(chart, chart.note)
        self.plan.charts.append((self.row, chart))
        first = self.row
        for drawn in chart.outlines:
            for number, point in enumerate(drawn.points, start=1):
                self.row = first + number - 1
                for axis, size in zip(("along", "across"), point, strict=True):
                    key = chart.cell(f"{drawn.name}_{number}", axis)
                    label = f"{drawn.words} · point {number} · {axis}"
                    self.given(key, chart.column_of(drawn, axis), size, chart.unit, 1, label)
        self.row = first + chart.rows

    def _title(self, part: Table | Form | Prose | FaceMap, note: str, of_limits: str = "") -> None:
        """A part's title, below it its note line by line, and whose limits it has."""
        self.text(1, part.title, "part", WHOLE)
        self.row += 1
        lines = [*((line, "note") for line in note.split("\n")), (of_limits, "source")]
        for line, style in lines:
            if line:
                self.text(1, line, style, WHOLE)
                self.row += 1

    def _form(self, form: Form) -> None:
        self._title(form, form.note, self._sources(form))
        limited = any(line.limits or line.says for line in form.each)
        headings = ("", "value", "unit", "from", "to", "verdict") if limited else ()
        for column, words in enumerate(headings, start=1):
            self.text(column, words, "heading")
        self.row += 1 if limited else 0
        for line in form.each:
            self._line(form, line, limited)
            self.row += 1

    def _sources(self, form: Form) -> str:
        """Where the limits are from, in one line, where beside other parts there is no room for it
        at each.
        """
        said = dict.fromkeys(line.note for line in form.each if _is_source(line))
        return f"Limits: {', '.join(said)}." if said and self.plan.sheet.beside else ""

    def _line(self, form: Form, line: Line, limited: bool) -> None:
        column = line.column
        self.text(1, column.words, "row")
        self.cell(form, column, 2, "", column.words)
        unit = per(column.unit, "")
        if unit:
            self.text(3, shown(unit), "unit")
        if line.note and not (self.plan.sheet.beside and _is_source(line)):
            at, across = (7, 1) if 7 in self.plan.sheet.widths else (7 if limited else 4, 4)
            self.text(at, line.note, "line_note", across)
            self.reach(at + across - 1)
        if line.limits or line.says:
            self._line_check(form, line, unit)

    def _line_check(self, form: Form, line: Line, unit: str | None) -> None:
        column, limits = line.column, line.limits
        low, high = (limits.low, limits.high) if limits else (None, None)
        for at, bound, key in ((4, low, column.low_end), (5, high, column.high_end)):
            end = "from" if at == 4 else "to"
            decimals = per(column.decimals, "")
            self.given(key, at, bound, unit, decimals, f"{column.words} · {end}")
        plan = CheckPlan(
            column.key,
            column.verdict.key,
            self.layout.place(column.key).label,
            self.plan.sheet.name,
            line.says,
            column.low_end if low is not None else None,
            column.high_end if high is not None else None,
            limits.told if limits else "",
            fresh_in=form.fresh_in,
            section=self.section,
        )
        self.check(plan, 6, form.answered(column.name, ""))

    def _prose(self, prose: Prose) -> None:
        self._title(prose, "")
        for line in prose.lines:
            column = 1
            for words, width in zip(line, prose.widths, strict=False):
                self.text(column, words, "prose", width)
                column += width
            self.row += 1


def _is_source(line: Line) -> bool:
    """Whether what is noted at a line is where its limits are from."""
    return line.limits is not None and line.note == line.limits.told


def ended(text: PrintedText, last: int) -> PrintedText:
    """A text of the parts at the left, which runs no further than they do; the head runs on."""
    if text.at.row <= HEAD_ROWS:
        return text
    return replace(text, across=min(text.across, last + 1 - text.at.column))


def conventions(spec: Spec) -> str:
    """One line that fixes what left, front and cylinder 1 mean for this engine."""
    engine = spec.engine
    said = (
        f"Cylinder 1 is at the {engine.first_cylinder}." if engine.first_cylinder else "",
        f"Left and right as seen from the {engine.seen_from}." if engine.seen_from else "",
        f"Thrust side: {engine.thrust_side}." if engine.thrust_side else "",
    )
    return " ".join(filter(None, said))
