"""Books opened as what is stored in them, changed in one place and stored again: .xlsx and .ods.

No program has a hand in it, so that nothing is put right on the way.
"""

from __future__ import annotations

import zipfile
from copy import deepcopy
from functools import cached_property
from pathlib import Path

from lxml import etree
from openpyxl.utils.cell import coordinate_to_tuple

from xlsx_parts import MAIN, Parts

Element = etree._Element
SPACES = {
    name: f"urn:oasis:names:tc:opendocument:xmlns:{urn}:1.0"
    for name, urn in {
        "office": "office",
        "table": "table",
        "style": "style",
        "text": "text",
        "draw": "drawing",
        "number": "datastyle",
        "fo": "xsl-fo-compatible",
        "svg": "svg-compatible",
        "script": "script",
        "form": "form",
        "manifest": "manifest",
    }.items()
} | {
    "xlink": "http://www.w3.org/1999/xlink",
    "calcext": "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0",
}
OF_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
OF_TIES = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


def piece(xml: str) -> Element:
    """One element written with the usual prefixes of .ods."""
    said = " ".join(f'xmlns:{name}="{urn}"' for name, urn in SPACES.items())
    (found,) = etree.fromstring(f"<x {said}>{xml}</x>")
    return found


def ods(name: str) -> str:
    """A name of .ods in full: table:name as {…}name."""
    prefix, _, word = name.partition(":")
    return f"{{{SPACES[prefix]}}}{word}"


def store(files: dict[str, bytes], out: Path) -> Path:
    """Write parts as an archive."""
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out


class StoredXlsx:
    """An .xlsx file with what an attack on it needs."""

    def __init__(self, path: Path) -> None:
        self.parts = Parts(path)
        self.files = self.parts.files
        self.styles_part = next(name for name in self.files if name.endswith("styles.xml"))
        self.styles = self.parts.root(self.styles_part)

    def sheet(self, name: str) -> Element:
        """The root of a sheet."""
        return self.parts.sheets[name]

    def cell(self, name: str, address: str) -> Element:
        """One stored cell."""
        (found,) = [one for one in self.sheet(name).iter(f"{MAIN}c") if one.get("r") == address]
        return found

    def child(self, parent: Element, xml: str, at: int | None = None) -> Element:
        """Put one element of a sheet's or the styles' own words into another."""
        (made,) = etree.fromstring(f'<x xmlns="{MAIN[1:-1]}" xmlns:r="{OFFICE}">{xml}</x>')
        parent.append(made) if at is None else parent.insert(at, made)
        return made

    def after(self, sheet: str, tag: str, xml: str) -> None:
        """Put an element behind the last of its kind of a sheet."""
        found = self.sheet(sheet).findall(f"{MAIN}{tag}")
        parent = found[-1].getparent()
        assert parent is not None
        self.child(parent, xml, parent.index(found[-1]) + 1)

    def look(self, sheet: str, address: str, **changed: str) -> None:
        """Give a cell a style of its own: the one it has, but for its font, fill, alignment or
        format, each written as in the styles part.
        """
        cell, looks = self.cell(sheet, address), self.styles.find(f"{MAIN}cellXfs")
        assert looks is not None
        own = deepcopy(looks[int(cell.get("s", "0"))])
        for kind, xml in changed.items():
            if kind == "format":
                codes = self.styles.find(f"{MAIN}numFmts")
                assert codes is not None
                etree.SubElement(codes, f"{MAIN}numFmt", numFmtId="998", formatCode=xml)
                own.set("numFmtId", "998")
            elif kind == "alignment":
                for old in own.findall(f"{MAIN}alignment"):
                    own.remove(old)
                self.child(own, xml, 0)
            else:
                listed = self.styles.find(f"{MAIN}{kind}s")
                assert listed is not None
                self.child(listed, xml)
                own.set(f"{kind}Id", str(len(listed) - 1))
        looks.append(own)
        cell.set("s", str(len(looks) - 1))

    def dxf(self, xml: str) -> int:
        """Put one look of a conditional format into the styles, and return its number."""
        listed = self.styles.find(f"{MAIN}dxfs")
        assert listed is not None
        self.child(listed, f"<dxf>{xml}</dxf>")
        return len(listed) - 1

    def tie(self, source: str, kind: str, target: str, outside: bool = False) -> str:
        """Give a part one more relation, and return its id."""
        folder, _, name = source.rpartition("/")
        rels = f"{folder}/_rels/{name}.rels" if source else "_rels/.rels"
        root = etree.fromstring(
            self.files.get(rels, f'<Relationships xmlns="{OF_TIES}"/>'.encode())
        )
        said = kind if kind.startswith("http") else f"{OFFICE}/{kind}"
        made = etree.SubElement(
            root, f"{{{OF_TIES}}}Relationship", Id="strange", Type=said, Target=target
        )
        if outside:
            made.set("TargetMode", "External")
        self.files[rels] = etree.tostring(root)
        return "strange"

    def part(self, name: str, data: bytes, kind: str = "") -> None:
        """Put one more part into the file, with its content type."""
        self.files[name] = data
        if kind:
            root = etree.fromstring(self.files["[Content_Types].xml"])
            etree.SubElement(root, f"{{{OF_TYPES}}}Override", PartName=f"/{name}", ContentType=kind)
            self.files["[Content_Types].xml"] = etree.tostring(root)

    def name(self, name: str, text: str, **marks: str) -> None:
        """Define one more name of the workbook."""
        names = self.parts.workbook.find(f"{MAIN}definedNames")
        assert names is not None
        etree.SubElement(names, f"{MAIN}definedName", {"name": name, **marks}).text = text

    def save(self, out: Path) -> Path:
        """Store it."""
        roots = {part: self.parts.sheets[name] for name, part in self.parts.sheet_parts.items()}
        roots |= {self.parts.workbook_part: self.parts.workbook, self.styles_part: self.styles}
        files = self.files | {name: etree.tostring(root) for name, root in roots.items()}
        return store(files, out)


