"""Every kind of the catalogue inflicted on a book that has no finding at all: code -> what is done,
and where it is told.

What people, programs and the way between them do to returned workbooks; common practice, no source.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

import attacks_on_contents
import attacks_on_looks
import datumbook
import datumbook.cells.basis
import datumbook.workbook.record
import datumbook.writer
from clean_readings import BLOCK, CONCEDED, ENGINE, at, clean_book, clean_readings, shipped_layout
from damaged_books import (
    KEPT,
    with_cell,
    with_format,
    with_further_sheet,
    with_moved,
    with_names,
    with_parts,
    with_renamed,
    with_sheet,
    with_workbook,
)
from datumbook.cells.tables import Stage
from datumbook.job import Job
from datumbook.spec import Spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.workbook.record import SHEET, chunks
from datumbook.writer import write
from harmless_additions import print_area
from records import content_of, repacked_lines
from stored_books import StoredXlsx
from whole_engine import named
from xlsx_parts import MAIN, Parts

DEPTHS = ("top", "middle", "bottom")
READING, RESULT, ABOVE = (
    "bores.2.middle.thrust",
    "bores.2.middle.out_of_round",
    "bores.2.top.out_of_round",
)
TO_QUARTER_OVER = {f"bore_plan__{number}__typed_bore": 82.25 for number in range(1, 5)}
VERDICT, LIMIT, HOLE = f"{RESULT}.verdict", "bores.out_of_round.to", "holes_front_cover.F1.thread"
REMARK = f"release.{RESULT}.reason"
BORES = "xl/worksheets/sheet2.xml"

Inflict = Callable[[Path], Path]


@dataclass(frozen=True)
class Damage:
    """One kind inflicted: where it is told, what follows and is told too; often: itself at further
    cells.
    """

    inflict: Inflict
    sheet: str = ""
    cell: str = ""
    brings: frozenset[str] = field(default_factory=frozenset)
    often: bool = False
    shop: Callable[[], list[Spec]] = list  # the shop's own specs it is held beside
    stage: Stage = "finished"  # of the work, at which it is told


def typed(key: str, holds: object, formula: object = None) -> Damage:
    """A cell typed over."""
    return Damage(
        lambda out: with_cell(clean_book(), out, at(key), holds=holds, formula=formula), *at(key)
    )


def shop_saying(old: str, new: str) -> Spec:
    """A spec of the shop that says `new` where the book's own says `old`."""
    own = shipped_layout().spec
    assert old in own.text
    return read_spec(own.text.replace(old, new, 1), str(own.path))


def beside(old: str, new: str, where: str = "", *brings: str, often: bool = False) -> Damage:
    """A sound book, held beside a spec of the shop that says `new` where its own says `old`."""

    def shop() -> list[Spec]:
        return [shop_saying(old, new)]

    place = at(where) if where else ("", "")
    return Damage(lambda _: clean_book(), *place, brings=frozenset(brings), often=often, shop=shop)


def formula(key: str, old: str, new: str) -> Damage:
    """A formula changed that still shows what it showed."""
    text = shipped_layout().formula(key)
    assert old in text
    return typed(key, KEPT, text.replace(old, new, 1))


def sheet(
    name: str, change: Callable[[etree._Element], None], cell: str = "", where: str = ""
) -> Damage:
    """The XML of one sheet changed."""
    return Damage(lambda out: with_sheet(clean_book(), out, name, change), where or name, cell)


def book(change: Callable[[etree._Element], None], where: str = "", cell: str = "") -> Damage:
    """The XML of the workbook part changed."""
    return Damage(lambda out: with_workbook(clean_book(), out, change), where, cell)


def part(name: str, change: Callable[[bytes], bytes | None]) -> Damage:
    """One part of the file changed, added or left out."""
    return Damage(lambda out: with_parts(clean_book(), out, {name: change}))


def content(data: Callable[[bytes], bytes]) -> Damage:
    """The bytes of the file changed."""

    def inflict(out: Path) -> Path:
        out.write_bytes(data(clean_book().read_bytes()))
        return out

    return Damage(inflict)


def readings(where: str, *brings: str, often: bool = False, **changed: float | str) -> Damage:
    """Readings typed otherwise; two underscores stand for a point."""
    other = {key.replace("__", "."): value for key, value in changed.items()}

    def inflict(out: Path) -> Path:
        write(shipped_layout(), out, clean_readings(shipped_layout()) | other)
        return out

    return Damage(inflict, *at(where), frozenset(brings), often)


