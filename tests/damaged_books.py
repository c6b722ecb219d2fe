"""Books damaged in one place of the stored XML, everything else byte for byte as it was: what no program had a hand in."""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

from lxml import etree

from xlsx_parts import MAIN, Parts

KEPT = object()
Change = Callable[[bytes], bytes | None]


def with_parts(source: Path, out: Path, changes: Mapping[str, Change]) -> Path:
    """Write a book with some parts changed, left out (the change gives None) or added (it is given b"")."""
    parts = Parts(source).files
    for name, change in changes.items():
        found = change(parts.pop(name, b""))
        if found is not None:
            parts[name] = found
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return out


def with_sheet(source: Path, out: Path, sheet: str, change: Callable[[etree._Element], None]) -> Path:
    """Write a book with the XML of one sheet changed."""
    parts = Parts(source)
    root = parts.sheets[sheet]
    change(root)
    return with_parts(source, out, {parts.sheet_parts[sheet]: lambda _: etree.tostring(root)})


def with_cell(source: Path, out: Path, at: tuple[str, str], *, holds: object, formula: object = None) -> Path:
    """Write a book with one cell changed: what it holds or shows (KEPT: as before), its formula (KEPT, or None for none)."""

    def change(root: etree._Element) -> None:
        (cell,) = [one for one in root.iter(f"{MAIN}c") if one.get("r") == at[1]]
        formula_now, value_now, kind = cell.findtext(f"{MAIN}f"), cell.findtext(f"{MAIN}v"), cell.get("t")
        for child in list(cell):
            cell.remove(child)
        if (said := formula_now if formula is KEPT else formula) is not None:
            etree.SubElement(cell, f"{MAIN}f").text = str(said)
        value, kind = (value_now, kind) if holds is KEPT else (None if holds is None else str(holds), _kind(holds, said))
        cell.attrib.pop("t", None)
        if kind:
            cell.set("t", kind)
        if value is not None:
            place = etree.SubElement(etree.SubElement(cell, f"{MAIN}is"), f"{MAIN}t") if kind == "inlineStr" else None
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
