"""Workbooks of the .xlsx kind: the package, its names and settings, and its sheets in file
order.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from posixpath import dirname, join, normpath

from datumbook.messages.findings import finding
from datumbook.readers.book import Book, SheetFound, refusal
from datumbook.readers.formulas import outside
from datumbook.readers.gate import Contents
from datumbook.readers.markup import Element, elements, truth
from datumbook.readers.parts import strange_parts
from datumbook.readers.rules import CellArea
from datumbook.readers.xlsx_drawings import laid_over
from datumbook.readers.xlsx_pages import PRINT_AREA, areas_printed
from datumbook.readers.xlsx_sheet import XlsxSheetReader, worded
from datumbook.readers.xlsx_styles import MAIN, read_styles

_STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
_RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_ID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_PROPERTY = "{http://schemas.openxmlformats.org/officeDocument/2006/custom-properties}property"
_TEXT_PROPERTY = re.compile(r"\{[^}]*\}(?:lpwstr|lpstr|bstr)")

_CALLED_BY_ITSELF = re.compile(
    r"(?:_xlnm\.)?auto_(?:open|close|activate|deactivate)", re.IGNORECASE
)
_PROGRAM_MARKS = ("function", "vbProcedure", "xlm")

Relations = dict[str, tuple[str, str]]
"""Id -> (last word of the type, part it points to)."""


def read_xlsx(contents: Contents) -> Book:
    """Return the workbook; Refused where it is Strict, a part is missing or its XML is broken."""
    book = Book(contents.path, "xlsx", problems=strange_parts(contents), digest=contents.digest)
    package = _relations(contents, "")
    workbook = _first(package, "officeDocument") or "xl/workbook.xml"
    _check_format(contents, workbook)
    relations = _relations(contents, workbook)
    printed: dict[str, tuple[CellArea, ...]] = {}
    sheets = _read_workbook(contents, workbook, book, printed)
    styles = read_styles(contents, _first(relations, "styles"), _first(relations, "theme"))
    texts = elements(contents, _first(relations, "sharedStrings"), [f"{{{MAIN}}}si"])
    strings = [worded(element, styles) for element in texts]
    for number, (sheet, part) in enumerate(_parts_of_sheets(contents, sheets, relations)):
        sheet.printed = printed.get(str(number), ())
        if part:
            _check_format(contents, part)
            XlsxSheetReader(sheet, strings, styles, book.problems).read(contents, part)
            drawing = _first(_relations(contents, part), "drawing")
            sheet.laid_over += laid_over(contents, drawing)
        book.add_sheet(sheet)
    properties = _first(package, "custom-properties")
    book.properties = {
        element.get("name", ""): value.text or ""
        for element in elements(contents, properties, [_PROPERTY], optional=True)
        for value in element
        if _TEXT_PROPERTY.fullmatch(value.tag)
    }
    return book


def _parts_of_sheets(
    contents: Contents, sheets: list[tuple[str, bool, str]], relations: Relations
) -> Iterator[tuple[SheetFound, str]]:
    """Yield each sheet with its part, "" for a sheet without cells; Refused where two sheets share
    one part.
    """
    taken: set[str] = set()
    for name, hidden, relation in sheets:
        kind, part = relations.get(relation, ("worksheet", f"the sheet {name}"))
        if part in taken:
            raise refusal(
                "duplicate-part", contents.file, f"two of its sheets are the one part {part}", part
            )
        taken.add(part)
        yield SheetFound(name, hidden), part if kind == "worksheet" else ""


def _relations(contents: Contents, part: str) -> Relations:
    folder = dirname(part)
    name = join(folder, "_rels", part.rpartition("/")[2] + ".rels")
    return {
        element.get("Id", ""): (
            element.get("Type", "").rpartition("/")[2],
            normpath(join("/", folder, element.get("Target", ""))).lstrip("/"),
        )
        for element in elements(contents, name, [_RELATION], optional=True)
        if element.get("TargetMode") != "External"
    }


def _first(relations: Relations, kind: str) -> str:
    return next((part for found, part in relations.values() if found == kind), "")


def _check_format(contents: Contents, part: str) -> None:
    data = contents.part(part)
    if _STRICT in data:
        raise refusal("strict-format", contents.file, part=part)
    if MAIN.encode() not in data:
        raise refusal(
            "not-a-workbook", contents.file, f"an archive whose part {part} holds no sheets", part
        )


def _read_workbook(
    contents: Contents, part: str, book: Book, printed: dict[str, tuple[CellArea, ...]]
) -> list[tuple[str, bool, str]]:
    """Fill in the book's settings and names, and what of a sheet is printed by its number; return
    (name, hidden, relation) of each sheet in order.
    """
    sheets: list[tuple[str, bool, str]] = []
    tags = [f"{{{MAIN}}}{name}" for name in ("workbookPr", "sheet", "definedNames", "calcPr")]
    for element in elements(contents, part, tags):
        match element.tag[len(MAIN) + 2 :]:
            case "workbookPr":
                book.date_1904 = truth(element.get("date1904"))
            case "sheet":
                hidden = element.get("state", "visible") != "visible"
                sheets.append((element.get("name", ""), hidden, element.get(_ID, "")))
            case "definedNames":
                for name in element.iterchildren(f"{{{MAIN}}}definedName"):
                    _read_name(name, book)
                    if name.get("name", "").casefold() == PRINT_AREA:
                        printed[name.get("localSheetId", "")] = areas_printed(name.text or "")
            case "calcPr":
                book.manual = element.get("calcMode") == "manual"
                book.full_precision = truth(element.get("fullPrecision"), otherwise=True)
    return sheets


def _read_name(element: Element, book: Book) -> None:
    """Keep a name of the workbook, and tell one that calls a program or leads outside."""
    name, text = element.get("name", ""), element.text or ""
    if _CALLED_BY_ITSELF.match(name) or any(truth(element.get(mark)) for mark in _PROGRAM_MARKS):
        book.problems.append(finding("has-macros", found=f"the name {name}"))
    elif link := outside(text):
        book.problems.append(finding("external-link", found=f"the name {name}: {link}"))
    if element.get("localSheetId") is None:
        book.add_name(name, text)
