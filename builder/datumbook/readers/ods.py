"""Workbooks of the .ods kind (OpenDocument): content, properties and settings."""

from __future__ import annotations

from datumbook.messages.findings import finding
from datumbook.readers.book import Book, SheetFound
from datumbook.readers.dates import EPOCHS
from datumbook.readers.formulas import from_open_formula
from datumbook.readers.gate import FILE_LIMITS, Contents, FileLimits
from datumbook.readers.markup import Element, discard, elements, events, truth
from datumbook.readers.ods_sheet import DATA_STYLE, STYLE, TABLE, OdsSheetReader

_META = "{urn:oasis:names:tc:opendocument:xmlns:meta:1.0}"
_CONFIG = "{urn:oasis:names:tc:opendocument:xmlns:config:1.0}"
_TAGS = [
    f"{TABLE}table",
    f"{TABLE}table-row",
    f"{TABLE}table-column",
    f"{TABLE}named-range",
    f"{TABLE}named-expression",
    f"{TABLE}calculation-settings",
    f"{TABLE}dde-link",
    f"{TABLE}table-source",
    f"{STYLE}style",
    f"{DATA_STYLE}percentage-style",
]


def read_ods(contents: Contents, limits: FileLimits = FILE_LIMITS) -> Book:
    """Return the workbook; Refused where a part is missing, its XML is broken, or repeated cells
    pass the limit.
    """
    book = Book(contents.path, "ods", problems=contents.problems)
    ContentReader(contents, book, limits).read("content.xml")
    book.properties = {
        element.get(f"{_META}name", ""): element.text or ""
        for element in elements(contents, "meta.xml", [f"{_META}user-defined"], optional=True)
        if element.get(f"{_META}value-type", "string") == "string"
    }
    book.manual = any(
        element.get(f"{_CONFIG}name") == "AutoCalculate" and not truth(element.text)
        for element in elements(contents, "settings.xml", [f"{_CONFIG}config-item"], optional=True)
    )
    return book


class ContentReader:
    """Reads the one part that holds all sheets, in the order of the file."""

    def __init__(self, contents: Contents, book: Book, limits: FileLimits) -> None:
        self.contents = contents
        self.book = book
        self.room = limits.cells
        self.sheet: OdsSheetReader | None = None
        self.depth = 0
        self.hidden_styles: set[str] = set()
        self.percent_styles = {
            element.get(f"{STYLE}name", "")
            for element in elements(
                contents, "styles.xml", [f"{DATA_STYLE}percentage-style"], optional=True
            )
        }

    def read(self, part: str) -> None:
        """Read the whole part; Refused where it is missing or its XML breaks off."""
        for event, element in events(self.contents, part, _TAGS):
            if element.tag == f"{TABLE}table":
                self._table(event, element)
            elif event == "end":
                self._end(element)

    def _table(self, event: str, element: Element) -> None:
        """Open a sheet at its start and keep it at its end; a table inside a sheet (a chart's, say)
        is passed over.
        """
        self.depth += 1 if event == "start" else -1
        name = element.get(f"{TABLE}name")
        if event == "start" and self.depth == 1 and name:
            hidden = element.get(f"{TABLE}style-name") in self.hidden_styles
            found = SheetFound(name, hidden, truth(element.get(f"{TABLE}protected")))
            self.sheet = OdsSheetReader(self.book, found, self.percent_styles, self.room)
        elif event == "end" and self.depth == 0:
            if self.sheet is not None:
                self.sheet.close()
                self.room = self.sheet.room
                self.book.add_sheet(self.sheet.sheet)
            self.sheet = None
            discard(element)

    def _end(self, element: Element) -> None:
        match element.tag.rpartition("}")[2]:
            case "table-row" if self.sheet is not None and self.depth == 1:
                self.sheet.row(element)
                discard(element)
            case "table-column" if self.sheet is not None and self.depth == 1:
                self.sheet.column(element)
            case "style":
                self._style(element)
            case "percentage-style":
                self.percent_styles.add(element.get(f"{STYLE}name", ""))
            case "named-range" | "named-expression" if self.depth == 0:
                self._name(element)
            case "calculation-settings":
                self._settings(element)
            case "dde-link" | "table-source":
                self.book.problems.append(
                    finding("external-link", found="a sheet linked to another file")
                )

    def _style(self, element: Element) -> None:
        name = element.get(f"{STYLE}name", "")
        if element.get(f"{STYLE}data-style-name") in self.percent_styles:
            self.percent_styles.add(name)
        for properties in element.iterfind(f"{STYLE}table-properties"):
            if not truth(properties.get(f"{TABLE}display"), otherwise=True):
                self.hidden_styles.add(name)

    def _name(self, element: Element) -> None:
        target = element.get(f"{TABLE}cell-range-address")
        if target is None:
            target = from_open_formula(element.get(f"{TABLE}expression", ""))
        self.book.add_name(element.get(f"{TABLE}name", ""), target)

    def _settings(self, element: Element) -> None:
        self.book.full_precision = not truth(element.get(f"{TABLE}precision-as-shown"))
        for day in element.iterfind(f"{TABLE}null-date"):
            self.book.date_1904 = day.get(f"{TABLE}date-value", "").startswith(
                f"{EPOCHS[True]:%Y-%m-%d}"
            )
