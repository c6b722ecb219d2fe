"""Layout to workbook file. The only importer of xlsxwriter.

The same layout and readings give the same bytes. Every formula carries the value worked out in
Python, so that a viewer that never calculates shows the truth.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from datumbook.cells.tables import STAGES
from datumbook.effort import in_one_go
from datumbook.files import write_whole
from datumbook.formulas.spelling import Address, ranges_of
from datumbook.workbook.entry_rules import entry_rule
from datumbook.workbook.evaluation import Breakdown, reckon
from datumbook.workbook.layout import Layout
from datumbook.workbook.page_heads import FOOT, head_of
from datumbook.workbook.pen import PenForm
from datumbook.workbook.placed import HEAD_ROWS, HEADING, Place, PrintedText, SheetPlan
from datumbook.workbook.record import PROPERTY, SHEET, chunks
from datumbook.workbook.styles import (
    BASE,
    LARGE_PRINT,
    TABS,
    UNPRINTED,
    VERDICT_STYLES,
    place_style,
    says_verdict,
    text_style,
)
from datumbook.writer.face_pictures import drawn_face
from datumbook.writer.measures import POINTS, column_pixels, pixels
from datumbook.writer.page import Page, form_page
from datumbook.writer.pictures import drawn, inserted
from datumbook.writer.sketches import SKETCH_HIGH, beside, in_its_row, sketch

MADE = datetime(2000, 1, 1, tzinfo=UTC).replace(
    tzinfo=None
)  # a fixed day: the same job gives the same bytes
PAPERS = {"A4": 9, "Letter": 1}  # by their numbers in the file. Source: ECMA-376, 18.3.1.63
MAY_STILL = {"format_columns": True, "format_rows": True, "select_locked_cells": True}
NARROW = 20.0  # figures: the widest first column that stays in sight, under half a phone
SPELLED = re.compile(r"(_x[0-9A-Fa-f]{4}_)")  # how a letter stands by its number
FORBIDDEN = re.compile(r"[\x00-\x08\x0B-\x1F]")


def write(
    layout: Layout,
    path: Path,
    readings: Mapping[str, object] | None = None,
    *,
    pen: bool = False,
    protected: bool = True,
) -> None:
    """Write the workbook of a layout with these readings in it, whole or not at all; for the pen,
    with all hidden that nobody writes on; unless `protected`, with no sheet locked. Raises OSError.
    """
    write_whole(path, workbook_bytes(layout, readings or {}, pen=pen, protected=protected))


@in_one_go
def workbook_bytes(
    layout: Layout, readings: Mapping[str, object], *, pen: bool = False, protected: bool = True
) -> bytes:
    """Return the workbook file as bytes."""
    buffer = io.BytesIO()
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # xlsxwriter warns where it leaves something out
        _Book(layout, readings, buffer, pen=pen, protected=protected).write()
    return buffer.getvalue()


class _Sheet(Worksheet):  # type: ignore[misc]  # the library has no types
    """A sheet that takes formulas as they are spelled.

    Before it stores a formula, the library searches it some thirty times for functions that need a
    prefix in the file; none of those `spelling` uses does, and the search takes a sixth of the time
    of writing a book.
    """

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:  # noqa: ARG002
        return formula.removeprefix("=")

    def _write_conditional_formats(self) -> None:
        # of rules that stand together some programs keep the first, of those apart others the last
        for cells, rules in self.cond_formats.items():
            for rule in rules[1:]:
                apart = rule | {"priority": rule["priority"] + len(rules)}
                self._write_conditional_formatting(cells, [apart])
            self._write_conditional_formatting(cells, rules)


class _Book:
    def __init__(
        self,
        layout: Layout,
        readings: Mapping[str, object],
        buffer: io.BytesIO,
        *,
        pen: bool,
        protected: bool,
    ) -> None:
        self.layout, self.pen, self.protected = layout, pen, protected
        self.readings = readings
        self.values = reckon(layout, readings)
        stations = layout.stations
        go_to = stations.release.checks.go_to
        self.links = (go_to, stations.job.way.go_to)
        self.back = {one.verdict: str(layout.address(go_to[one.key])) for one in layout.checks}
        self.release = layout.address(stations.release.decision.release_state.key).sheet
        plain = {
            name: BASE[name] for name in ("font_name", "font_size", "font_scheme")
        }  # columns are as wide as so many of its figures
        self.book = xlsxwriter.Workbook(
            buffer,
            {
                "in_memory": True,
                "strings_to_formulas": False,
                "strings_to_urls": False,
                "strings_to_numbers": False,
                "default_format_properties": plain,
            },
        )
        self.formats: dict[tuple[tuple[str, Any], ...], Format] = {}
        self.narrow: list[str] = []  # the sheets whose forms go without some limits
        self.scale = 1.0

    def write(self) -> None:
        layout = self.layout
        self.book.set_properties(
            {
                "title": f"Block record {layout.job.block}",
                "subject": layout.spec.engine.name,
                "created": MADE,
            }
        )
        self.book.set_custom_property(PROPERTY, layout.identity, "text")
        sheets = {name: self.book.add_worksheet(name, _Sheet) for name in layout.plans}
        for name, plan in layout.plans.items():
            self._sheet(sheets[name], plan)
        self._tabs(sheets)
        self._record()
        for name, at in layout.names.items():
            self.book.define_name(name, f"={at}")
        self.book.close()

    def format(self, look: Mapping[str, Any]) -> Format:
        if self.scale != 1.0:
            look = dict(look) | {
                "font_size": round(look.get("font_size", BASE["font_size"]) * self.scale)
            }
        key = tuple(sorted(look.items()))
        if key not in self.formats:
            self.formats[key] = self.book.add_format(dict(look))
        return self.formats[key]

    def _paged(self, plan: SheetPlan, places: Sequence[Place]) -> Page:
        """How a sheet is printed, whole or for the pen."""
        if not self.pen:
            return Page(plan, places, self.readings, paper=self.layout.spec.shop.paper)
        return form_page(self.layout, plan, self.readings)

    def _sheet(self, sheet: Worksheet, plan: SheetPlan) -> None:
        places = self.layout.by_sheet[plan.sheet.name]
        page = self._paged(plan, places)
        form = page.form
        self.narrow += [plan.sheet.name] if form and form.narrow else []
        self.scale = plan.sheet.scale
        sheet.set_default_row(pixels(page.plain_row) * POINTS)
        for column, width in page.widths.items():
            hidden = {"hidden": column in page.hidden_columns}
            look = self.format(BASE)
            sheet.set_column_pixels(column - 1, column - 1, column_pixels(width), look, hidden)
        for text in plan.texts:
            self._text(sheet, text, page)
        for place in places:
            self._place(sheet, place, form)
        for row in page.fixed_rows:
            sheet.set_row_pixels(row - 1, pixels(page.total_height(row)))
        for row in page.hidden_rows:
            sheet.set_row(row - 1, None, None, {"hidden": True})
        if form is None:
            self._drawings(sheet, plan)
            self._verdict_colours(sheet, plan.sheet.name)
        elif form.is_blank:
            sheet.hide()
        else:
            self._sketches(sheet, page, form)
        for row, face in plan.charts:
            chart = drawn_face(self.book, self.layout, face, plan.sheet.name, row)
            sheet.insert_chart(row - 1, 0, chart, {"description": face.says, "object_position": 1})
        self._page(sheet, page)
        self._screen(sheet, page)

    def _sketches(self, sheet: Worksheet, page: Page, form: PenForm) -> None:
        """Where to measure, under the words of a table."""
        for row, name in form.sketches.items():
            below = pixels(page.total_height(row)) - SKETCH_HIGH
            sheet.insert_image(row - 1, 0, str(sketch(name)), in_its_row(name, below))
        for (row, column), name in form.sketches_beside.items():
            sheet.insert_image(row - 1, column - 1, str(sketch(name)), beside(name))

    def _drawings(self, sheet: Worksheet, plan: SheetPlan) -> None:
        for row, picture in plan.pictures:
            chart = drawn(self.book, self.layout, picture)
            sheet.insert_chart(row - 1, 0, chart, inserted(picture))

    def _text(self, sheet: Worksheet, text: PrintedText, page: Page) -> None:
        seen = page.form is None or page.form.shows_text(text)
        look = self.format(text_style(text.style) if seen else UNPRINTED)
        row, column, last = text.at.row - 1, text.at.column - 1, page.last_column(text) - 1
        if last > column:
            sheet.merge_range(row, column, row, last, "", look)
        if text.style == HEADING:
            self._link(sheet, text.at, f"{self._over(text.at.sheet)}!A1", look, text.words)
        else:
            sheet.write_string(row, column, text.words, look)
        if text.style == "part" and seen:
            for further in range(column + 1, min(column + text.across, page.printed)):
                sheet.write_blank(row, further, None, look)

    def _place(self, sheet: Worksheet, place: Place, form: PenForm | None) -> None:
        row, column = place.at.row - 1, place.at.column - 1
        typed = self.readings.get(place.key) if place.role == "reading" else None
        look = self.format(place_style(place, typed) | (LARGE_PRINT if self.scale > 1 else {}))
        if form and not form.shows(place):
            look = self.format(place_style(place, typed) | UNPRINTED)
        if place.role == "reading":
            sheet.write(row, column, _storable(typed), look)
            sheet.data_validation(row, column, row, column, entry_rule(place))
        elif place.column in self.links:
            link = self.format(place_style(place) | {"font_color": "#0F4C5C", "underline": 1})
            self._link(sheet, place.at, str(place.value), link, str(place.value))
        elif isinstance(place.value, str):
            sheet.write_string(row, column, place.value, look)
        elif place.role == "given":
            sheet.write_number(row, column, place.value or 0.0, look)
        else:
            value = self.values[place.key]
            shown = "#DIV/0!" if isinstance(value, Breakdown) else "" if value is None else value
            shown = _spelled(shown) if isinstance(shown, str) else shown
            if place.key in self.back:
                self._link(sheet, place.at, self.back[place.key], look, "OPEN")
            sheet.write_formula(row, column, f"={self.layout.formula(place.key)}", look, shown)

    def _link(self, sheet: Worksheet, at: Address, to: str, look: Format, words: str) -> None:
        """A cell of words, or one that a formula is then written to, that leads elsewhere."""
        sheet.write_url(at.row - 1, at.column - 1, f"internal:{to}", look, words, f"Go to {to}")

    def _over(self, sheet: str) -> str:
        """The sheet that the head of a sheet leads to: the first, and from there the release."""
        first = next(iter(self.layout.plans))
        return self.release if sheet == first else first

    def _tabs(self, sheets: Mapping[str, Worksheet]) -> None:
        """Tabs in the colour of the stage that is reached there, from sheet to sheet."""
        reached = 0
        for name, plan in self.layout.plans.items():
            reached = max(reached, STAGES.index(plan.sheet.stage))
            sheets[name].set_tab_color(TABS[STAGES[reached]])

    def _screen(self, sheet: Worksheet, page: Page) -> None:
        """What stays in sight: title and job, and words that leave a small screen room beside
        them.
        """
        sheet.freeze_panes(HEAD_ROWS - 1, int(page.widths[1] * page.scale <= NARROW))

    def _verdict_colours(self, sheet: Worksheet, name: str) -> None:
        cells = [place.at for place in self.layout.by_sheet[name] if says_verdict(place)]
        if not cells:
            return
        ranges = ranges_of(cells)
        for word, look in VERDICT_STYLES.items():
            sheet.conditional_format(
                ranges[0],
                {
                    "type": "cell",
                    "criteria": "==",
                    "value": f'"{word}"',
                    "format": self.format(look),
                    "multi_range": " ".join(ranges),
                },
            )

    def _page(self, sheet: Worksheet, page: Page) -> None:
        plan, layout = page.plan, self.layout
        if page.paper.landscape:
            sheet.set_landscape()
        sheet.set_paper(PAPERS[page.paper.size])
        sheet.fit_to_pages(1, page.pages)
        sheet.set_margins(left=0.45, right=0.45, top=0.6, bottom=0.5)
        left, right = (words.replace("&", "&&") for words in head_of(layout, plan.sheet.name))
        sheet.set_header(f"&L&9{left}&R&9{right}")
        sheet.set_footer(f"&R&9{FOOT[0]} &P {FOOT[1]} &N")
        if not (page.form and page.form.is_blank):  # LibreOffice prints the area of a hidden sheet
            sheet.print_area(0, 0, page.last_row - 1, page.printed - 1)
        if page.pages > 1 and not page.filled_up:
            sheet.repeat_rows(0, HEAD_ROWS - 1)
        sheet.hide_gridlines(2)
        if self.protected:
            sheet.protect("", MAY_STILL)

    def _record(self) -> None:
        sheet = self.book.add_worksheet(SHEET)
        narrow = self.narrow if self.pen else None
        for row, chunk in enumerate(chunks(self.layout, narrow, protected=self.protected)):
            sheet.write_string(row, 0, chunk)
        if self.protected:
            sheet.protect("")
        sheet.very_hidden()


def _storable(typed: object) -> object:
    """What was typed as a number, as text, or as nothing; all else as it is written."""
    plain = typed is None or isinstance(typed, float | int | str)
    return typed if plain and not isinstance(typed, bool) else str(typed)


def _spelled(words: str) -> str:
    """Words worked out, as the file holds them: what XML forbids is written by its number, as the
    library writes it where words are typed.
    """
    plain = SPELLED.sub(r"_x005F\1", words)
    return FORBIDDEN.sub(lambda found: f"_x{ord(found[0]):04X}_", plain)
