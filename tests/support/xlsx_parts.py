"""The parts of an xlsx file as XML, for tests that look at what is stored and not at what a library
makes of it.

Source of the element names: ECMA-376 part 1, SpreadsheetML.
"""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path

from lxml import etree

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
OF_OFFICE = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
OF_PACKAGE = "{http://schemas.openxmlformats.org/package/2006/relationships}"


class Parts:
    """One xlsx file: ``workbook``, ``sheets`` (name -> root), ``styles``, ``shared_texts``, all as
    stored.
    """

    def __init__(self, path: Path) -> None:
        with zipfile.ZipFile(path) as archive:
            self.files = {name: archive.read(name) for name in archive.namelist()}
        self.workbook_part = self.targets("", "")["officeDocument"][0]

    def root(self, part: str) -> etree._Element:
        """Return the root element of a part; KeyError when the file has no such part."""
        parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=True)
        return etree.fromstring(self.files[part], parser)

    def relations(self, folder: str, file: str) -> list[tuple[str, str, str]]:
        """Return (id, kind, target) of each relation of a part; targets inside the file are full
        part names.
        """
        part = posixpath.join(folder, "_rels", f"{file}.rels")
        if part not in self.files:
            return []
        found = []
        for relation in self.root(part).iter(f"{OF_PACKAGE}Relationship"):
            target = relation.get("Target", "")
            if relation.get("TargetMode") != "External":
                target = posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")
            found.append(
                (relation.get("Id", ""), relation.get("Type", "").rsplit("/", 1)[-1], target)
            )
        return found

    def targets(self, folder: str, file: str) -> dict[str, list[str]]:
        """Return kind -> targets of a part's relations."""
        kinds: dict[str, list[str]] = {}
        for _, kind, target in self.relations(folder, file):
            kinds.setdefault(kind, []).append(target)
        return kinds

    @cached_property
    def workbook(self) -> etree._Element:
        """The root of the workbook part."""
        return self.root(self.workbook_part)

    @cached_property
    def sheet_parts(self) -> dict[str, str]:
        """Sheet name -> part name, in the order of the tabs."""
        by_id = {
            id_: target for id_, _, target in self.relations(*posixpath.split(self.workbook_part))
        }
        sheets = self.workbook.iterfind(f"{MAIN}sheets/{MAIN}sheet")
        return {sheet.get("name", ""): by_id[sheet.get(f"{OF_OFFICE}id", "")] for sheet in sheets}

    @cached_property
    def sheets(self) -> dict[str, etree._Element]:
        """Sheet name -> root of its part, in the order of the tabs."""
        return {name: self.root(part) for name, part in self.sheet_parts.items()}

    @cached_property
    def styles(self) -> etree._Element | None:
        """The root of the styles part, None when the file has none."""
        part = self.targets(*posixpath.split(self.workbook_part)).get("styles")
        return self.root(part[0]) if part else None

    @cached_property
    def shared_texts(self) -> list[str]:
        """The texts that cells refer to by number."""
        part = self.targets(*posixpath.split(self.workbook_part)).get("sharedStrings")
        return (
            [plain_text(item) for item in self.root(part[0]).iterfind(f"{MAIN}si")] if part else []
        )

    def cells(self) -> Iterator[tuple[str, etree._Element]]:
        """Yield (sheet name, cell element) of every stored cell of every sheet, blank styled ones
        too.
        """
        for name, root in self.sheets.items():
            for cell in root.iterfind(f"{MAIN}sheetData/{MAIN}row/{MAIN}c"):
                yield name, cell


def plain_text(item: etree._Element) -> str:
    """Return the text of a shared or inline string: its runs joined, phonetic runs left out."""
    paths = (f"{MAIN}t", f"{MAIN}r/{MAIN}t")
    return "".join(text.text or "" for path in paths for text in item.iterfind(path))