def moved(
    name: str, move: Callable[[int, int], tuple[int, int] | None], cell: str, *brings: str
) -> Damage:
    """Cells of a sheet moved, everything that leads to them following."""
    return Damage(
        lambda out: with_moved(clean_book(), out, name, move), name, cell, frozenset(brings)
    )


def stored_as(
    change: Callable[[StoredXlsx], object], where: str = "", cell: str = "", *brings: str
) -> Damage:
    """What is stored changed in one place."""

    def inflict(out: Path) -> Path:
        book = StoredXlsx(clean_book())
        change(book)
        return book.save(out)

    return Damage(inflict, where, cell, frozenset(brings))


# --- what is done


def without_optional_digits(book: StoredXlsx) -> None:
    for code in book.styles.iter(f"{MAIN}numFmt"):
        code.set("formatCode", code.get("formatCode", "").rstrip("#").rstrip("."))


def without_colours(book: StoredXlsx) -> None:
    for root in book.parts.sheets.values():
        for found in root.findall(f"{MAIN}conditionalFormatting"):
            root.remove(found)


def formulas_anew(book: StoredXlsx) -> None:
    for root in book.parts.sheets.values():
        for found in root.iter(f"{MAIN}f"):
            found.text = f'({found.text})&""'


def one_cell(root: etree._Element, address: str) -> etree._Element:
    (found,) = [one for one in root.iter(f"{MAIN}c") if one.get("r") == address]
    return found


def mark(address: str, tag: str, **attributes: str) -> Callable[[etree._Element], None]:
    """Set attributes on one piece of a cell."""

    def change(root: etree._Element) -> None:
        cell = one_cell(root, address)
        piece = cell if tag == "c" else cell.find(f"{MAIN}{tag}")
        assert piece is not None
        piece.attrib.update(attributes)

    return change


def value(address: str, kind: str, text: str) -> Callable[[etree._Element], None]:
    """Change what a cell shows, its formula kept."""

    def change(root: etree._Element) -> None:
        cell = one_cell(root, address)
        shown = cell.find(f"{MAIN}v")
        assert shown is not None
        shown.text = text
        cell.set("t", kind)

    return change


def target_of(key: str, text: str) -> Callable[[etree._Element], None]:
    """Let the name of a key stand for something else."""

    def change(root: etree._Element) -> None:
        (name,) = [
            one
            for one in root.iter(f"{MAIN}definedName")
            if one.get("name") == shipped_layout().place(key).name
        ]
        name.text = text

    return change


def setting(tag: str, **attributes: str) -> Callable[[etree._Element], None]:
    """Set attributes on a setting of the workbook."""

    def change(root: etree._Element) -> None:
        found = root.find(f"{MAIN}{tag}")
        assert found is not None
        found.attrib.update(attributes)

    return change


def doubled_cell(root: etree._Element) -> None:
    row = one_cell(root, at(READING)[1]).getparent()
    assert row is not None
    again = etree.SubElement(row, f"{MAIN}c", r=at(READING)[1])
    etree.SubElement(again, f"{MAIN}v").text = "82.5"


def further_cell(address: str, text: str, kind: str) -> Callable[[etree._Element], None]:
    def change(root: etree._Element) -> None:
        (row,) = [
            one for one in root.iter(f"{MAIN}row") if one.get("r") == re.sub(r"\D", "", address)
        ]
        cell = etree.SubElement(row, f"{MAIN}c", r=address, t=kind)
        etree.SubElement(cell, f"{MAIN}v").text = text

    return change


def without(tag: str) -> Callable[[etree._Element], None]:
    def change(root: etree._Element) -> None:
        for found in list(root.iter(f"{MAIN}{tag}")):
            parent = found.getparent()
            assert parent is not None
            parent.remove(found)

    return change


def page_head(words: str, more: bool = False) -> Callable[[etree._Element], None]:
    """Other words at the head of the pages."""

    def change(root: etree._Element) -> None:
        (found,) = root.iter(f"{MAIN}oddHeader")
        found.text = f"{found.text if more else ''}{words}"

    return change


def view(**switches: str) -> Callable[[etree._Element], None]:
    """Switches of the view of a sheet."""

    def change(root: etree._Element) -> None:
        (found,) = root.iter(f"{MAIN}sheetView")
        found.attrib.update(switches)

    return change


