"""The geometry of a sheet on paper: how wide its columns are, how far its texts run, how high its rows must be."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from builder.layout import HEAD_ROWS, Place, SheetPlan, Text
from builder.table import per

FIRST_COLUMN, OTHER_COLUMN = 34.0, 10.0
LINE_HEIGHT, ROOM, PLAIN_ROW = 13.5, 5.0, 18.0
POINTS = 0.75  # of a pixel
ACROSS, UPRIGHT = (727.0, 497.0), (530.0, 690.0)  # what fits on A4 and on Letter alike, in points, a little spared
RUNNING = {"how", "note", "prose", "line_note"}  # texts that run over several columns, merged
WRAPPED = {*RUNNING, "heading", "row"}
WIDE = {"heading": 1.02, "row": 0.84}  # how wide a letter of a style is, in units of column width
LETTER = 0.80
PORTRAIT = 110.0  # the width in columns' units that still reads well upright on A4 and Letter


class Page:
    """One sheet's columns and rows."""

    def __init__(self, plan: SheetPlan, places: Sequence[Place], readings: Mapping[str, object]) -> None:
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
            if isinstance(said, str) and place.unit is None and place.at.column <= self.printed:
                self._fit(place.at.row, said, "given", self.widths[place.at.column])

    def breaks(self) -> list[int]:
        """The rows after which a new page begins, so that no part is cut that fits on one page."""
        width, room = ACROSS if self.landscape else UPRIGHT
        total = sum(7 * self.widths[column] + 5 for column in range(1, self.printed + 1)) * POINTS
        room = room * max(1.0, total / width) - self._rows(1, HEAD_ROWS)
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
        return sum(self.height(row) or PLAIN_ROW * self.scale for row in range(first, last + 1))

    @property
    def landscape(self) -> bool:
        """Whether the sheet is printed across."""
        return sum(self.widths[column] for column in range(1, self.printed + 1)) > PORTRAIT

    def last_column(self, text: Text) -> int:
        """The last column a text runs over."""
        return min(text.at.column + text.across, self.printed + 1) - 1 if text.style in RUNNING else text.at.column

    def width_of(self, text: Text) -> float:
        """The width a text has to run in."""
        return sum(self.widths[column] for column in range(text.at.column, self.last_column(text) + 1))

    def height(self, row: int) -> float | None:
        """A row's height in points, None where one line is enough."""
        lines = self.heights.get(row, 1)
        return (ROOM + LINE_HEIGHT * lines) * self.scale if lines > 1 else None

    def _widths(self, places: Sequence[Place]) -> dict[int, float]:
        wanted: dict[int, float] = {}
        for place in places:
            if place.column is not None and place.column.width:
                column = place.at.column
                wanted[column] = max(wanted.get(column, 0.0), per(place.column.width, place.row))
        plain = dict.fromkeys(range(1, self.columns + 1), OTHER_COLUMN) | {1: FIRST_COLUMN}
        return plain | wanted | dict(self.plan.sheet.widths)

    def _fit(self, row: int, words: str, style: str, width: float) -> None:
        if style in WRAPPED or style == "given":
            letter = WIDE.get(style, LETTER) * self.scale
            lines = sum(max(1, math.ceil(len(line) * letter / width)) for line in words.split("\n"))
            self.heights[row] = max(self.heights.get(row, 1), lines)
