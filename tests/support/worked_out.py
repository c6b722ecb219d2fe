"""Formulas where a person should have read, ticked, signed or dated: put into the stored XML of a
book as programs store them, in both formats.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from lxml import etree
from openpyxl.utils.cell import coordinate_to_tuple, get_column_letter

from bored_block import at, bored_layout
from clean_readings import clean_readings
from damaged_books import with_parts
from xlsx_parts import MAIN, Parts

TABLE, OFFICE, TEXT = (
    f"{{urn:oasis:names:tc:opendocument:xmlns:{name}:1.0}}" for name in ("table", "office", "text")
)
CELLS = (f"{TABLE}table-cell", f"{TABLE}covered-table-cell")
KEPT = {f"{TABLE}style-name", f"{TABLE}content-validation-name"}


@dataclass(frozen=True)
class Stored:
    """What a file stores in a cell: the formula as each format spells it, the value beside it (None
    for none), and over how many rows it was entered as an array.
    """

    xlsx: str
    ods: str
    value: float | str | None
    rows: int = 0


def kept(key: str) -> float | str:
    """What a person read in this place."""
    return clean_readings(bored_layout())[key]


def in_xlsx(source: Path, out: Path, cells: Mapping[str, Stored]) -> Path:
    """Write an .xlsx book with these cells, by key."""
    parts = Parts(source)
    for key, stored in cells.items():
        sheet, address = at(key)
        (cell,) = [one for one in parts.sheets[sheet].iter(f"{MAIN}c") if one.get("r") == address]
        for child in list(cell):
            cell.remove(child)
        cell.attrib.pop("t", None)
        formula = etree.SubElement(cell, f"{MAIN}f")
        formula.text = stored.xlsx
        if stored.rows:
            row, column = coordinate_to_tuple(address)
            end = f"{get_column_letter(column)}{row + stored.rows - 1}"
            formula.attrib.update({"t": "array", "ref": f"{address}:{end}"})
        if stored.value is not None:
            etree.SubElement(cell, f"{MAIN}v").text = str(stored.value)
            if isinstance(stored.value, str):
                cell.set("t", "str")
    names = {parts.sheet_parts[at(key)[0]]: at(key)[0] for key in cells}
    return with_parts(
        source,
        out,
        {
            part: (lambda _, s=sheet: etree.tostring(parts.sheets[s]))
            for part, sheet in names.items()
        },
    )


def in_ods(source: Path, out: Path, cells: Mapping[str, Stored]) -> Path:
    """Write an .ods book with these cells, by key."""
    with zipfile.ZipFile(source) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    root = etree.fromstring(files["content.xml"])
    places = {at(key): stored for key, stored in cells.items()}
    done = 0
    for table in root.iter(f"{TABLE}table"):
        for address, cell in _cells(table):
            stored = places.get((table.get(f"{TABLE}name", ""), address))
            if stored is not None:
                _store(cell, stored)
                done += 1
    assert done == len(cells)
    files["content.xml"] = etree.tostring(root)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out


def _store(cell: etree._Element, stored: Stored) -> None:
    for child in list(cell):
        cell.remove(child)
    for name in [one for one in cell.attrib if one not in KEPT]:
        del cell.attrib[name]
    cell.set(f"{TABLE}formula", stored.ods)
    if stored.rows:
        cell.set(f"{TABLE}number-matrix-columns-spanned", "1")
        cell.set(f"{TABLE}number-matrix-rows-spanned", str(stored.rows))
    if stored.value is not None:
        words = isinstance(stored.value, str)
        cell.set(f"{OFFICE}value-type", "string" if words else "float")
        if not words:
            cell.set(f"{OFFICE}value", str(stored.value))
        etree.SubElement(cell, f"{TEXT}p").text = str(stored.value)


def _cells(table: etree._Element) -> Iterator[tuple[str, etree._Element]]:
    """Every cell that stands for itself alone, with its address."""
    row = 0
    for line in table.iter(f"{TABLE}table-row"):
        height = int(line.get(f"{TABLE}number-rows-repeated", "1"))
        column = 0
        for cell in line.iterchildren(*CELLS):
            width = int(cell.get(f"{TABLE}number-columns-repeated", "1"))
            if width == height == 1:
                yield f"{get_column_letter(column + 1)}{row + 1}", cell
            column += width
        row += height