def merge(reference: str) -> Callable[[etree._Element], None]:
    def change(root: etree._Element) -> None:
        cells = root.find(f"{MAIN}mergeCells")
        assert cells is not None
        etree.SubElement(cells, f"{MAIN}mergeCell", ref=reference)

    return change


def hide_row(root: etree._Element) -> None:
    (row,) = [one for one in root.iter(f"{MAIN}row") if one.get("r") == "12"]
    row.set("hidden", "1")


def hide_column(root: etree._Element) -> None:
    (column,) = [one for one in root.iter(f"{MAIN}col") if one.get("min") == "2"]
    column.set("hidden", "1")


def sheet_element(root: etree._Element, name: str) -> etree._Element:
    (found,) = [one for one in root.iter(f"{MAIN}sheet") if one.get("name") == name]
    return found


def drop_sheet(name: str) -> Callable[[etree._Element], None]:
    def change(root: etree._Element) -> None:
        found = sheet_element(root, name)
        parent = found.getparent()
        assert parent is not None
        parent.remove(found)

    return change


def sheet_to_the_front(root: etree._Element) -> None:
    found = sheet_element(root, "Plan")
    parent = found.getparent()
    assert parent is not None
    parent.insert(0, found)


def second_name(root: etree._Element) -> None:
    names = root.find(f"{MAIN}definedNames")
    assert names is not None
    again = etree.SubElement(names, f"{MAIN}definedName", name=shipped_layout().place(READING).name)
    again.text = "Bores!$B$13"


def sorted_rows(out: Path) -> Path:
    first, second = (("Bores", f"A{row}") for row in (8, 9))
    words = {text.at.cell: text.words for text in shipped_layout().plans["Bores"].texts}
    half = with_cell(clean_book(), out.with_name("half.xlsx"), first, holds=words[second[1]])
    return with_cell(half, out, second, holds=words[first[1]])


def copied_sheet(out: Path, holds: object = KEPT) -> Path:
    half = with_further_sheet(clean_book(), out.with_name("half.xlsx"), "Bores_2", like="Bores")
    return half if holds is KEPT else with_cell(half, out, ("Bores_2", at(READING)[1]), holds=holds)


def stored(parts: dict[str, bytes]) -> Inflict:
    """Parts put in unpacked, so that no ratio gives them away."""

    def inflict(out: Path) -> Path:
        files = Parts(clean_book()).files | parts
        with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
            for name, data in files.items():
                archive.writestr(name, data)
        return out

    return inflict


def scratched(out: Path) -> Path:
    stored({})(out)
    data = out.read_bytes()
    at_value = data.index(b"<v>82", data.index(BORES.encode()))
    out.write_bytes(data[: at_value + 3] + b"9" + data[at_value + 4 :])
    return out


def part_twice(out: Path) -> Path:
    with_parts(clean_book(), out, {})
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr("XL/worksheets/SHEET2.xml", b"<worksheet/>")
    return out


def many_parts(out: Path) -> Path:
    return with_parts(
        clean_book(), out, {f"xl/media/{number}.txt": lambda _: b"x" for number in range(2_000)}
    )


def huge(out: Path) -> Path:
    with out.open("wb") as file:
        file.write(clean_book().read_bytes())
        file.truncate(257 << 20)
    return out


def shared_without_end(sheet: bytes) -> bytes:
    """Thousands of cells that share one long formula."""
    text = "+".join(["ABS(A1)"] * 2_000)
    master = f'<row r="9000"><c r="A9000"><f t="shared" si="9000">{text}</f></c></row>'
    others = (
        f'<row r="{row}"><c r="A{row}"><f t="shared" si="9000"/></c></row>'
        for row in range(9001, 14_000)
    )
    return sheet.replace(b"</sheetData>", f"{master}{''.join(others)}</sheetData>".encode())


def nowhere(out: Path) -> Path:
    return out.with_name("none.xlsx")


def record_line(number: int, change: Callable[[str], str]) -> Damage:
    def inflict(out: Path) -> Path:
        text = change(chunks(shipped_layout())[number - 1])
        return with_cell(clean_book(), out, (SHEET, f"A{number}"), holds=text)

    return Damage(inflict, SHEET, f"A{number}")


def record_with(change: Callable[[dict[str, Any]], dict[str, Any]], cell: str = "") -> Damage:
    def inflict(out: Path) -> Path:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(
                datumbook.writer,
                "chunks",
                lambda layout, *_, **__: repacked_lines(change(content_of(layout))),
            )
            write(shipped_layout(), out, clean_readings(shipped_layout()))
        return out

    return Damage(inflict, SHEET if cell else "", cell)


