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
WRAPPED = {*RUNNING, "heading", "row"}
FIGURE, EDGES = 7, 5  # pixels: a column's width is counted in figures, beside its edges
LIBRARYS_OWN = 64  # pixels: the width a column has unless told
SPARE, BOLD = (
    1.1,
    1.07,
)  # how much wider than measured a text may turn out on another machine, and in bold print
SMALLEST_SCALE = 0.76  # the scale at which a sheet still reads well upright


class Page:
    """One sheet's columns and rows."""

    def __init__(
        self, plan: SheetPlan, places: Sequence[Place], readings: Mapping[str, object]
    ) -> None:
        self.plan = plan
        self.scale = plan.sheet.scale
        self.columns = plan.columns
        self.printed = plan.columns - len(plan.sheet.behind)
        self.widths = self._widths(places)
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
        width, room = LANDSCAPE if self.landscape else UPRIGHT
        room = room * max(1.0, self.across / width) - self._rows(1, HEAD_ROWS)
        found: list[int] = []
        used = 0.0
        for first, last, own_page in self.plan.spans:
            height = self._rows(first, last + 1)
            if used and (own_page or used + height > room):
                found.append(first - 1)
                used = 0.0
            used = used + height if height <= room else (used + height) % room
        return found

    def _rows(self, first: int, last: int) -> float:
        return sum(self.height(row) or self.plain_row for row in range(first, last + 1))

    @property
    def plain_row(self) -> float:
        """How high a row of one line is, in points."""
        return self.plan.sheet.row_pixels * POINTS * self.scale

    @property
    def landscape(self) -> bool:
        """Whether the sheet is printed across."""
        return UPRIGHT[0] / self.across < SMALLEST_SCALE

    @property
    def across(self) -> float:
        """The width of what is printed, in points."""
        return POINTS * sum(self._pixels(column) for column in range(1, self.printed + 1))

    def last_column(self, text: PrintedText) -> int:
        """The last column a text runs over."""
        return (
            min(text.at.column + text.across, self.printed + 1) - 1
            if text.style in RUNNING
            else text.at.column
        )

    def width_of(self, text: PrintedText) -> float:
        """The width a text has to run in, in pixels."""
        return sum(
            self._pixels(column) for column in range(text.at.column, self.last_column(text) + 1)
        )

    def _pixels(self, column: int) -> float:
        return FIGURE * self.widths[column] + EDGES

    def height(self, row: int) -> float | None:
        """A row's height in points, None where one line is enough."""
        lines = self.heights.get(row, 1)
        return (ROOM + LINE_HEIGHT * lines) * self.scale if lines > 1 else None

    def _widths(self, places: Sequence[Place]) -> dict[int, float]:
        """The widest that a part of the sheet wants each column, and never so narrow that a word of
        a heading is broken.
        """
        wanted: dict[int, float] = {1: FIRST_COLUMN}
        if second := self.plan.seconds:
            wanted |= {second - 1: GAP, second: SECOND_COLUMN}
        for place in places:
            stated = per(place.column.width, place.row) if place.column is not None else 0.0
            wanted[place.at.column] = max(wanted.get(place.at.column, 0.0), stated or OTHER_COLUMN)
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
