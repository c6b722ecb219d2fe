"""One sheet of an .ods workbook, cell by stored cell; what is repeated counts each time, what is
empty is skipped.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping

from datumbook.effort import spend
from datumbook.messages.findings import finding
from datumbook.readers.addresses import LAST_COLUMN, LAST_ROW, address_of
from datumbook.readers.book import Book, FoundCell, SheetFound, refusal
from datumbook.readers.dates import serial_of, serial_of_duration
from datumbook.readers.formulas import ERRORS, from_open_formula, outside, readable
from datumbook.readers.looks import Look
from datumbook.readers.markup import Element, number, truth, whole
from datumbook.readers.number_formats import number_format
from datumbook.readers.ods_drawings import A_ROW, laid_over_by
from datumbook.readers.ods_rules import CALC, TABLE, TEXT, colour_test
from datumbook.readers.ods_styles import OdsStyles
from datumbook.readers.rules import CellArea, ColourRule, EntryRule

OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
"""Its namespace. Source: OASIS OpenDocument 1.3 part 3, section 1.4 (from memory)."""

LOWEST = 3.0  # points: rows and columns lower and narrower than this cannot be read

_HREF = "{http://www.w3.org/1999/xlink}href"
_CELLS = (f"{TABLE}table-cell", f"{TABLE}covered-table-cell")
_BLANKS = {f"{TEXT}tab": "\t", f"{TEXT}line-break": "\n"}


def repeated(element: Element, of: str, most: int) -> int:
    """Return how often a row or cell stands for itself: at least once, at most as often as a sheet
    has room.
    """
    return max(1, min(whole(element.get(f"{TABLE}number-{of}-repeated", "1"), 1), most))


def shown_text(cell: Element) -> str:
    """Return the words shown in a cell: its paragraphs, one a line, without notes and drawings."""
    return "\n".join(_words(paragraph) for paragraph in cell if paragraph.tag == f"{TEXT}p")


def _words(element: Element) -> str:
    parts = [element.text or ""]
    for child in element:
        if child.tag == f"{TEXT}s":
            parts.append(" " * min(whole(child.get(f"{TEXT}c", "1"), 1), 32767))
        elif child.tag in _BLANKS:
            parts.append(_BLANKS[child.tag])
        elif child.tag.startswith(TEXT):
            parts.append(_words(child))
        parts.append(child.tail or "")
    return "".join(parts)


def _spans(element: Element, kind: str, otherwise: int) -> list[int]:
    """Return over how many rows and columns a cell is spread, as one array or merged."""
    written = (element.get(f"{TABLE}number-{kind}{of}-spanned", "") for of in ("rows", "columns"))
    return [whole(text, otherwise) for text in written]


def _range(row: int, column: int, height: int, width: int) -> str:
    """Return a range by its first cell and its size, as far as a sheet goes."""
    end = address_of(min(row + height - 1, LAST_ROW), min(column + width - 1, LAST_COLUMN))
    return f"{address_of(row, column)}:{end}"


class OdsSheetReader:
    """Reads one sheet into a `SheetFound`; `room` is how many more cells the whole workbook may
    hold.
    """

    def __init__(
        self,
        book: Book,
        sheet: SheetFound,
        styles: OdsStyles,
        entry_rules: Mapping[str, EntryRule],
        sizes: Mapping[str, float],
        room: int,
    ) -> None:
        self.book = book
        self.sheet = sheet
        self.styles = styles
        self.entry_rules = entry_rules
        self.sizes = sizes
        self.room = room
        self.tested: dict[str, list[CellArea]] = {}
        self.column_styles: list[tuple[int, str]] = []  # last column, style of its cells
        self.next_row = self.next_column = 1
        self.row_style: str | None = None
        self.row_high = A_ROW
        self.hidden: list[tuple[int, int]] = []

    def column(self, element: Element) -> None:
        """Take note of columns that are hidden."""
        count = repeated(element, "columns", LAST_COLUMN + 1 - self.next_column)
        if self._unseen(element):
            self.sheet.hidden_columns.update(range(self.next_column, self.next_column + count))
        self.next_column += count
        style = element.get(f"{TABLE}default-cell-style-name", "")
        self.column_styles.append((self.next_column - 1, style))

    def _unseen(self, element: Element) -> bool:
        """Say whether a row or column is hidden, or too small for anything in it to be read."""
        return (
            element.get(f"{TABLE}visibility", "visible") != "visible"
            or self.sizes.get(element.get(f"{TABLE}style-name", ""), LOWEST) < LOWEST
        )

    def _style_of(self, element: Element, row_style: str | None, column: int) -> str:
        """The style of a cell: its own, or that of its row, or that of its column."""
        named = element.get(f"{TABLE}style-name") or row_style
        if named is not None:
            return named
        at = bisect_left(self.column_styles, (column, ""))
        return self.column_styles[at][1] if at < len(self.column_styles) else ""

    def row(self, element: Element) -> None:
        """Keep what a row holds, once for each time it is repeated."""
        count = repeated(element, "rows", max(1, LAST_ROW + 1 - self.next_row))
        if self._unseen(element):
            self.hidden.append((self.next_row, self.next_row + count))
        self.row_style = element.get(f"{TABLE}default-cell-style-name")
        self.row_high = self.sizes.get(element.get(f"{TABLE}style-name", ""), A_ROW)
        column = 1
        for child in element:
            if child.tag in _CELLS:
                width = repeated(child, "columns", max(1, LAST_COLUMN + 1 - column))
                self._stored(
                    child,
                    range(self.next_row, self.next_row + count),
                    range(column, column + width),
                )
                column += width
        self.next_row += count

    def close(self) -> None:
        """Spell out the hidden rows, as far down as the sheet holds anything."""
        last = max((row for row, _ in self.sheet.cells), default=0)
        for start, stop in self.hidden:
            rows = range(start, min(stop, last + 1))
            spend(len(rows) // 4, "hidden rows")
            self.sheet.hidden_rows.update(rows)
        for style, areas in self.tested.items():
            spend(len(areas), "colour rules")
            for test, other in self.styles.tests(style):
                rule = ColourRule(tuple(areas), colour_test(test), self.styles.over(other))
                self.sheet.colours.append(rule)

    def _rules(self, style: str, rule: str | None, rows: range, columns: range) -> None:
        """Keep which rules hold for cells, whether anything stands in them or not."""
        area = (rows[0], columns[0], rows[-1], columns[-1])
        if self.styles.tests(style):
            self.tested.setdefault(style, []).append(area)
        if rule is not None and rule in self.entry_rules:
            self.sheet.entries.append(((area,), self.entry_rules[rule]))

    def _stored(self, element: Element, rows: range, columns: range) -> None:
        spend(15, "cells")
        row, column = rows[0], columns[0]
        merged = _spans(element, "", 1)
        if max(merged) > 1:
            self.sheet.merged.append(_range(row, column, *merged))
        style = self._style_of(element, self.row_style, column)
        self.sheet.laid_over += laid_over_by(element, row, column, self.row_high)
        for link in element.iter(f"{TEXT}a"):
            target = link.get(_HREF, "")
            self.sheet.links[row, column] = target if target.startswith("#") else ""
        self._rules(style, element.get(f"{TABLE}content-validation-name"), rows, columns)
        try:
            cell = self._cell(element, row, column, style)
        except (ValueError, OverflowError) as error:
            self.book.problems.append(
                finding(
                    "cell-unreadable",
                    found=str(error),
                    sheet=self.sheet.name,
                    cell=address_of(row, column),
                )
            )
            return
        if cell.is_blank:
            return
        self.room -= len(rows) * len(columns)
        if self.room < 0:
            raise refusal(
                "too-many-cells",
                self.book.path.name,
                "it repeats its cells too often",
                "content.xml",
            )
        self.sheet.cells.update({(row, column): cell for row in rows for column in columns})

    def _cell(self, element: Element, row: int, column: int, style: str) -> FoundCell:
        formula = self._formula(element, address_of(row, column))
        kind = element.get(f"{OFFICE}value-type", "")
        value, look = self._value(element, kind), self.styles.look(style)
        if element.get(f"{CALC}value-type") == "error" or (formula and value in ERRORS):
            return FoundCell(None, formula, shown_text(element) or str(value), look=look)
        array = _spans(element, "matrix-", 0)
        percent = kind == "percentage" or number_format(look.number_format).is_percent
        return FoundCell(
            value,
            formula,
            is_date=kind in ("date", "time"),
            is_percent=percent and isinstance(value, float),
            look=look,
            array=_range(row, column, *array) if all(array) else "",
            pieces=tuple(self._pieces(element)),
        )

    def _pieces(self, element: Element) -> Iterator[Look]:
        """The looks of single words of a cell."""
        for span in element.iter(f"{TEXT}span"):
            if "".join(map(str, span.itertext())).strip():
                yield self.styles.look(span.get(f"{TEXT}style-name"))

    def _value(self, element: Element, kind: str) -> float | str | bool | None:
        match kind:
            case "float" | "percentage" | "currency":
                return number(element.get(f"{OFFICE}value", ""))
            case "date":
                return serial_of(element.get(f"{OFFICE}date-value", ""), self.book.date_1904)
            case "time":
                return serial_of_duration(element.get(f"{OFFICE}time-value", ""))
            case "boolean":
                return truth(element.get(f"{OFFICE}boolean-value"))
            case "string":
                written = element.get(f"{OFFICE}string-value")
                return shown_text(element) if written is None else written
            case "" if element.get(f"{TABLE}formula") is None:
                return shown_text(element) or None  # words of a link, by some programs of no type
        return None

    def _formula(self, element: Element, address: str) -> str | None:
        text = element.get(f"{TABLE}formula")
        if text is None:
            return None
        formula = from_open_formula(readable(text))
        if link := outside(formula):
            self.book.problems.append(
                finding("formula-outside", found=link, sheet=self.sheet.name, cell=address)
            )
        return formula or None