def map_changed(content: dict[str, Any], version: str) -> dict[str, Any]:
    content["map"][5][2] = "Z99"
    return content | {"version": version, "identity": shipped_layout().identity_by(version)}


def other_version(out: Path) -> Path:
    with pytest.MonkeyPatch.context() as patch:
        for module in (datumbook.cells.basis, datumbook.workbook.record):
            patch.setattr(module, "VERSION", "0.0.1")
        layout = lay_out(shipped_layout().spec, shipped_layout().job)
        write(layout, out, clean_readings(layout))
    return out


def down(count: int, after: int) -> Callable[[int, int], tuple[int, int] | None]:
    """Rows below one inserted or deleted."""

    def move(row: int, column: int) -> tuple[int, int] | None:
        if row <= after:
            return row, column
        return None if count < 0 and row <= after - count else (row + count, column)

    return move


def across(count: int, after: int) -> Callable[[int, int], tuple[int, int] | None]:
    """Columns to the right of one inserted or deleted."""

    def move(row: int, column: int) -> tuple[int, int] | None:
        turned = down(count, after)(column, row)
        return None if turned is None else (turned[1], turned[0])

    return move


def row_to_elsewhere(row: int, column: int) -> tuple[int, int]:
    return {12: 15, 13: 12, 14: 13, 15: 14}.get(row, row), column


def column_to_elsewhere(row: int, column: int) -> tuple[int, int]:
    return row, {2: 4, 3: 2, 4: 3}.get(column, column)


def garbled_text() -> tuple[str, str, str]:
    """A printed text with a letter that is not plain: sheet, cell, and what a program of another
    alphabet makes of it.
    """
    for name, plan in shipped_layout().plans.items():
        for text in plan.texts:
            if not text.words.isascii() and text.style != "identity":
                return name, text.at.cell, text.words.encode("ascii", "replace").decode()
    raise LookupError("no printed text has a letter that is not plain")


def words(cell: str, holds: str, name: str = "Bores") -> Damage:
    return Damage(lambda out: with_cell(clean_book(), out, (name, cell), holds=holds), name, cell)


RECORD_GONE = drop_sheet(SHEET)
BOMB = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbb">]><a>&b;</a>'
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)
STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
OTHER_HEAD = "Job SQ-9999 · Orrindale QP4 · book 0123-4567-89AB"


@cache
def guessed_layout() -> Layout:
    """The shipped engine with every figure a guess."""
    text = shipped_specs()[ENGINE].read_text("utf-8")
    return lay_out(read_spec(f"guessed = true\n{text}", "guessed.toml"), Job(BLOCK))


def place_in_guessed(key: str) -> tuple[str, str]:
    """Sheet and cell of a key of that engine's layout."""
    place = guessed_layout().place(key)
    return place.at.sheet, place.at.cell


def guessed_book(out: Path) -> Path:
    """The book that may be released, had its engine file not guessed."""
    write(guessed_layout(), out, clean_readings(guessed_layout()))
    return out


@cache
def layout_of_a_guess() -> Layout:
    """The shipped engine, the wear of its bores guessed."""
    own = shipped_layout().spec
    sure, guess = 'wear = "<= 0.150 mm"', 'wear = { value = "<= 0.150 mm", guessed = true }'
    assert sure in own.text
    return lay_out(read_spec(own.text.replace(sure, guess, 1), str(own.path)), Job(BLOCK))


def book_of_a_guess(out: Path) -> Path:
    """The book that may be released, but for what is guessed."""
    write(layout_of_a_guess(), out, clean_readings(layout_of_a_guess()))
    return out


def film_looked_at_too_soon(out: Path) -> Path:
    """A book with a station that is named, whose film was to be looked at before it was put on."""
    write(named(), out, clean_readings(named()) | {"kept.block.inspect_by": "2026-05-11"})
    return out


def uneven(cylinder: int, *microns: int, table: str = "bores") -> dict[str, float | str]:
    """One cylinder, so many thousandths over its size from top to bottom."""
    places = [f"{depth}__{axis}" for depth in DEPTHS for axis in ("thrust", "axial")]
    return {
        f"{table}__{cylinder}__{place}": round(82.0 + micron / 1000, 3)
        for place, micron in zip(places, microns, strict=True)
    }


