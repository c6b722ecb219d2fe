"""One sheet of an .ods workbook, cell by stored cell; what is repeated counts each time, what is
empty is skipped.
"""

from __future__ import annotations

from datumbook.effort import spend
from datumbook.messages.findings import finding
from datumbook.readers.addresses import LAST_COLUMN, LAST_ROW, address_of
from datumbook.readers.book import Book, FoundCell, SheetFound, refusal
from datumbook.readers.dates import serial_of, serial_of_duration
from datumbook.readers.formulas import ERRORS, from_open_formula, outside, readable
from datumbook.readers.markup import Element, number, truth, whole

TABLE, OFFICE, TEXT, STYLE, DATA_STYLE = (
    f"{{urn:oasis:names:tc:opendocument:xmlns:{name}:1.0}}"
    for name in ("table", "office", "text", "style", "datastyle")
)
"""The namespaces of OpenDocument. Source: OASIS OpenDocument 1.3 part 3, section 1.4 (from
memory).
"""

_CALC = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}"
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

    def __init__(self, book: Book, sheet: SheetFound, percent_styles: set[str], room: int) -> None:
        self.book = book
        self.sheet = sheet
        self.percent_styles = percent_styles
        self.room = room
        self.next_row = self.next_column = 1
        self.hidden: list[tuple[int, int]] = []

    def column(self, element: Element) -> None:
        """Take note of columns that are hidden."""
        count = repeated(element, "columns", LAST_COLUMN + 1 - self.next_column)
        if element.get(f"{TABLE}visibility", "visible") != "visible":
            self.sheet.hidden_columns.update(range(self.next_column, self.next_column + count))
        self.next_column += count

    def row(self, element: Element) -> None:
        """Keep what a row holds, once for each time it is repeated."""
        count = repeated(element, "rows", max(1, LAST_ROW + 1 - self.next_row))
        if element.get(f"{TABLE}visibility", "visible") != "visible":
            self.hidden.append((self.next_row, self.next_row + count))
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

    def _stored(self, element: Element, rows: range, columns: range) -> None:
        spend(15, "cells")
        row, column = rows[0], columns[0]
        merged = _spans(element, "", 1)
        if max(merged) > 1:
            self.sheet.merged.append(_range(row, column, *merged))
        try:
            cell = self._cell(element, row, column)
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

    def _cell(self, element: Element, row: int, column: int) -> FoundCell:
        formula = self._formula(element, address_of(row, column))
        kind = element.get(f"{OFFICE}value-type", "")
        value = self._value(element, kind)
        if element.get(f"{_CALC}value-type") == "error" or (formula and value in ERRORS):
            return FoundCell(None, formula, shown_text(element) or str(value))
        array = _spans(element, "matrix-", 0)
        percent = kind == "percentage" or element.get(f"{TABLE}style-name") in self.percent_styles
        return FoundCell(
            value,
            formula,
            is_date=kind in ("date", "time"),
            is_percent=percent and isinstance(value, float),
            array=_range(row, column, *array) if all(array) else "",
        )

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
