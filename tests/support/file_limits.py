"""Whether a generated xlsx file keeps within what spreadsheet programs can hold: one rule, one
function.

Sources: Microsoft's pages "Excel specifications and limits" and "Names in formulas", ECMA-376 part
1 for the file; 225 characters of an error text and 65,490 hyperlinks are what that program itself
opens, from memory. Rules on sheet names, truth values and entered arrays are our own, from what
other programs lose.
"""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from lxml import etree
from openpyxl.utils.cell import coordinate_to_tuple

from formula_limits import formula_faults
from xlsx_parts import MAIN, OF_OFFICE, Parts, plain_text

SHEET_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
DEFINED_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_.]*")
CELL = re.compile(r"([A-Za-z]{1,3})([1-9][0-9]{0,6})")
ROW_AND_COLUMN = re.compile(r"R\d*C\d*|R\d*|C\d*", re.IGNORECASE)
TARGET = re.compile(r"([A-Za-z][A-Za-z0-9_]*)!\$?[A-Z]{1,3}\$?\d+(:\$?[A-Z]{1,3}\$?\d+)?")
NUMBER = re.compile(r"[+-]?\d*\.?\d*([eE][+-]?\d+)?")
BUILT_IN = "_xlnm."
ROWS, COLUMNS = 1_048_576, 16_384
VALIDATION_TEXTS = {"prompt": 255, "error": 225, "promptTitle": 32, "errorTitle": 32}
HEADERS = ("oddHeader", "oddFooter", "evenHeader", "evenFooter", "firstHeader", "firstFooter")
MOST_HYPERLINKS, FIRST_OWN_FORMAT = 65_490, 164


def check_file_limits(path: Path) -> list[str]:
    """Return one sentence for each thing in an xlsx file that is outside a limit; [] for a sound
    file.
    """
    parts = Parts(path)
    return [fault for rule in RULES for fault in rule(parts)]


def letters(text: str) -> int:
    """Return the length of a text as the programs count it, in units of UTF-16."""
    return len(text.encode("utf-16-le")) // 2


def too_long(where: str, text: str | None, most: int) -> Iterator[str]:
    """Yield a sentence when a text is longer than allowed."""
    if text and letters(text) > most:
        yield f"{where} has {letters(text)} characters, at most {most} are allowed: {text[:40]!r}…"


def repeated(names: list[str]) -> list[str]:
    """Return the names that occur more than once whatever their capitals."""
    return sorted(
        name for name, count in Counter(name.casefold() for name in names).items() if count > 1
    )


# --- sheets and cells


def sheet_names(parts: Parts) -> Iterator[str]:
    """At most 31 characters, a letter first, then letters, digits and underscores; unique whatever
    the capitals.
    """
    for name in parts.sheets:
        yield from too_long(f"sheet name {name!r}", name, 31)
        if not SHEET_NAME.fullmatch(name):
            yield (
                f"sheet name {name!r} needs quotes in a formula: use letters, digits and "
                f"underscores, a letter first"
            )
    for name in repeated(list(parts.sheets)):
        yield f"sheet name {name!r} occurs twice"


def cells(parts: Parts) -> Iterator[str]:
    """Inside the grid and once each; texts at most 32767 characters; no truth values; formulas
    within their rules.
    """
    seen: set[tuple[str, str]] = set()
    for sheet, cell in parts.cells():
        address = cell.get("r", "")
        where = f"{sheet}!{address}"
        row, column = coordinate_to_tuple(address)
        if row > ROWS or column > COLUMNS:
            yield f"{where} lies outside the grid of {ROWS} rows and {COLUMNS} columns"
        if (sheet, address) in seen:
            yield f"{where} is stored twice"
        seen.add((sheet, address))
        yield from content(parts, where, cell)


def content(parts: Parts, where: str, cell: etree._Element) -> Iterator[str]:
    """Yield what is wrong inside one cell."""
    yield from too_long(f"the text of {where}", text_of(parts, cell), 32_767)
    if cell.get("t") == "b":
        yield f"{where} holds a truth value: one program counts it as a number"
    formula = cell.find(f"{MAIN}f")
    if formula is not None:
        if formula.get("t", "normal") != "normal":
            yield (
                f"the formula of {where} is entered as {formula.get('t')}: enter it in the one cell"
            )
        for fault in formula_faults(f"={formula.text or ''}"):
            yield f"the formula of {where} {fault}"


def text_of(parts: Parts, cell: etree._Element) -> str:
    """Return the text a cell holds, "" when it holds none."""
    kind, stored = cell.get("t"), cell.findtext(f"{MAIN}v") or ""
    if kind == "inlineStr":
        return "".join(plain_text(item) for item in cell.iterfind(f"{MAIN}is"))
    if kind == "s":
        return parts.shared_texts[int(stored)]
    return stored if kind == "str" else ""


# --- names


def defined_names(parts: Parts) -> Iterator[str]:
    """At most 255 characters, read as a cell in no notation, unique, for the whole book, each a
    place in it.
    """
    names = list(parts.workbook.iterfind(f"{MAIN}definedNames/{MAIN}definedName"))
    own = [name for name in names if not name.get("name", "").startswith(BUILT_IN)]
    for element in own:
        name = element.get("name", "")
        yield from too_long(f"name {name[:40]!r}", name, 255)
        if not DEFINED_NAME.fullmatch(name):
            yield (
                f"name {name!r} must be letters, digits, underscores and points, a letter or "
                f"underscore first"
            )
        if reads_as_cell(name):
            yield f"name {name!r} reads as a cell: put an underscore in it"
        yield from scope_and_target(parts, name, element)
    for name in repeated([element.get("name", "") for element in own]):
        yield f"name {name!r} is defined twice"