class StoredOds:
    """An .ods file with what an attack on it needs."""

    def __init__(self, path: Path) -> None:
        with zipfile.ZipFile(path) as archive:
            self.files = {name: archive.read(name) for name in archive.namelist()}
        self.content = etree.fromstring(self.files["content.xml"])
        self.styles = etree.fromstring(self.files["styles.xml"])

    @cached_property
    def automatic(self) -> Element:
        """The styles of the content."""
        (found,) = self.content.iter(ods("office:automatic-styles"))
        return found

    @cached_property
    def body(self) -> Element:
        """The spreadsheet itself."""
        (found,) = self.content.iter(ods("office:spreadsheet"))
        return found

    def sheet(self, name: str) -> Element:
        """One table."""
        (found,) = [
            one for one in self.body.iter(ods("table:table")) if one.get(ods("table:name")) == name
        ]
        return found

    def row(self, sheet: str, number: int) -> Element:
        """The stored row in which a row of a sheet lies."""
        at = 0
        for row in self.sheet(sheet).iter(ods("table:table-row")):
            at += int(row.get(ods("table:number-rows-repeated"), "1"))
            if at >= number:
                return row
        raise LookupError(number)

    def cell(self, sheet: str, address: str) -> Element:
        """The stored cell in which a cell of a sheet lies."""
        row, column = coordinate_to_tuple(address)
        at = 0
        for cell in self.row(sheet, row):
            at += int(cell.get(ods("table:number-columns-repeated"), "1"))
            if at >= column:
                return cell
        raise LookupError(address)

    def column(self, sheet: str, number: int) -> Element:
        """The stored column in which a column of a sheet lies."""
        at = 0
        for column in self.sheet(sheet).iter(ods("table:table-column")):
            at += int(column.get(ods("table:number-columns-repeated"), "1"))
            if at >= number:
                return column
        raise LookupError(number)

    def put(self, parent: Element, xml: str, at: int = 0) -> Element:
        """Put one element, written with the usual prefixes, into another."""
        made = piece(xml)
        parent.insert(at, made)
        return made

    def look(self, sheet: str, address: str, inside: str = "", data: str = "") -> None:
        """Give a cell a style of its own: what it had, under what is said inside."""
        cell = self.cell(sheet, address)
        parent = cell.get(ods("table:style-name"))
        code = ' style:data-style-name="strange-data"' if data else ""
        if data:
            self.put(self.automatic, data)
        self.put(
            self.automatic,
            f'<style:style style:name="strange" style:family="table-cell" '
            f'style:parent-style-name="{parent or "Default"}"{code}>{inside}</style:style>',
            1 if data else 0,
        )
        cell.set(ods("table:style-name"), "strange")

    def part(self, name: str, data: bytes) -> None:
        """Put one more part into the file."""
        self.files[name] = data

    def save(self, out: Path) -> Path:
        """Store it."""
        files = self.files | {
            "content.xml": etree.tostring(self.content),
            "styles.xml": etree.tostring(self.styles),
        }
        return store(files, out)
