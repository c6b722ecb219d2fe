"""Books damaged in one place of the stored XML, everything else byte for byte as it was: what no
program had a hand in.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Mapping
from copy import deepcopy
from pathlib import Path

from lxml import etree
from openpyxl.utils.cell import coordinate_to_tuple, get_column_letter

from xlsx_parts import MAIN, OF_OFFICE, Parts

KEPT = object()
Change = Callable[[bytes], bytes | None]


def with_parts(source: Path, out: Path, changes: Mapping[str, Change]) -> Path:
    """Write a book with some parts changed, left out (the change gives None) or added (it is given
    b"").
    """
    parts = Parts(source).files
    for name, change in changes.items():
        found = change(parts.pop(name, b""))
        if found is not None:
            parts[name] = found
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return out


def with_sheet(
    source: Path, out: Path, sheet: str, change: Callable[[etree._Element], None]
) -> Path:
    """Write a book with the XML of one sheet changed."""
    parts = Parts(source)
    root = parts.sheets[sheet]
    change(root)
    return with_parts(source, out, {parts.sheet_parts[sheet]: lambda _: etree.tostring(root)})


def with_cell(
    source: Path, out: Path, at: tuple[str, str], *, holds: object, formula: object = None
) -> Path:
    """Write a book with one cell changed: what it holds or shows (KEPT: as before), its formula
    (KEPT, or None for none).
    """

    def change(root: etree._Element) -> None:
        (cell,) = [one for one in root.iter(f"{MAIN}c") if one.get("r") == at[1]]
        formula_now, value_now, kind = (
            cell.findtext(f"{MAIN}f"),
            cell.findtext(f"{MAIN}v"),
            cell.get("t"),
        )
        for child in list(cell):
            cell.remove(child)
        if (said := formula_now if formula is KEPT else formula) is not None:
            etree.SubElement(cell, f"{MAIN}f").text = str(said)
        value, kind = (
            (value_now, kind)
            if holds is KEPT
            else (None if holds is None else str(holds), _kind(holds, said))
        )
        cell.attrib.pop("t", None)
        if kind:
            cell.set("t", kind)
        if value is not None:
            place = (
                etree.SubElement(etree.SubElement(cell, f"{MAIN}is"), f"{MAIN}t")
                if kind == "inlineStr"
                else None
            )
            (etree.SubElement(cell, f"{MAIN}v") if place is None else place).text = value

    return with_sheet(source, out, at[0], change)


def _kind(holds: object, formula: object) -> str:
    if not isinstance(holds, str):
        return ""
    if holds.startswith("#"):
        return "e"
    return "inlineStr" if formula is None else "str"


def with_names(source: Path, out: Path, keep: Callable[[str], bool]) -> Path:
    """Write a book with only those of its own names for which this holds."""
    parts = Parts(source)
    names = parts.workbook.find(f"{MAIN}definedNames")
    assert names is not None
    for name in list(names):
        if not name.get("name", "").startswith("_xlnm") and not keep(name.get("name", "")):
            names.remove(name)
    return with_parts(source, out, {parts.workbook_part: lambda _: etree.tostring(parts.workbook)})


# --- what a program does to the rest of a book when cells, rows, columns or sheets are moved

Move = Callable[[int, int], tuple[int, int] | None]
REFERENCE = re.compile(
    r"""("[^"]*")|(?<![\w.!$])(?:([A-Za-z]\w*)!)?(\$?[A-Z]{1,3}\$?[0-9]+(?::\$?[A-Z]{1,3}\$?[0-9]+)?)(?![\w(])"""
)
LISTS = ("dataValidations", "conditionalFormatting", "rowBreaks", "hyperlinks")


def with_moved(source: Path, out: Path, sheet: str, move: Move) -> Path:
    """Write a book in which the cells of one sheet stand elsewhere (None: deleted), with names and
    formulas that follow.
    """
    parts = Parts(source)
    for name, root in parts.sheets.items():
        for formula in root.iter(f"{MAIN}f"):
            formula.text = _followed(formula.text or "", sheet, move, name)
    for name in parts.workbook.iter(f"{MAIN}definedName"):
        if not name.get("name", "").startswith("_xlnm"):
            name.text = _followed(name.text or "", sheet, move, "").replace(
                f"{sheet}!#REF!", "#REF!"
            )
    _move_cells(parts.sheets[sheet], move)
    return _whole(parts, out)