def scope_and_target(parts: Parts, name: str, element: etree._Element) -> Iterator[str]:
    """Yield what is wrong with the place a name stands for."""
    if element.get("localSheetId") is not None:
        yield f"name {name!r} belongs to one sheet: define it for the whole book"
    target = TARGET.fullmatch(element.text or "")
    if not target or target[1] not in parts.sheets:
        yield f"name {name!r} stands for {element.text!r}, which is no cell or range of this book"


def reads_as_cell(name: str) -> bool:
    """Return whether some notation reads a name as a cell, a row, a column, or a truth value.

    >>> [reads_as_cell(name) for name in ("tap12", "XFD1048576", "XFE1", "r1c1", "C", "in_1")]
    [True, True, False, True, True, False]
    """
    address = CELL.fullmatch(name)
    if address:
        row, column = coordinate_to_tuple(name.upper())
        return (row <= ROWS and column <= COLUMNS) or bool(ROW_AND_COLUMN.fullmatch(name))
    return bool(ROW_AND_COLUMN.fullmatch(name)) or name.upper() in ("TRUE", "FALSE")


# --- what hangs on cells


def validations(parts: Parts) -> Iterator[str]:
    """Texts shown beside a cell, lists of allowed words, and formulas of validations."""
    for sheet, root in parts.sheets.items():
        for validation in root.iterfind(f"{MAIN}dataValidations/{MAIN}dataValidation"):
            where = f"the validation of {sheet}!{validation.get('sqref')}"
            for attribute, most in VALIDATION_TEXTS.items():
                yield from too_long(f"{attribute} of {where}", validation.get(attribute), most)
            for formula in validation.iterfind("*"):
                yield from validation_formula(where, formula.text or "")


def validation_formula(where: str, text: str) -> Iterator[str]:
    """A list in quotes has at most 255 characters; a number is a number; anything else keeps the
    rules of formulas.
    """
    if text.startswith('"'):
        yield from too_long(f"the list of {where}", text[1:-1], 255)
    elif not NUMBER.fullmatch(text):
        for fault in formula_faults(f"={text}"):
            yield f"the formula of {where} {fault}"


def conditions(parts: Parts) -> Iterator[str]:
    """Formulas of conditional formats keep the rules of formulas."""
    for sheet, root in parts.sheets.items():
        for block in root.iterfind(f"{MAIN}conditionalFormatting"):
            where = f"the conditional format of {sheet}!{block.get('sqref')}"
            for formula in block.iterfind(f"{MAIN}cfRule/{MAIN}formula"):
                yield from validation_formula(where, formula.text or "")


def headers(parts: Parts) -> Iterator[str]:
    """Headers and footers of at most 255 characters, their codes counted."""
    for sheet, root in parts.sheets.items():
        for tag in HEADERS:
            for element in root.iterfind(f"{MAIN}headerFooter/{MAIN}{tag}"):
                yield from too_long(f"{tag} of {sheet}", element.text, 255)


def hyperlinks(parts: Parts) -> Iterator[str]:
    """At most 65,490 on a sheet; tooltip at most 255 characters, location at most 2079."""
    for sheet, root in parts.sheets.items():
        links = list(root.iterfind(f"{MAIN}hyperlinks/{MAIN}hyperlink"))
        outside = {
            id_: target
            for id_, _, target in parts.relations(*posixpath.split(parts.sheet_parts[sheet]))
        }
        if len(links) > MOST_HYPERLINKS:
            yield f"{sheet} has {len(links)} hyperlinks, at most {MOST_HYPERLINKS} are allowed"
        for link in links:
            where = f"the hyperlink of {sheet}!{link.get('ref')}"
            yield from too_long(f"the tooltip of {where}", link.get("tooltip"), 255)
            location = outside.get(link.get(f"{OF_OFFICE}id", ""), "") + (
                link.get("location") or ""
            )
            yield from too_long(f"the location of {where}", location, 2079)


def number_formats(parts: Parts) -> Iterator[str]:
    """Each format used exists, has one to four parts, closes what it opens, and hides no value."""
    if parts.styles is None:
        return
    formats = {
        item.get("numFmtId"): item.get("formatCode", "")
        for item in parts.styles.iter(f"{MAIN}numFmt")
    }
    for style in parts.styles.iterfind(f"{MAIN}cellXfs/{MAIN}xf"):
        number = style.get("numFmtId", "0")
        if int(number) >= FIRST_OWN_FORMAT and number not in formats:
            yield f"number format {number} is used and not defined"
    for code in formats.values():
        for fault in format_faults(code):
            yield f"number format {code!r} {fault}"


def format_faults(code: str) -> Iterator[str]:
    """Yield what is wrong with one number format."""
    bare = re.sub(r'"[^"]*"|\\.|[_*].', "", code)
    if not code:
        yield "is empty"
    if letters(code) > 255:
        yield "has more than 255 characters"
    if '"' in bare:
        yield "has a quote that is not closed"
    if bare.count("[") != bare.count("]"):
        yield "has a square bracket that is not closed"
    if bare.count(";") > 3:
        yield "has more than four parts"
    elif ";" in code and not all(part.strip() for part in code.split(";")[:2]):
        yield "hides the value"


RULES = (
    sheet_names,
    cells,
    defined_names,
    validations,
    conditions,
    headers,
    hyperlinks,
    number_formats,
)
