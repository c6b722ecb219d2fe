"""The geometry of a sheet on paper: how wide its columns are, how far its texts run, how high its
rows must be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from xlsxwriter.utility import xl_pixel_width

from datumbook.cells.columns import per
from datumbook.workbook.placed import HEAD_ROWS, Place, PrintedText, SheetPlan

FIRST_COLUMN, SECOND_COLUMN, OTHER_COLUMN, GAP = 32.0, 40.0, 9.0, 2.0
POINTS = 0.75  # of a pixel
LINE_HEIGHT, ROOM = 13.5, 4.0
LANDSCAPE = (727.0, 497.0)  # what fits on A4 and on Letter alike, in points, a little spared
UPRIGHT = (530.0, 690.0)
RUNNING = {"how", "note", "prose", "line_note"}  # texts that run over several columns, merged
PARTS_TITLED, TITLE = (
    {"part", "section"},
    12 / 11,
)  # and how much larger than plain print the former are
WRAPPED = {*RUNNING, "heading", "row"}
FIGURE, EDGES = 7, 5  # pixels: a column's width is counted in figures, beside its edges
LIBRARYS_OWN = 64  # pixels: the width a column has unless told
SPARE, BOLD = (
    1.1,
    1.07,
)  # how much wider than measured a text may turn out on another machine, and in bold print
SMALLEST_SCALE = 0.76  # the scale at which a sheet still reads well upright
WIDER = 1.06  # how much wider than stated the columns of some programs turn out
WRITTEN_PERCENT = 90  # the least scale of a form: print of 10 points is 9 on paper
BOX_HEIGHT = 22.8  # points: 8 mm on paper, room for a figure in an oily hand
BOX_COLUMN = 10.2  # figures: 18 mm on paper, at the least scale of a form


class Page:
    """One sheet's columns and rows."""

    def __init__(
        self, plan: SheetPlan, places: Sequence[Place], readings: Mapping[str, object]
    ) -> None:
        self.plan = plan
        self.scale = plan.sheet.scale
        self.columns = plan.columns
        self.places = places
        self.printed = plan.printed_columns - len(plan.sheet.behind)
        self.widths = self._widths(places)
        if self.written_on:
            self._narrow()
        self.boxes = {place.at.row for place in places if self._is_box(place)}
        self.heights: dict[int, int] = {}
        for text in plan.texts:
            self._fit(text.at.row, text.words, text.style, self.width_of(text))
        for place in places:
            said = place.value if place.role == "given" else readings.get(place.key)
            runs_on = place.column is not None and place.column.runs_on
            wrapped = place.unit is None and place.at.column <= self.printed and not runs_on
            if isinstance(said, str) and wrapped:
                self._fit(place.at.row, said, "given", self._pixels(place.at.column))

    def breaks(self) -> list[int]:
        """The rows after which a new page begins, so that no part is cut that fits on one page."""
        room = self.paper[1] * 100 / self.percent - self._rows(1, HEAD_ROWS)
        found: list[int] = []
        used = 0.0
        for first, last, own_page in self.plan.spans:
            if first > self.plan.printed_rows:
                break
            height = self._rows(first, last + 1)
            if used and (own_page or used + height > room):
                found.append(first - 1)
                used = 0.0
            used = used + height if height <= room else (used + height) % room
        return found

    @property
    def written_on(self) -> bool:
        """Whether its paper is a form, to be written on at the block."""
        return not self.plan.sheet.read

    def _narrow(self) -> None:
        """Of a form only columns with cells are printed, and where that is too wide still, those
        that are written on or hold limits; as many always as its widest title runs over.
        """
        on_paper = self.plan.printed_rows
        cells = [one for one in self.places if one.at.row <= on_paper]
        self.printed = max(one.at.column for one in cells)
        if self.percent < WRITTEN_PERCENT:
            self.printed = max(one.at.column for one in cells if one.role in {"reading", "given"})
        titles = [one.words for one in self.plan.texts if one.style in PARTS_TITLED]
        widest = TITLE * BOLD * POINTS * max(map(xl_pixel_width, titles))
        while self.across < widest and self.printed < self.plan.columns:
            self.printed += 1

    def _rows(self, first: int, last: int) -> float:
        return sum(self.height(row) or self.plain_row for row in range(first, last + 1))

    @property
    def plain_row(self) -> float:
        """How high a row of one line is, in points."""
        return self.plan.sheet.row_pixels * POINTS * self.scale

    @property
    def landscape(self) -> bool:
        """Whether the sheet is printed across."""
        least = WRITTEN_PERCENT / 100 if self.written_on else SMALLEST_SCALE
        return UPRIGHT[0] / (WIDER * self.across) < least

    @property
    def paper(self) -> tuple[float, float]:
        """The room of the paper as the sheet lies on it, in points: width and height."""
        return LANDSCAPE if self.landscape else UPRIGHT

    @property
    def percent(self) -> int:
        """The scale at which its width fits the paper; never larger than on the screen."""
        return min(100, int(100 * self.paper[0] / (WIDER * self.across)))

    @property
    def across(self) -> float:
        """The width of what is printed, in points."""
        return POINTS * sum(self._pixels(column) for column in range(1, self.printed + 1))

    def last_column(self, text: PrintedText) -> int:
        """The last column a text runs over: of what is printed, or of what stands beyond it."""
        if text.style not in RUNNING:
            return text.at.column
        edge = self.printed if text.at.column <= self.printed else self.columns
        return min(text.at.column + text.across - 1, edge)

    def width_of(self, text: PrintedText) -> float:
        """The width a text has to run in, in pixels."""
        return sum(
            self._pixels(column) for column in range(text.at.column, self.last_column(text) + 1)
        )

    def _pixels(self, column: int) -> float:
        return FIGURE * self.widths[column] + EDGES

    def height(self, row: int) -> float | None:
        """A row's height in points, None where one line is enough and nobody writes."""
        lines = self.heights.get(row, 1)
        box = BOX_HEIGHT * 100 / self.percent if row in self.boxes else 0.0
        return max((ROOM + LINE_HEIGHT * lines) * self.scale, box) if lines > 1 or box else None

    def _is_box(self, place: Place) -> bool:
        """Whether somebody writes in a cell on paper."""
        on_paper = place.at.row <= self.plan.printed_rows
        typed = self.written_on and place.role == "reading"
        return on_paper and (typed or (place.column is not None and place.column.by_pen))

    def _widths(self, places: Sequence[Place]) -> dict[int, float]:
        """The widest that a part of the sheet wants each column, and never so narrow that a word of
        a heading is broken.
        """
        wanted: dict[int, float] = {1: FIRST_COLUMN}
        if second := self.plan.seconds:
            wanted |= {second - 1: GAP, second: SECOND_COLUMN}
        for place in places:
            stated = per(place.column.width, place.row) if place.column is not None else 0.0
            least = BOX_COLUMN if self._is_box(place) else OTHER_COLUMN
            wanted[place.at.column] = max(wanted.get(place.at.column, 0.0), stated or least, least)
        found = (
            dict.fromkeys(range(1, self.columns + 1), OTHER_COLUMN)
            | wanted
            | dict(self.plan.sheet.widths)
        )
        for text in self.plan.texts:
            if text.style == "heading" and text.words:
                # beside other parts a heading has one line, for both sides share its height
                parts = [text.words] if self.plan.seconds else text.words.split()
                widest = max(map(xl_pixel_width, parts))
                longest = widest * self.scale * SPARE * BOLD
                found[text.at.column] = max(found[text.at.column], ceil(10 * longest / FIGURE) / 10)
        return found

    def _fit(self, row: int, words: str, style: str, width: float) -> None:
        if style in WRAPPED or style == "given":
            size = self.scale * SPARE * (BOLD if style == "heading" else 1.0)
            self.heights[row] = max(
                self.heights.get(row, 1), lines_of(words, (width - EDGES) / size)
            )


def pixels(height: float) -> int:
    """A height in points as whole pixels: of the library, not every version rounds to them."""
    return int(height / POINTS + 0.5)


def column_pixels(width: float) -> int:
    """A column's width in figures as whole pixels; the library's versions mark its own differently,
    so a pixel more than that.
    """
    found = int(FIGURE * width + 0.5) + EDGES
    return found + (found == LIBRARYS_OWN)


def lines_of(words: str, width: float) -> int:
    """How many lines words take, broken between words, in a width in pixels; a word that is longer
    is broken itself.
    """
    lines, used = 0, 0.0
    for paragraph in words.split("\n"):
        lines, used = lines + 1, 0.0
        for word in paragraph.split():
            length, space = xl_pixel_width(word), xl_pixel_width(" ") if used else 0
            if used + space + length <= width:
                used += space + length
                continue
            further = (1 if used else 0) + max(0, -int(-length // width) - 1)
            lines, used = lines + further, length % width if length > width else length
    return lines
