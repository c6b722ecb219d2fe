"""Workbooks of the .ods kind (OpenDocument): content, properties and settings."""

from __future__ import annotations

from datumbook.messages.findings import finding
from datumbook.readers.book import Book, PageWords, SheetFound
from datumbook.readers.dates import EPOCHS
from datumbook.readers.formulas import from_open_formula, outside
from datumbook.readers.gate import FILE_LIMITS, Contents, FileLimits
from datumbook.readers.markup import Element, discard, elements, events, truth
from datumbook.readers.ods_drawings import SHAPES, laid_over_by
from datumbook.readers.ods_pages import MASTER, page_words
from datumbook.readers.ods_parts import strange_parts
from datumbook.readers.ods_rules import CALC, TABLE, areas_named, colour_test, entry_rule
from datumbook.readers.ods_sheet import LOWEST, OdsSheetReader
from datumbook.readers.ods_styles import DATA_STYLE, STYLE, OdsStyles, points
from datumbook.readers.rules import NO_CELLS, ColourRule, EntryRule
from datumbook.readers.xlsx_pages import MOST_WORDS

_META = "{urn:oasis:names:tc:opendocument:xmlns:meta:1.0}"
_CONFIG = "{urn:oasis:names:tc:opendocument:xmlns:config:1.0}"
_CONTENT_TAGS = [
    f"{TABLE}table",
    f"{TABLE}table-row",
    f"{TABLE}table-column",
    f"{TABLE}named-range",
    f"{TABLE}named-expression",
    f"{TABLE}calculation-settings",
    f"{TABLE}content-validation",
    f"{CALC}conditional-format",
    SHAPES,
]
_STYLES = [f"{STYLE}style", f"{STYLE}default-style"] + [
    f"{DATA_STYLE}{kind}-style"
    for kind in ("number", "percentage", "date", "time", "currency", "text", "boolean")
]


def read_ods(contents: Contents, limits: FileLimits = FILE_LIMITS) -> Book:
    """Return the workbook; Refused where a part is missing, its XML is broken, or repeated cells
    pass the limit.
    """
    book = Book(contents.path, "ods", problems=strange_parts(contents), digest=contents.digest)
    ContentReader(contents, book, limits).read("content.xml")
    book.properties = {
        element.get(f"{_META}name", ""): element.text or ""
        for element in elements(contents, "meta.xml", [f"{_META}user-defined"], optional=True)
        if element.get(f"{_META}value-type", "string") == "string"
    }
    switched_off = {
        element.get(f"{_CONFIG}name")
        for element in elements(contents, "settings.xml", [f"{_CONFIG}config-item"], optional=True)
        if not truth(element.text)
    }
    book.manual = "AutoCalculate" in switched_off
    if "ShowZeroValues" in switched_off and book.sheets:
        book.problems.append(finding("zeros-hidden", sheet=next(iter(book.sheets))))
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
        self.sizes: dict[str, float] = {}  # of rows and columns, by style
        self.styles = OdsStyles()
        self.entry_rules: dict[str, EntryRule] = {}
        self.pages: dict[str, list[PageWords]] = {}
        self.pages_of: dict[str, str] = {}
        for element in elements(contents, "styles.xml", [*_STYLES, MASTER], optional=True):
            if element.tag == MASTER:
                self.pages[element.get(f"{STYLE}name", "")] = page_words(element)
            else:
                self._style(element)

    def read(self, part: str) -> None:
        """Read the whole part; Refused where it is missing or its XML breaks off."""
        for event, element in events(self.contents, part, _CONTENT_TAGS + _STYLES):
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
            style = element.get(f"{TABLE}style-name", "")
            hidden = style in self.hidden_styles
            found = SheetFound(name, hidden, truth(element.get(f"{TABLE}protected")))
            found.page_words = self.pages.get(self.pages_of.get(style, "Default"), [])
            found.printed = areas_named(element.get(f"{TABLE}print-ranges", "")[:MOST_WORDS])
            if not truth(element.get(f"{TABLE}print"), otherwise=True):
                found.printed = (NO_CELLS,)
            self.sheet = OdsSheetReader(
                self.book, found, self.styles, self.entry_rules, self.sizes, self.room
            )
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
            case "shapes" if self.sheet is not None and self.depth == 1:
                self.sheet.sheet.laid_over += laid_over_by(element)
            case "content-validation":
                self.entry_rules[element.get(f"{TABLE}name", "")] = entry_rule(element)
            case "conditional-format" if self.sheet is not None:
                self._colours(element, self.sheet.sheet)
            case kind if kind.endswith("style"):
                self._style(element)
            case "named-range" | "named-expression" if self.depth == 0:
                self._name(element)
            case "calculation-settings":
                self._settings(element)

    def _style(self, element: Element) -> None:
        if element.tag not in _STYLES[:2]:
            self.styles.keep_data(element)
            return
        family, name = element.get(f"{STYLE}family"), element.get(f"{STYLE}name", "")
        if family in ("table-cell", "text", None):
            self.styles.keep(element)
        if page := element.get(f"{STYLE}master-page-name"):
            self.pages_of[name] = page
        for properties in element.iterfind(f"{STYLE}table-properties"):
            if not truth(properties.get(f"{TABLE}display"), otherwise=True):
                self.hidden_styles.add(name)
        for kind, size in (("table-row", "row-height"), ("table-column", "column-width")):
            for properties in element.iterfind(f"{STYLE}{kind}-properties"):
                if stated := properties.get(f"{STYLE}{size}"):
                    self.sizes[name] = points(stated, LOWEST)

    def _colours(self, element: Element, sheet: SheetFound) -> None:
        """Keep the colours that cells of a sheet take by what they hold."""
        areas = areas_named(element.get(f"{CALC}target-range-address", ""))
        for rule in element:
            kind, text = rule.tag.rpartition("}")[2], rule.get(f"{CALC}value", "")
            test = colour_test(text) if kind == "condition" else kind
            if link := outside(test):
                self.book.problems.append(
                    finding("formula-outside", found=link, sheet=sheet.name, cell="")
                )
            look = self.styles.over(rule.get(f"{CALC}apply-style-name", ""))
            sheet.colours.append(ColourRule(areas, test, look))

    def _name(self, element: Element) -> None:
        target = element.get(f"{TABLE}cell-range-address")
        if target is None:
            target = from_open_formula(element.get(f"{TABLE}expression", ""))
        name = element.get(f"{TABLE}name", "")
        if link := outside(target):
            self.book.problems.append(finding("external-link", found=f"the name {name}: {link}"))
        self.book.add_name(name, target)

    def _settings(self, element: Element) -> None:
        self.book.full_precision = not truth(element.get(f"{TABLE}precision-as-shown"))
        for day in element.iterfind(f"{TABLE}null-date"):
            self.book.date_1904 = day.get(f"{TABLE}date-value", "").startswith(
                f"{EPOCHS[True]:%Y-%m-%d}"
            )