def _followed(text: str, sheet: str, move: Move, here: str) -> str:
    def follow(match: re.Match[str]) -> str:
        words, on, cells = match.groups()
        if words is not None or (on or here) != sheet:
            return match[0]
        spots = [move(*coordinate_to_tuple(cell.replace("$", ""))) for cell in cells.split(":")]
        mark = "" if here else "$"
        gone = [spot for spot in spots if spot is None]
        there = ":".join(
            f"{mark}{get_column_letter(spot[1])}{mark}{spot[0]}"
            for spot in spots
            if spot is not None
        )
        return f"{on}!{'#REF!' if gone else there}" if on else "#REF!" if gone else there

    return REFERENCE.sub(follow, text)


def _move_cells(root: etree._Element, move: Move) -> None:
    data = root.find(f"{MAIN}sheetData")
    assert data is not None
    rows: dict[int, dict[int, etree._Element]] = {}
    for cell in list(data.iter(f"{MAIN}c")):
        row, column = coordinate_to_tuple(cell.get("r", ""))
        spot = move(row, column)
        if spot is not None:
            cell.set("r", f"{get_column_letter(spot[1])}{spot[0]}")
            rows.setdefault(spot[0], {})[spot[1]] = cell
    for old in list(data):
        data.remove(old)
    for row, cells in sorted(rows.items()):
        made = etree.SubElement(data, f"{MAIN}row", r=str(row))
        made.extend(cells[column] for column in sorted(cells))
    for tag in (*LISTS, "mergeCells"):
        for found in list(root.iter(f"{MAIN}{tag}")):
            root.remove(found)


def with_renamed(source: Path, out: Path, sheet: str, new: str) -> Path:
    """Write a book with a sheet of another name, formulas and names following."""
    parts = Parts(source)
    for element in [
        *parts.workbook.iter(f"{MAIN}definedName"),
        *(f for r in parts.sheets.values() for f in r.iter(f"{MAIN}f")),
    ]:
        element.text = re.sub(rf"(?<![\w.]){sheet}!", f"{new}!", element.text or "")
    (found,) = [one for one in parts.workbook.iter(f"{MAIN}sheet") if one.get("name") == sheet]
    found.set("name", new)
    return _whole(parts, out)


def _whole(parts: Parts, out: Path) -> Path:
    roots = {parts.sheet_parts[name]: root for name, root in parts.sheets.items()} | {
        parts.workbook_part: parts.workbook
    }
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.files.items():
            archive.writestr(name, etree.tostring(roots[name]) if name in roots else content)
    return out


def with_workbook(source: Path, out: Path, change: Callable[[etree._Element], None]) -> Path:
    """Write a book with the XML of its workbook part changed."""
    parts = Parts(source)
    change(parts.workbook)
    return _whole(parts, out)


def with_further_sheet(source: Path, out: Path, name: str, like: str | None = None) -> Path:
    """Write a book with one more sheet at its end: a copy of another, or one with a single word."""
    parts = Parts(source)
    root = deepcopy(parts.sheets[like or "Record"])
    data = root.find(f"{MAIN}sheetData")
    assert data is not None
    if like is None:
        for row in list(data):
            data.remove(row)
        cell = etree.SubElement(
            etree.SubElement(data, f"{MAIN}row", r="1"), f"{MAIN}c", r="A1", t="inlineStr"
        )
        etree.SubElement(
            etree.SubElement(cell, f"{MAIN}is"), f"{MAIN}t"
        ).text = "what the owner said"
    sheets = parts.workbook.find(f"{MAIN}sheets")
    assert sheets is not None
    etree.SubElement(
        sheets, f"{MAIN}sheet", {"name": name, "sheetId": "99", f"{OF_OFFICE}id": "further"}
    )
    relations = "xl/_rels/workbook.xml.rels"
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet"
    line = (
        f'<Relationship Id="further" Type="{kind}" '
        f'Target="worksheets/sheet99.xml"/></Relationships>'
    ).encode()
    parts.files[relations] = parts.files[relations].replace(b"</Relationships>", line)
    parts.files["xl/worksheets/sheet99.xml"] = etree.tostring(root)
    return _whole(parts, out)


def with_format(source: Path, out: Path, at: tuple[str, str], code: str) -> Path:
    """Write a book with the number format of one cell changed."""
    parts = Parts(source)
    (styles_part,) = [name for name in parts.files if name.endswith("styles.xml")]
    styles = parts.root(styles_part)
    formats, looks = styles.find(f"{MAIN}numFmts"), styles.find(f"{MAIN}cellXfs")
    assert formats is not None
    assert looks is not None
    etree.SubElement(formats, f"{MAIN}numFmt", numFmtId="999", formatCode=code)
    etree.SubElement(looks, f"{MAIN}xf", numFmtId="999")
    (cell,) = [one for one in parts.sheets[at[0]].iter(f"{MAIN}c") if one.get("r") == at[1]]
    cell.set("s", str(len(looks) - 1))
    parts.files[styles_part] = etree.tostring(styles)
    return _whole(parts, out)
