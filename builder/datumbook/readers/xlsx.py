"""Workbooks of the .xlsx kind: the package, its names and settings, and its sheets in file
order.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from posixpath import dirname, join, normpath

from datumbook.readers.book import Book, SheetFound, refusal
from datumbook.readers.gate import Contents
from datumbook.readers.markup import elements, truth, whole
from datumbook.readers.number_formats import BUILT_IN, GENERAL, NumberFormat, number_format
from datumbook.readers.xlsx_sheet import MAIN, XlsxSheetReader, plain_text

_STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
_RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_ID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_PROPERTY = "{http://schemas.openxmlformats.org/officeDocument/2006/custom-properties}property"
_TEXT_PROPERTY = re.compile(r"\{[^}]*\}(?:lpwstr|lpstr|bstr)")

Relations = dict[str, tuple[str, str]]
"""Id -> (last word of the type, part it points to)."""


def read_xlsx(contents: Contents) -> Book:
    """Return the workbook; Refused where it is Strict, a part is missing or its XML is broken."""
    book = Book(contents.path, "xlsx", problems=contents.problems)
    package = _relations(contents, "")
    workbook = _first(package, "officeDocument") or "xl/workbook.xml"
    _check_format(contents, workbook)
    relations = _relations(contents, workbook)
    sheets = _read_workbook(contents, workbook, book)
    texts = elements(contents, _first(relations, "sharedStrings"), [f"{{{MAIN}}}si"])
    strings = [plain_text(element) for element in texts]
    formats = _formats(contents, _first(relations, "styles"))
    for sheet, part in _parts_of_sheets(contents, sheets, relations):
        if part:
            _check_format(contents, part)
            XlsxSheetReader(sheet, strings, formats, book.problems).read(contents, part)
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


def _read_workbook(contents: Contents, part: str, book: Book) -> list[tuple[str, bool, str]]:
    """Fill in the book's settings and names; return (name, hidden, relation) of each sheet in
    order.
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
                    if name.get("localSheetId") is None:
                        book.add_name(name.get("name", ""), name.text or "")
            case "calcPr":
                book.manual = element.get("calcMode") == "manual"
                book.full_precision = truth(element.get("fullPrecision"), otherwise=True)
    return sheets


def _formats(contents: Contents, part: str) -> list[NumberFormat]:
    """Return the number format of each style a cell can name, in the order of the file."""
    known = {number: number_format(text) for number, text in BUILT_IN.items()}
    styles: list[NumberFormat] = []
    for element in elements(contents, part, [f"{{{MAIN}}}numFmt", f"{{{MAIN}}}cellXfs"]):
        if element.tag.endswith("numFmt"):
            number = whole(element.get("numFmtId", "0"), 0)
            known[number] = number_format(element.get("formatCode", ""))
        else:
            numbers = [whole(style.get("numFmtId", "0"), 0) for style in element]
            styles = [known.get(one, GENERAL) for one in numbers]
    return styles or [GENERAL]
