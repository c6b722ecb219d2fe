"""The geometry of a sheet on paper: how wide its columns are, how far its texts run, how high its
rows must be.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cached_property
from math import ceil

from xlsxwriter.utility import xl_pixel_width

from datumbook.cells.columns import per
from datumbook.workbook.layout import Layout
from datumbook.workbook.pen import PenForm, pen_form
from datumbook.workbook.placed import HEAD_ROWS, Place, PrintedText, SheetPlan
from datumbook.writer.measures import EDGES, FIGURE, POINTS, lines_of
from datumbook.writer.paper import (
    LANDSCAPE,
    UPRIGHT,
    WIDER,
    Heads,
    Uncut,
    filled,
    grouped_on_pages,
    laid,
)
from datumbook.writer.sketches import SKETCH_HIGH

FIRST_COLUMN, SECOND_COLUMN, OTHER_COLUMN, GAP = 32.0, 40.0, 9.0, 2.0
NARROW_FIRST = 12.0  # as narrow as the first column may be for the pen
LINE_HEIGHT, ROOM = 13.5, 4.0
RUNNING = {
    "how",
    "note",
    "source",
    "prose",
    "line_note",
}  # texts that run over several columns, merged
PARTS_TITLED, TITLE = (
    {"part", "section"},
    12 / 11,
)  # and how much larger than plain print the former are
WRAPPED = {*RUNNING, "heading", "row"}
SMALLEST_SCALE = 0.76  # the scale at which a sheet still reads well upright
WRITTEN_SCALE = 0.9  # the least scale of a form: print of 10 points is 9 on paper
SPARE, BOLD = (
    1.1,
    1.07,
)  # how much wider than measured a text may turn out on another machine, and in bold print
BOX_HEIGHT = 22.8  # points: 8 mm on paper, room for a figure in an oily hand, at that scale
PEN_GAP = 6.0  # points: between the parts of a form
BOX_COLUMN = 10.2  # figures: 18 mm on paper, at the least scale of a form
PEN_BOX_COLUMN = 11.5  # the same where words over it have more room


class Page:
    """One sheet's columns and rows, on the screen and on paper; for the pen its form."""

    def __init__(
        self,
        plan: SheetPlan,
        places: Sequence[Place],
        readings: Mapping[str, object],
        form: PenForm | None = None,
        paper: str = "A4",
    ) -> None:
        self.plan, self.form = plan, form
        self.scale = plan.sheet.scale
        self.columns = plan.columns
        self.widths = self._widths([one for one in places if self._is_seen(one)])
        if form:
            self._shrink(form.columns)
            self._widen(form.columns)
        self.on_paper = self._beside(form.columns) if form else self._read_columns(places)
        self.printed = max(self.on_paper)
        self.paper = laid(self.across, self.least_scale, paper)
        self.boxes = {place.at.row for place in places if self._is_box(place)}
        self.heights: dict[int, int] = {}
        for text in plan.texts:
            if self._is_seen(text):
                self._fit(text.at.row, text.words, text.style, self.width_of(text))
        for place in places:
            said = place.value if place.role == "given" else readings.get(place.key)
            runs_on = place.column is not None and place.column.runs_on
            wrapped = place.unit is None and place.at.column in self.on_paper and not runs_on
            if isinstance(said, str) and wrapped and self._is_seen(place):
                self._fit(place.at.row, said, "given", self._pixels(place.at.column))
        self.fills: dict[int, float] = {}  # rows that are of another height than what they hold
        if form and not form.is_whole:
            self.fills |= dict.fromkeys(form.gaps, PEN_GAP)
            for row in form.sketches:
                self.fills[row] = self.total_height(row) + SKETCH_HIGH * POINTS
        self.pages, self.filled_up = self._laid_down()

    def _is_seen(self, seen: Place | PrintedText) -> bool:
        """Whether a cell or words have room on the sheet: for the pen only what is printed."""
        if self.form is None:
            return True
        if isinstance(seen, Place):
            return self.form.shows(seen)
        return self.form.shows_text(seen)

    def _shrink(self, columns: Collection[int]) -> None:
        """Columns wider than they must be give way until all stand on an upright page, or across
        on one where that is not enough.
        """
        for room, _ in (UPRIGHT, LANDSCAPE):
            over = self._width(columns) - int(room / (WIDER * WRITTEN_SCALE))
            spare = {one: self.widths[one] - self.least_widths[one] for one in columns}
            figures = over / POINTS / FIGURE
            if figures <= 0:
                return
            if figures <= sum(spare.values()):
                share = figures / sum(spare.values())
                for one, more in spare.items():
                    self.widths[one] -= share * more
                return

    def _widen(self, columns: Collection[int]) -> None:
        """What room is left goes to the words at the left, as far as they want it."""
        assert self.form
        rows = [one for one in self.plan.texts if one.style == "row" and one.at.column == 1]
        words = [one.words for one in rows if self._is_seen(one) and one.at.row in self.form.rows]
        wanted = SPARE * self.scale * max(map(xl_pixel_width, words), default=0) / FIGURE + 1.0
        room = (UPRIGHT[0] / WIDER - self._width(columns)) / POINTS / FIGURE
        self.widths[1] += max(0.0, min(wanted - self.widths[1], room))

    @property
    def written_on(self) -> bool:
        """Whether its paper is a form, to be written on at the block."""
        return not self.plan.sheet.read

    @property
    def least_scale(self) -> float:
        """How small it may be printed."""
        return WRITTEN_SCALE if self.written_on or self.form else SMALLEST_SCALE

    @property
    def last_row(self) -> int:
        """The last row that is printed."""
        return max(self.form.rows) if self.form else self.plan.printed_rows

    @cached_property
    def hidden_rows(self) -> set[int]:
        """The rows that are not on its form."""
        return set(range(1, self.plan.rows + 1)) - self.form.rows if self.form else set()

    @property
    def fixed_rows(self) -> Iterable[int]:
        """The rows whose height is no program's to choose."""
        if self.filled_up or self.form:
            return self._rows_on_paper(1, self.last_row)
        return [row for row in {*self.heights, *self.boxes} if self.height(row) is not None]

    @cached_property
    def hidden_columns(self) -> set[int]:
        """The columns that are not on its form."""
        return set(self.widths) - self.on_paper if self.form else set()

    def _read_columns(self, places: Sequence[Place]) -> set[int]:
        """The columns that are printed. Of a form only those with cells, and where that is too wide
        still, those that are written on or hold limits; as many always as its widest title runs
        over.
        """
        last = self.plan.printed_columns - len(self.plan.sheet.behind)
        if not self.written_on:
            return set(range(1, last + 1))
        cells = [one for one in places if one.at.row <= self.plan.printed_rows]
        last = max(one.at.column for one in cells)
        if not self._fits(last):
            last = max(one.at.column for one in cells if one.role in {"reading", "given"})
        titles = [one.words for one in self.plan.texts if one.style in PARTS_TITLED]
        widest = TITLE * BOLD * POINTS * max(map(xl_pixel_width, titles))
        while self._width(range(1, last + 1)) < widest and last < self.columns:
            last += 1
        return set(range(1, last + 1))

    def _fits(self, last: int) -> bool:
        return laid(self._width(range(1, last + 1)), WRITTEN_SCALE).percent >= 100 * WRITTEN_SCALE

    def _beside(self, needed: Collection[int]) -> set[int]:
        """The columns a form needs, and as many to their right that its words have an upright page
        to run in.
        """
        found = set(needed)
        for column in range(max(needed) + 1, self.columns + 1):
            if self._width({*found, column}) > UPRIGHT[0] / WIDER:
                break
            found.add(column)
        return found

    def _laid_down(self) -> tuple[int, bool]:
        """On how many pages the sheet is fitted, and whether blank rows fill each of them, so that
        nothing is cut.
        """
        scales = self.paper.scales(self.least_scale)
        pages = self._height_of(1, self.last_row) / self.paper.height_at(scales[-1])
        one_page = self.plan.sheet.one_page and (self.form is None or self.form.is_whole)
        if pages <= 1 or one_page:
            return 1, False
        if not (self.form or self.plan.sheet.uncut):
            return ceil(pages), False
        grouped = {one: self._grouped(one) for one in scales}
        percent = min(grouped, key=lambda one: (len(grouped[one]), -one))
        full = self.paper.filled * 100 / percent
        for row, more in filled(grouped[percent], self._heads(percent), full):
            self.fills[row] = self.total_height(row) + more
        for page in grouped[percent][1:]:
            self.fills[page[0].first] = self.plain_row + self._heads(percent).further
        return len(grouped[percent]), True

    def _grouped(self, percent: int) -> list[list[Uncut]]:
        """The parts that share a page at a scale."""
        room = self.paper.height_at(percent)
        return grouped_on_pages(self._blocks(), self._heads(percent), room)

    def _heads(self, percent: int) -> Heads:
        tall = self.paper.tall_title * 100 / percent
        return Heads(self._height_of(1, HEAD_ROWS), max(0.0, tall - self.plain_row))

    def _blocks(self) -> list[Uncut]:
        """What no page's end cuts: the parts, each with the blank row behind it."""
        spans = self.form.spans if self.form else self.plan.spans
        return [
            Uncut(
                one.first,
                one.last,
                self._height_of(one.first, one.last + 1),
                [row for row in range(one.first, one.last + 1) if row in self.boxes],
                one.own_page and not self.form,
            )
            for one in spans
            if one.first <= self.last_row
        ]

    def _rows_on_paper(self, first: int, last: int) -> Iterable[int]:
        rows = range(first, last + 1)
        return [row for row in rows if row in self.form.rows] if self.form else rows

    def _height_of(self, first: int, last: int) -> float:
        return sum(map(self.total_height, self._rows_on_paper(first, last)))

    def total_height(self, row: int) -> float:
        """How high a row is in points."""
        return self.height(row) or self.plain_row

    @property
    def plain_row(self) -> float:
        """How high a row of one line is, in points."""
        return self.plan.sheet.row_pixels * POINTS * self.scale

    @property
    def across(self) -> float:
        """The width of what is printed, in points."""
        return self._width(self.on_paper)

    def _width(self, columns: Iterable[int]) -> float:
        return POINTS * sum(map(self._pixels, columns))

    def last_column(self, text: PrintedText) -> int:
        """The last column a text runs over: of what is printed, or of what stands beyond it."""
        if text.style not in RUNNING:
            return text.at.column
        edge = self.printed if text.at.column <= self.printed else self.columns
        return min(text.at.column + text.across - 1, edge)

    def width_of(self, text: PrintedText) -> float:
        """The width a text has to run in, in pixels."""
        columns = range(text.at.column, self.last_column(text) + 1)
        return sum(self._pixels(one) for one in columns if not self.form or one in self.on_paper)

    def _pixels(self, column: int) -> float:
        return FIGURE * self.widths[column] + EDGES

    def height(self, row: int) -> float | None:
        """A row's height in points, None where one line is enough and nobody writes."""
        if row in self.fills:
            return self.fills[row]
        lines = self.heights.get(row, 1)
        box = BOX_HEIGHT / WRITTEN_SCALE if row in self.boxes else 0.0
        return max((ROOM + LINE_HEIGHT * lines) * self.scale, box) if lines > 1 or box else None

    def _is_box(self, place: Place) -> bool:
        """Whether somebody writes in a cell on paper."""
        if self.form:
            return self.form.is_box(place)
        on_paper = place.at.row <= self.plan.printed_rows
        typed = self.written_on and place.role == "reading"
        return on_paper and (typed or (place.column is not None and place.column.by_pen))

    def _widths(self, places: Sequence[Place]) -> dict[int, float]:
        """The widest that a part of the sheet wants each column, and never so narrow that a word of
        a heading is broken.
        """
        wanted: dict[int, float] = {1: FIRST_COLUMN}
        narrowest = dict.fromkeys(range(1, self.columns + 1), OTHER_COLUMN) | {1: NARROW_FIRST}
        if second := self.plan.seconds:
            wanted |= {second - 1: GAP, second: SECOND_COLUMN}
        for place in places:
            stated = per(place.column.width, place.row) if place.column is not None else 0.0
            box = self._is_box(place)
            least = BOX_COLUMN if box else OTHER_COLUMN
            roomy = PEN_BOX_COLUMN if box and self.form else least
            wanted[place.at.column] = max(wanted.get(place.at.column, 0.0), stated, roomy)
            narrowest[place.at.column] = max(narrowest[place.at.column], least)
        found = (
            dict.fromkeys(range(1, self.columns + 1), OTHER_COLUMN)
            | wanted
            | dict(self.plan.sheet.widths)
        )
        for text in self.plan.texts:
            if text.style == "heading" and text.words and self._is_seen(text):
                # beside other parts a heading has one line, for both sides share its height
                parts = [text.words] if self.plan.seconds else text.words.split()
                widest = max(map(xl_pixel_width, parts))
                longest = widest * self.scale * SPARE * BOLD
                longest = ceil(10 * longest / FIGURE) / 10
                found[text.at.column] = max(found[text.at.column], longest)
                narrowest[text.at.column] = max(narrowest[text.at.column], longest)
        self.least_widths = narrowest
        return found

    def _fit(self, row: int, words: str, style: str, width: float) -> None:
        if style in WRAPPED or style == "given":
            size = self.scale * SPARE * (BOLD if style == "heading" else 1.0)
            self.heights[row] = max(
                self.heights.get(row, 1), lines_of(words, (width - EDGES) / size)
            )


def form_page(layout: Layout, plan: SheetPlan, readings: Mapping[str, object]) -> Page:
    """The form of a sheet: upright, and where that takes it without the limits of what is only
    worked out from its readings.
    """
    places = layout.by_sheet[plan.sheet.name]
    forms = (pen_form(layout, plan, narrow=one) for one in (False, True))
    pages = [Page(plan, places, readings, one, layout.spec.shop.paper) for one in forms]
    return next((one for one in pages if not one.paper.landscape), pages[0])