UNEVEN = (3, 1, 4, 1, 5, 2)
PASTED = (
    uneven(1, *UNEVEN)
    | uneven(2, *UNEVEN)
    | uneven(3, 6, 5, 1, 4, 2, 7)
    | uneven(4, 2, 7, 3, 6, 1, 4)
)
"""Readings of four cylinders, the second of which are those of the first."""
READ_BEFORE = (
    {"instruments__bores__resolution": 0.001}
    | uneven(1, *UNEVEN)
    | uneven(1, *UNEVEN, table="finished_bores")
)
"""Readings with a fine gauge, the same before and after the work."""

DAMAGES: dict[str, Damage] = {
    # identity
    "not-ours": Damage(lambda out: foreign_book(out)),
    "record-lost": book(RECORD_GONE),
    "record-damaged": record_line(
        2, lambda text: f"{text[:-3]}{'A' if text[-3] != 'A' else 'B'}{text[-2:]}"
    ),
    "spec-altered": record_with(
        lambda content: content | {"job": content["job"] | {"block": "SQ-9999"}}, "A1"
    ),
    "identity-differs": typed("job.identity", "0123-4567-89AB"),
    "sheet-of-another-book": words("A2", OTHER_HEAD),
    "property-differs": part(
        "docProps/custom.xml",
        lambda data: data.replace(shipped_layout().identity.encode(), b"0123-4567-89AB"),
    ),
    "job-number-differs": typed("job.number", "SQ-9999"),
    "version-differs": record_with(lambda content: map_changed(content, "0.0.1")),
    "layout-differs": record_with(lambda content: map_changed(content, datumbook.VERSION)),
    "other-version": Damage(other_version),
    # file
    "no-file": Damage(nowhere),
    "not-a-workbook": content(lambda _: b"key,value\n"),
    "file-truncated": content(lambda whole: whole[: len(whole) // 2]),
    "part-damaged": Damage(scratched),
    "part-missing": part(BORES, lambda _: None),
    "part-garbled": part(BORES, lambda data: data[:-30]),
    "old-format": content(lambda _: OLE),
    "file-locked": content(lambda _: OLE + "EncryptedPackage".encode("utf-16-le")),
    "strict-format": part(
        "xl/workbook.xml", lambda data: data.replace(MAIN[1:-1].encode(), STRICT)
    ),
    "refused-size": Damage(huge),
    "unpacks-too-far": part("xl/media/big.bin", lambda _: bytes(3 << 20)),
    "too-many-parts": Damage(many_parts),
    "too-many-cells": Damage(
        stored({"xl/worksheets/sheet99.xml": b"<?xml?><row>" + b"<c/>" * 400_001 + b"</row>"})
    ),
    "too-many-tags": Damage(
        stored({"xl/worksheets/sheet99.xml": b"<?xml?><row>" + b"<a/>" * 3_000_001 + b"</row>"})
    ),
    "too-much-work": part(BORES, shared_without_end),
    "refused-xml": part("docProps/app.xml", lambda _: BOMB),
    "duplicate-part": Damage(part_twice),
    "has-macros": part("xl/vbaProject.bin", lambda _: b"x"),
    "external-link": part("xl/externalLinks/externalLink1.xml", lambda _: b"<x/>"),
    "part-strange": stored_as(attacks_on_contents.XLSX["programs"]["an unknown kind"]),
    "part-added": stored_as(attacks_on_contents.tied("customXml", "customXml/item1.xml")),
    "link-beside": stored_as(attacks_on_contents.link("https://example.com", "AA99")),
    "link-changed": stored_as(
        attacks_on_contents.link("https://example.com", at(RESULT)[1]), *at(RESULT), "link-beside"
    ),
    "formula-outside": formula(RESULT, "ABS(", "ABS([1]Bores!B9+"),
    "duplicate-cell": sheet("Bores", doubled_cell, at(READING)[1]),
    "duplicate-sheet": Damage(lambda out: with_further_sheet(clean_book(), out, "BORES"), "BORES"),
    "duplicate-name": book(second_name),
    "cell-unreadable": sheet("Bores", further_cell("N12", "eighty", "n"), "N12"),
    # structure
    "sheet-renamed": Damage(
        lambda out: with_renamed(clean_book(), out, "Bores", "Bohrungen"), "Bohrungen"
    ),
    "sheet-deleted": book(drop_sheet("Customer"), "Customer"),
    "sheet-added": Damage(lambda out: with_further_sheet(clean_book(), out, "Notes"), "Notes"),
    "sheet-copied": Damage(lambda out: copied_sheet(out, 82.02), "Bores_2", at(READING)[1]),
    "sheet-copy-alike": Damage(copied_sheet, "Bores_2"),
    "sheet-moved": book(sheet_to_the_front, "Plan"),
    "sheet-hidden": book(lambda root: sheet_element(root, "Plan").set("state", "hidden"), "Plan"),
    "row-hidden": sheet("Bores", hide_row, "A12"),
    "column-hidden": sheet("Bores", hide_column, "B1"),
    "protection-lifted": sheet("Bores", without("sheetProtection")),
    "row-inserted": moved("Bores", down(1, 11), "A12"),
    "row-deleted": moved("Bores", down(-1, 4), "A5"),
    "row-moved": moved("Bores", row_to_elsewhere, "A15"),
    "column-inserted": moved("Bores", across(2, 2), "C1"),
    "column-deleted": moved("Heights", across(-1, 4), "E1"),
    "column-moved": moved("Bores", column_to_elsewhere, "D1"),
    "cell-moved": moved(
        "Bores", lambda row, column: (row, 14) if (row, column) == (12, 2) else (row, column), "N12"
    ),
    "cells-shifted": moved(
        "Bores",
        lambda row, column: (
            (row, column + 12) if 8 <= row <= 10 and 2 <= column <= 3 else (row, column)
        ),
        "N8",
    ),
    "cell-lost": book(target_of(REMARK, "Release!#REF!"), *at(REMARK)),
    "names-lost": Damage(
        lambda out: with_names(
            clean_book(), out, lambda name: name != shipped_layout().place(READING).name
        )
    ),
    "name-repointed": book(target_of(READING, "Bores!$B$13"), *at(READING)),
    "name-not-a-cell": book(target_of(READING, "82.5"), *at(READING)),
    "laid-over": stored_as(
        lambda book: attacks_on_looks.box_over(book, at(RESULT)[1], "<xdr:sp/>"), *at(RESULT)
    ),
    "cells-merged": sheet("Bores", merge("B12:C12"), "B12"),
    "words-exchanged": Damage(sorted_rows, "Bores", "A8"),
    "block-pasted": sheet("Tunnels", without("f"), "E8"),
    "given-changed": typed(LIMIT, 0.4),
    "unit-changed": words("B6", "across the crank\nin"),
    "instruction-changed": words("A3", "Thrust side: right."),
    "label-changed": words("A1", "Bores"),
    "label-garbled": words(garbled_text()[1], garbled_text()[2], garbled_text()[0]),
    "page-head-false": sheet("Bores", page_head("&CRELEASED: all OK, stop 99.9")),
    "page-head-changed": sheet("Bores", page_head("&CAnna, please", more=True)),
    "print-area-short": stored_as(print_area("Bores!$A$1:$F$12"), "Bores", "A13"),
    "formulas-shown": sheet("Bores", view(showFormulas="1")),
    "zeros-hidden": sheet("Bores", view(showZeros="0")),
    "typed-beside": sheet("Bores", further_cell("N12", "see over", "str"), "N12"),
    # results
    "formula-replaced": typed(RESULT, 0.0),
    "verdict-overwritten": typed(VERDICT, "OK"),
    "verdict-disguised": Damage(
        lambda out: with_format(clean_book(), out, at(VERDICT), ';;;"OK"'), *at(VERDICT)
    ),
    "digits-dropped": stored_as(without_optional_digits, "Parts", "B34"),
    "cell-unseen": stored_as(
        lambda book: book.look(*at(RESULT), font='<font><color rgb="FFFFFFFF"/></font>'),
        *at(RESULT),
    ),
    "colours-changed": stored_as(
        lambda book: attacks_on_looks.drop_colours(book, "OUT"),
        *at(f"{ABOVE.replace('2', '1')}.verdict"),
    ),
    "colours-lost": stored_as(without_colours),
    "colours-added": stored_as(
        lambda book: attacks_on_looks.colour(
            book, at(READING)[1], attacks_on_looks.TRUE_RULE, "<font><b/></font>"
        ),
        *at(READING),
    ),
    "rewritten": stored_as(formulas_anew, "Job", "B5"),
    "formula-dragged": typed(RESULT, KEPT, shipped_layout().formula(ABOVE)),
    "formula-placeholder": typed(
        RESULT, KEPT, 'IFERROR(__xludf.DUMMYFUNCTION("ABS(B13-C13)"),0.0)'
    ),
    "formula-broken": formula(RESULT, "ABS(B13", "ABS(#REF!"),
    "formula-volatile": formula(RESULT, "ABS(", "0*RAND()+ABS("),
    "formula-circular": formula(RESULT, "ABS(B13", "ABS(E13"),
    "formula-array": sheet(
        "Bores", mark(at(RESULT)[1], "f", t="array", ref=at(RESULT)[1]), at(RESULT)[1]
    ),
    "formula-as-text": typed(RESULT, "=ABS(B13-C13)"),
    "formula-number": formula(VERDICT, ",9)", ",2)"),
    "formula-reference": formula(RESULT, "ABS(B13", "ABS(C13"),
    "formula-function": formula(RESULT, "ABS(", "MEDIAN("),
    "formula-edited": formula(RESULT, "-C", "+C"),
    "results-stale": sheet("Bores", value(at(RESULT)[1], "n", "0.001"), at(RESULT)[1]),
    "results-missing": sheet(
        "Bores", lambda root: without_value(root, at(RESULT)[1]), at(RESULT)[1]
    ),
    "results-in-error": sheet("Bores", value(at(RESULT)[1], "e", "#VALUE!"), at(RESULT)[1]),
    "results-are-text": sheet("Bores", value(at(RESULT)[1], "str", "0,000"), at(RESULT)[1]),
    "precision-as-shown": book(setting("calcPr", fullPrecision="0")),
    "dates-1904": book(setting("workbookPr", date1904="1")),
    "manual-calculation": book(setting("calcPr", calcMode="manual")),
    # readings
    "reading-missing": typed(HOLE, None),
    "entry-rule-changed": stored_as(
        lambda book: attacks_on_looks.entry(book, at(READING)[1]).set("prompt", "The radius."),
        *at(READING),
    ),
    "entry-rules-lost": sheet("Bores", without("dataValidations"), "B8"),
    "reading-is-text": typed(READING, "82,014"),
    "reading-is-date": typed("holes_front_cover.F3.thread", 46150.0),
    "reading-is-error": typed(READING, "#N/A"),
    "reading-is-truth": sheet("Bores", value(at(READING)[1], "b", "1"), at(READING)[1]),
    "reading-is-percent": Damage(
        lambda out: with_format(clean_book(), out, at(READING), "0.00%"), *at(READING)
    ),
    "reading-is-formula": typed(READING, 82.0, "81.9+0.1"),
    "reading-worked-out": typed(READING, 82.0, "B11"),
    "reading-sum-differs": typed(READING, 82.0, "82.9+0.1"),
    "reading-wrong-unit": typed(READING, 82.0 / 25.4),
    "reading-decimal-slip": typed(READING, 820.0),
    "reading-impossible": typed(READING, 120.0),
    "reading-looks-empty": typed("job.owner", "   "),
    "reading-is-no-day": typed("decision.released_on", "12.5.26"),
    "reading-is-nought": typed(READING, 0.0),
    "reading-is-radius": typed(READING, 41.0),
    "reading-is-deviation": typed(READING, 0.014),
    "reading-digits-swapped": typed(READING, 28.014),
    "reading-not-whole": readings(
        "route.deck.done", "check-open", "check-out", route__deck__done=1.5
    ),
    "reading-not-a-choice": typed("holes_head_studs.D1.gauge", "yes"),
    # checks
    "limit-guessed": Damage(
        guessed_book, *place_in_guessed("engine_file.every_figure.verdict"), often=True
    ),
    "check-out": readings(HOLE, holes_front_cover__F1__thread=0.6249),
    "measuring-out": readings(
        "instruments.bores.drift",
        instruments__bores__resolution=0.001,
        instruments__bores__zero_before=0.0,
        instruments__bores__zero_after=0.002,
    ),
    "gauge-unstated": readings(
        "instruments.tunnels.uncertainty", instruments__tunnels__uncertainty=""
    ),
    "calibration-overdue": readings(
        "instruments.bores.calibration_due",
        instruments__bores__calibration_due="2026-03-31",
        instruments__bores__measured_on="2026-04-01",
    ),
    "check-unsure": readings(
        HOLE, holes_front_cover__F1__thread=0.6251, instruments__holes__uncertainty=0.002
    ),
    "cured-by-plan": replace(
        readings(RESULT, bores__2__middle__thrust=82.05, **TO_QUARTER_OVER), stage="planned"
    ),
    "check-stale": readings(
        "holes_head_studs.D1.counterbore",
        "check-open",
        "check-out",
        often=True,
        measured_holes__step="hole work",
        route__deck__done=99.0,
    ),
    "check-open": readings(
        "cuts.deck.made",
        deck_cut__parallel_to="crank line",
        deck_cut__cut=0.0005,
        route__deck__done="",
    ),
    "concession-incomplete": readings(
        CONCEDED, **{f"release__{CONCEDED.replace('.', '__')}__reason": ""}
    ),
    "concession-lapsed": readings(
        CONCEDED, **{f"release__{CONCEDED.replace('.', '__')}__conceded_value": 0.265}
    ),
    "rejection-incomplete": readings(
        "decision.decision", decision__decision="rejected", decision__released_by=""
    ),
    "day-to-come": readings("job.received_on", job__received_on="2099-05-12"),
    "day-far-off": readings(
        "instruments.bores.calibration_due", instruments__bores__calibration_due="2099-01-01"
    ),
    "day-long-past": readings("job.received_on", job__received_on="1926-05-12"),
    "received-too-late": readings(
        "job.received_on",
        job__received_on="2026-05-10",
        instruments__bores__measured_on="2026-05-09",
    ),
    "released-too-early": readings("decision.released_on", decision__released_on="2026-05-10"),
    "operations-out-of-order": readings(
        "route.fit.date", route__hone__date="2026-05-09", route__fit__date="2026-05-08"
    ),
    "operation-unnumbered": readings(
        "route.repair.date", route__repair__date="2026-05-08", route__repair__done=""
    ),
    "due-before-done": Damage(
        film_looked_at_too_soon,
        named().place("kept.block.inspect_by").at.sheet,
        named().place("kept.block.inspect_by").at.cell,
    ),
    "one-person": readings(
        "decision.released_by", decision__decision="released", decision__released_by="N., A."
    ),
    "name-is-none": readings("decision.measured_by", decision__measured_by="-"),
    "reason-is-none": readings(
        f"release.{CONCEDED}.reason", **{f"release__{CONCEDED.replace('.', '__')}__reason": "x"}
    ),
    "series-copied": readings(
        "bores.2.top.thrust", "suspect-alike", "series-all-one", decision__read_again="", **PASTED
    ),
    "series-not-new": readings(
        "finished_bores.1.top.thrust", "suspect-alike", decision__read_again="", **READ_BEFORE
    ),
    "series-all-one": readings("bores.1.top.thrust", "suspect-alike", decision__read_again=""),
    "limit-looser": beside('"<= 0.040 mm"', '"<= 0.039 mm"', LIMIT, "spec-superseded"),
    "limit-tighter": beside('"<= 0.040 mm"', '"<= 0.041 mm"', LIMIT, "spec-superseded"),
    "limit-missing": Damage(
        lambda _: clean_book(),
        "Bores",
        brings=frozenset({"spec-superseded"}),
        shop=lambda: [shop_saying('{ value = "<= 1.0 mm"', '{ value = "-1.0 .. 1.0 mm"')],
    ),
    "limit-added": beside(
        'end_float = "0.10 .. 0.25 mm"',
        'end_float = "<= 0.25 mm"',
        "thrust.end_float.from",
        "spec-superseded",
        often=True,
    ),
    "guess-missing": beside(
        'wear = "<= 0.150 mm"',
        'wear = { value = "<= 0.150 mm", guessed = true }',
        "",
        "spec-superseded",
    ),
    "guess-added": Damage(
        book_of_a_guess,
        brings=frozenset({"spec-superseded", "limit-guessed", "check-unsure"}),
        shop=lambda: [shipped_layout().spec],
    ),
    "spec-superseded": beside("# ", "# Altered. "),
    "figure-differs": beside(
        'diameter = "15/32 in"', 'diameter = "17/32 in"', "", "spec-superseded", often=True
    ),
    "spec-not-the-shops": beside('name = "Orrindale QP4"', 'name = "Other"'),
    "seal-broken": readings("decision.seal", decision__seal="AAAA-AAAA"),
    "job-rejected": readings(
        "decision.decision", decision__decision="rejected", decision__reason="cracked"
    ),
}


def without_value(root: etree._Element, address: str) -> None:
    cell = one_cell(root, address)
    shown = cell.find(f"{MAIN}v")
    assert shown is not None
    cell.remove(shown)


def foreign_book(out: Path) -> Path:
    import xlsxwriter

    with xlsxwriter.Workbook(out) as made:
        made.add_worksheet("Bores").write("A1", "Cylinder bores")
    return out
