"""What of a sheet is printed for the pen: the boxes that are written in and the limits beside them;
rows and columns that are only worked out are hidden.

The writer hides by it, and the validator knows by it what a form does not show and has not lost.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import cached_property

from datumbook.cells.columns import Reading, per
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Table
from datumbook.grouping import grouped
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import HEAD_ROWS, HEADING, Place, PrintedText, SheetPlan, Span

OVER_BOXES = {"section", "part", "note", "prose"}  # what stands over them, and cautions
BESIDE_BOXES = {"row", "unit", "heading", "limit_words"}
UNPENNED = {"row", "source"}  # of rows without a box: what is worked out, whose limits they are


class PenForm:
    """The rows and columns of one sheet that its form has."""

    def __init__(
        self, plan: SheetPlan, places: Sequence[Place], limits: Collection[Key], *, narrow: bool
    ) -> None:
        self.plan, self.narrow = plan, narrow
        self.spans = [one for one in plan.spans if one.penned and one.first <= plan.printed_rows]
        self._styles = grouped(
            ((self._span(one.at.row, one.at.column), one.at.row), one.style) for one in plan.texts
        )
        boxes = [one for one in places if self.is_box(one)]
        self._boxed = {(self._span(one.at.row, one.at.column), one.at.row) for one in boxes}
        self._columns = {one: {one.left + 1} for one in self.spans}
        for place in places:
            span = self._span(place.at.row, place.at.column)
            if span is None or not self._is_printed(span, place.at.row):
                continue
            if self.is_box(place) or place.key in limits or self._is_whole(span):
                self._columns[span].add(place.at.column)

    @property
    def is_blank(self) -> bool:
        """Whether nothing of the sheet is on paper but words."""
        return not any(isinstance(one.part, Table | Form) for one in self.spans)

    @property
    def is_whole(self) -> bool:
        """Whether all of the sheet is on paper, as it is read."""
        return all(one.penned_whole for one in self.plan.sheet.every_section)

    @cached_property
    def rows(self) -> set[int]:
        """The rows that are printed, a blank one behind each part. The job is not named again: the
        head of every page does.
        """
        found = {one for one in range(1, HEAD_ROWS + 1) if one != self._naming_the_job} | self.gaps
        for span in self.spans:
            rows = range(span.first, span.last + 1)
            found |= {row for row in rows if self._is_printed(span, row)}
        return found

    @property
    def gaps(self) -> set[int]:
        """The blank rows behind its parts."""
        return {one.last + 1 for one in self.spans}

    @cached_property
    def sketches(self) -> dict[int, str]:
        """The rows under whose words a sketch stands: the last ones over the headings of its
        table.
        """
        found = {}
        for one in self.spans:
            if isinstance(one.part, Table) and one.part.sketch:
                titles = [row for part, row in self._styles if part is one and self._over(one, row)]
                found[max(titles)] = one.part.sketch
        return found

    @cached_property
    def sketches_beside(self) -> dict[tuple[int, int], str]:
        """The cells where a sketch begins that stands beside the boxes of a table: the row of its
        headings, the first column it leaves free.
        """
        found = {}
        for one in self.spans:
            if isinstance(one.part, Table) and one.part.sketch_beside:
                heads = [
                    row
                    for part, row in self._styles
                    if part is one and "heading" in self._styles[part, row]
                ]
                found[min(heads), max(self._columns[one]) + 1] = one.part.sketch_beside
        return found

    def _over(self, span: Span, row: int) -> bool:
        return bool(set(self._styles[span, row]) & {"part", "note"})

    @cached_property
    def columns(self) -> set[int]:
        """The columns that something on it needs, without those that a picture is drawn from."""
        last = self.plan.printed_columns - len(self.plan.sheet.behind)
        units = {one.at.column for one in self.plan.texts if self._is_unit_of_a_box(one)}
        return {one for one in {1}.union(units, *self._columns.values()) if one <= last}

    def is_box(self, place: Place) -> bool:
        """Whether a cell is written in with a pen."""
        span = self._span(place.at.row, place.at.column)
        if span is not None and place.column is not None and place.column.by_pen:
            return self._is_printed(span, place.at.row)
        if span is None or not isinstance(place.column, Reading):
            return False
        wanted = per(place.column.wanted, place.row)
        return bool(wanted) or span.section.is_all_penned(span.part)

    def has_shown(self, seen: Place | PrintedText) -> bool:
        """Whether a cell or words are seen on it, by row and column too."""
        if self.is_blank or seen.at.row not in self.rows or seen.at.column not in self.columns:
            return False
        return self.shows(seen) if isinstance(seen, Place) else self.shows_text(seen)

    def shows(self, place: Place) -> bool:
        """Whether a cell is seen on it."""
        span = self._span(place.at.row, place.at.column)
        if span is None or not self._is_printed(span, place.at.row):
            return False
        if self._is_whole(span) or self.is_box(place):
            return True
        own = place.column is None or place.column.home is span.part  # not of what stands over it
        return own and place.role != "reading" and place.at.column in self._columns[span]

    def shows_text(self, text: PrintedText) -> bool:
        """Whether printed words are seen on it."""
        if text.at.row <= HEAD_ROWS:
            return text.style != HEADING
        span = self._span(text.at.row, text.at.column)
        if span is None or not self._is_printed(span, text.at.row):
            return False
        if self._is_whole(span) or text.style in OVER_BOXES:
            return True
        if self._is_unit_of_a_box(text):
            return True
        return text.style in BESIDE_BOXES and text.at.column in self._columns[span]

    def _is_unit_of_a_box(self, text: PrintedText) -> bool:
        """Whether words are the unit beside a box, which no heading of its form says."""
        span = self._span(text.at.row, text.at.column)
        return text.style == "unit" and (span, text.at.row) in self._boxed

    @property
    def _naming_the_job(self) -> int:
        return next(one.at.row for one in self.plan.texts if one.style == HEADING)

    def _is_printed(self, span: Span, row: int) -> bool:
        """Of a part's rows its titles, headings and limits, and those with a box."""
        if self._is_whole(span) or (span, row) in self._boxed:
            return True
        styles = set(self._styles.get((span, row), ()))
        bare = isinstance(span.part, Form) and max(self._columns[span]) <= span.left + 2
        return not styles & (UNPENNED | {"heading"} if bare else UNPENNED)

    def _is_whole(self, span: Span) -> bool:
        return span.section.penned_whole or not isinstance(span.part, Table | Form)

    def _span(self, row: int, column: int) -> Span | None:
        """The part on paper that a cell stands in."""
        second = bool(self.plan.seconds) and column >= self.plan.seconds - 1
        for one in self.spans:
            if one.first <= row <= one.last and bool(one.left) == second:
                return one
        return None


def pen_form(layout: Layout, plan: SheetPlan, *, narrow: bool) -> PenForm:
    """The form of a sheet; a narrow one goes without the limits of what is only worked out from
    its readings.
    """
    limits = layout.limits_of_readings if narrow else layout.limits
    return PenForm(plan, layout.by_sheet[plan.sheet.name], limits, narrow=narrow)
