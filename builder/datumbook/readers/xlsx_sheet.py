"""One sheet of an .xlsx workbook, cell by stored cell."""

from __future__ import annotations

import re
from collections.abc import Sequence

from datumbook.effort import spend
from datumbook.messages.findings import Finding, finding
from datumbook.readers.addresses import LAST_COLUMN, address_of, place_of
from datumbook.readers.book import FoundCell, SheetFound
from datumbook.readers.dates import serial_of
from datumbook.readers.formulas import outside, readable
from datumbook.readers.gate import Contents
from datumbook.readers.looks import Look
from datumbook.readers.markup import Element, elements, number, truth
from datumbook.readers.number_formats import number_format
from datumbook.readers.rules import areas_of
from datumbook.readers.shared import shared_formula
from datumbook.readers.xlsx_pages import HEADS, VIEW, page_words, view_switched
from datumbook.readers.xlsx_rules import COLOUR_TAGS, ENTRY_TAGS, colour_rules, entry_rule, formulas
from datumbook.readers.xlsx_styles import MAIN, XlsxStyles

_C, _F, _V, _IS, _T, _R = (f"{{{MAIN}}}{name}" for name in ("c", "f", "v", "is", "t", "r"))
_ROW, _COL, _MERGE, _GUARD, _LINK, _SIZES = (
    f"{{{MAIN}}}{name}"
    for name in ("row", "col", "mergeCell", "sheetProtection", "hyperlink", "sheetFormatPr")
)
_TIE = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_LOWEST, _NARROWEST = 3.0, 0.5  # points and figures: rows and columns in which nothing can be read
Worded = tuple[str, tuple[Look, ...]]
"""A text, and the looks of single words of it."""

_OVER_A_RANGE = ("array", "dataTable")  # formulas kept in the first cell of a range alone
_ESCAPE = re.compile(r"_x(?![dD][89a-fA-F])([0-9A-Fa-f]{4})_")
_UNREADABLE = (ValueError, IndexError, KeyError, OverflowError)


def unescaped(text: str) -> str:
    """Return a stored text with its `_xHHHH_` escapes read; half a surrogate pair stays as it is
    written.

    >>> unescaped("a_x000A_b _x005F_x000D_")
    'a\\nb _x000D_'
    """
    return _ESCAPE.sub(lambda match: chr(int(match[1], 16)), text) if "_x" in text else text


def plain_text(element: Element) -> str:
    """Return the text of a shared or inline string: its runs joined, phonetic hints left out."""
    runs = (
        run
        for child in element.iterchildren(_T, _R)
        for run in ([child] if child.tag == _T else child.iterchildren(_T))
    )
    return unescaped("".join(run.text or "" for run in runs))


def worded(element: Element, styles: XlsxStyles) -> Worded:
    """Return a shared or inline string with the looks of those of its runs that have one."""
    runs = [
        (run.findtext(_T) or "", own)
        for run in element.iterchildren(_R)
        for own in run.iterchildren(f"{{{MAIN}}}rPr")
    ]
    return plain_text(element), tuple(styles.over_run(own) for text, own in runs if text.strip())


class XlsxSheetReader:
    """Reads one sheet into a `SheetFound`; what cannot be read becomes a problem of its cell."""

    def __init__(
        self,
        sheet: SheetFound,
        strings: Sequence[Worded],
        styles: XlsxStyles,
        problems: list[Finding],
    ) -> None:
        self.sheet = sheet
        self.strings = strings
        self.styles = styles
        self.problems = problems
        self.shared: dict[str, tuple[str, str]] = {}
        self.seen: set[tuple[int, int]] = set()
        self.last_row = self.last_hidden_column = 0
        self.plain_row_unseen = False

    def read(self, contents: Contents, part: str) -> None:
        """Read the whole part; Refused where it is missing or its XML breaks off."""
        tags = [_ROW, _COL, _MERGE, _GUARD, _LINK, _SIZES, HEADS, VIEW, *COLOUR_TAGS, *ENTRY_TAGS]
        for element in elements(contents, part, tags):
            if element.tag == _ROW:
                self._row(element)
            elif element.tag in COLOUR_TAGS or element.tag in ENTRY_TAGS:
                self._rule(element)
            elif element.tag == _MERGE:
                self.sheet.merged.append(element.get("ref", ""))
            elif element.tag == _GUARD:
                self.sheet.protected = truth(element.get("sheet"))
            elif element.tag == _LINK:
                self._link(element)
            elif element.tag == HEADS:
                self.sheet.page_words += page_words(element)
            elif element.tag == VIEW:
                self.problems += view_switched(element, self.sheet.name)
            elif element.tag == _SIZES:
                self.plain_row_unseen = self._unseen(element, "defaultRowHeight", _LOWEST)
            elif truth(element.get("hidden")) or self._unseen(element, "width", _NARROWEST):
                self._hide_columns(element)

    def _unseen(self, element: Element, what: str, least: float) -> bool:
        """Say whether a row or column is too small for anything in it to be read."""
        try:
            return float(element.get(what, least)) < least
        except ValueError:
            return False

    def _link(self, element: Element) -> None:
        target = "" if element.get(_TIE) else f"#{element.get('location', '')}"
        for area in areas_of(element.get("ref", "")):
            self.sheet.links[area[:2]] = target

    def _rule(self, element: Element) -> None:
        for text in formulas(element):
            if link := outside(text):
                self._complain("formula-outside", link, element.get("sqref", "").partition(" ")[0])
        if element.tag in COLOUR_TAGS:
            self.sheet.colours += colour_rules(element, self.styles)
        else:
            self.sheet.entries.append(entry_rule(element))

    def _hide_columns(self, element: Element) -> None:
        try:
            first, last = int(element.get("min", "")), min(int(element.get("max", "")), LAST_COLUMN)
        except ValueError:
            return
        self.sheet.hidden_columns.update(range(max(first, self.last_hidden_column + 1), last + 1))
        self.last_hidden_column = max(last, self.last_hidden_column)

    def _row(self, element: Element) -> None:
        written = element.get("r", "")
        self.last_row = row = (
            int(written) if written.isdecimal() and len(written) < 8 else self.last_row + 1
        )
        height = element.get("ht") is not None
        unseen = self._unseen(element, "ht", _LOWEST) if height else self.plain_row_unseen
        if unseen or truth(element.get("hidden")):
            self.sheet.hidden_rows.add(row)
        spend(12 * len(element), "cells")
        column = 0
        for child in element:
            if child.tag == _C:
                column = self._stored(child, row, column + 1)

    def _stored(self, element: Element, row: int, column: int) -> int:
        """Keep one stored cell and return its column; the place is the next one where the file
        names none.
        """
        written = element.get("r")
        address = written or address_of(row, column)
        try:
            row, column = place_of(address)
            if (row, column) in self.seen:
                self._complain("duplicate-cell", "two entries in the file", address)
                return column
            self.seen.add((row, column))
            cell = self._cell(element, address)
        except _UNREADABLE as error:
            self._complain("cell-unreadable", str(error), address)
            return column
        if not cell.is_blank:
            self.sheet.cells[row, column] = cell
        return column

    def _cell(self, element: Element, address: str) -> FoundCell:
        content: float | str | bool | None = None
        formula: str | None = None
        array, pieces = "", tuple[Look, ...]()
        kind = element.get("t", "n")
        for child in element:
            if child.tag == _V:
                content = self._value(kind, child.text or "")
                pieces = self.strings[int(child.text or "0")][1] if kind == "s" else ()
            elif child.tag == _F:
                formula = self._formula(child, address)
                array = child.get("ref", address) if child.get("t") in _OVER_A_RANGE else ""
            elif child.tag == _IS:
                content, pieces = worded(child, self.styles)
        look = self.styles.cells[int(element.get("s", "0"))]
        if kind == "e" and content is not None:
            return FoundCell(None, formula, str(content), look=look, array=array)
        shown = number_format(look.number_format if type(content) is float else "")
        return FoundCell(
            content,
            formula,
            is_date=shown.is_date or (kind == "d" and type(content) is float),
            is_percent=shown.is_percent,
            look=look,
            array=array,
            pieces=pieces,
        )

    def _value(self, kind: str, text: str) -> float | str | bool | None:
        match kind:
            case "n":
                return number(text) if text.strip() else None
            case "s":
                return self._string(text)
            case "b":
                return truth(text)
            case "d":
                return serial_of(text)
        return unescaped(text)

    def _string(self, text: str) -> str:
        place = int(text)
        if place < 0:
            raise IndexError(f"there is no text number {text}")
        return self.strings[place][0]

    def _formula(self, element: Element, address: str) -> str | None:
        text = readable(element.text or "").strip().removeprefix("=")
        if element.get("t") == "shared":
            text = self._shared(element.get("si", ""), text, address)
        elif element.get("t") == "dataTable":
            text = f"TABLE({element.get('r1', '')},{element.get('r2', '')})"
        if text and (link := outside(text)):
            self._complain("formula-outside", link, address)
        return text or None

    def _shared(self, group: str, text: str, address: str) -> str:
        if text:
            self.shared.setdefault(group, (text, address))
            return text
        if group not in self.shared:
            raise ValueError("its formula is shared from a cell that is missing")
        return shared_formula(*self.shared[group], address)

    def _complain(self, code: str, found: str, address: str) -> None:
        self.problems.append(finding(code, found=found, sheet=self.sheet.name, cell=address))
