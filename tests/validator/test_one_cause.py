"""One cause, one finding, also where a program wrote the whole book anew; and the remedy that is
named works on that very book.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from lxml import etree

from attacks_on_looks import SHEET
from damaged_books import with_further_sheet
from datumbook.carrying import carry
from datumbook.messages.findings import catalogue, leaves_readings_sound
from datumbook.validator import validate
from datumbook.writer import write
from foreign_saves import honest_readings, small_layout
from programs import made_once
from stored_books import StoredXlsx
from xlsx_parts import MAIN

FEW = 3
Change = Callable[[StoredXlsx], None]


@cache
def honest() -> Path:
    """A book of a third of the size, filled honestly."""
    layout = small_layout()
    return made_once("one-cause.xlsx", lambda out: write(layout, out, honest_readings(layout, 1)))


def every_formula(wrapped: str) -> Change:
    def change(book: StoredXlsx) -> None:
        for root in book.parts.sheets.values():
            for found in root.iter(f"{MAIN}f"):
                found.text = wrapped.format(found.text)

    return change


def every_look(tag: str, **said: str) -> Change:
    def change(book: StoredXlsx) -> None:
        for found in book.styles.iter(f"{MAIN}{tag}"):
            found.attrib.update(said)

    return change


def every_word(book: StoredXlsx) -> None:
    """All printed words of one sheet in another language."""
    for cell in book.sheet(SHEET).iter(f"{MAIN}c"):
        if cell.get("t") == "s":
            cell.set("t", "inlineStr")
            for child in list(cell):
                cell.remove(child)
            book.child(cell, f"<is><t>Wort {cell.get('r')}</t></is>")


def rows_exchanged(book: StoredXlsx) -> None:
    """Two rows of readings sorted: all that was typed and printed in them changes places."""
    rows = {
        number: next(one for one in book.sheet(SHEET).iter(f"{MAIN}row") if one.get("r") == number)
        for number in ("8", "10")
    }
    plain = {
        number: {
            cell.get("r", "").rstrip("0123456789"): list(cell)
            for cell in row
            if cell.find(f"{MAIN}f") is None
        }
        for number, row in rows.items()
    }
    kinds = {
        number: {cell.get("r", "").rstrip("0123456789"): cell.get("t") for cell in row}
        for number, row in rows.items()
    }
    for number, other in (("8", "10"), ("10", "8")):
        for cell in rows[number]:
            letters = cell.get("r", "").rstrip("0123456789")
            if letters in plain[number] and letters in plain[other]:
                for child in list(cell):
                    cell.remove(child)
                cell.extend(plain[other][letters])
                cell.attrib.pop("t", None)
                if kinds[other][letters]:
                    cell.set("t", kinds[other][letters] or "")


def column_replaced(book: StoredXlsx) -> None:
    """One column of formulas pasted over as values."""
    for cell in book.sheet("Release").iter(f"{MAIN}c"):
        if cell.get("r", "").startswith("F"):
            for found in cell.findall(f"{MAIN}f"):
                cell.remove(found)


def names_doubled(book: StoredXlsx) -> None:
    """Every name of a sheet's readings once more, as a program leaves them that copied a sheet."""
    (names,) = book.parts.workbook.iter(f"{MAIN}definedNames")
    for name in list(names):
        if (name.text or "").startswith(f"{SHEET}!"):
            again = etree.SubElement(names, f"{MAIN}definedName", name=name.get("name", ""))
            again.text = (name.text or "").replace(SHEET, f"{SHEET}_2")


CAUSES: dict[str, Change] = {
    "every formula rounded": every_formula("ROUND({},3)"),
    "every formula guarded": every_formula("IFERROR({},0)"),
    "every formula with a sum": every_formula("({})+0.001"),
    "every formula a placeholder": every_formula('IFERROR(__xludf.DUMMYFUNCTION("{}"),0)'),
    "every number format a word": every_look("numFmt", formatCode='"OK"'),
    "every ink white": every_look("color", rgb="FFFFFFFF"),
    "every word of a sheet": every_word,
    "rows sorted": rows_exchanged,
    "a column replaced": column_replaced,
    "names doubled": names_doubled,
}


@pytest.mark.parametrize("name", CAUSES)
def test_one_cause_is_told_in_few_findings(name: str, tmp_path: Path) -> None:
    book = StoredXlsx(honest())
    CAUSES[name](book)
    made = validate(book.save(tmp_path / "book.xlsx"))
    told = [one for one in made.findings if one.severity == "damage"]
    assert 1 <= len(told) <= FEW, [one.message[:120] for one in told]
    notes = [one for one in made.findings if one.severity == "note"]
    assert len(notes) <= FEW + sum(one.severity == "note" for one in validate(honest()).findings)


def test_a_copied_sheet_is_one_finding(tmp_path: Path) -> None:
    made = validate(with_further_sheet(honest(), tmp_path / "book.xlsx", "Bores_2", like=SHEET))
    told = [one.code for one in made.findings if one.code != "reading-missing"]
    assert told.count("sheet-copy-alike") == 1
    assert "damage" not in {one.severity for one in made.findings}


def test_the_remedy_of_a_book_written_anew_works_on_that_book(tmp_path: Path) -> None:
    book = StoredXlsx(honest())
    every_formula("ROUND({},3)")(book)
    spoiled = book.save(tmp_path / "spoiled.xlsx")
    (damage,) = [one for one in validate(spoiled).findings if one.severity == "damage"]
    assert damage.code == "rewritten"
    assert "generate the book anew with the readings of this one" in damage.remedy
    layout = small_layout()
    carried = carry(layout, spoiled)
    write(layout, tmp_path / "anew.xlsx", carried.typed)
    anew, sound = validate(tmp_path / "anew.xlsx"), validate(honest())
    assert {one.severity for one in anew.findings} & {"damage"} == set()
    signed = {key for key in sound.typed if key.startswith("decision.")}
    assert anew.typed == {key: one for key, one in sound.typed.items() if key not in signed}


def test_readings_are_carried_wherever_a_remedy_says_so_and_not_where_books_were_mixed() -> None:
    sound = {code for code in catalogue() if leaves_readings_sound(code)}
    assert {"rewritten", "row-deleted", "block-pasted", "formula-edited"} <= sound
    mixed = {code for code, kind in catalogue().items() if kind["group"] == "identity"}
    of_limits = {code for code in mixed if code.startswith(("figure-", "limit-", "guess-"))}
    mixed -= of_limits  # the book is the block's own, held to other limits than the shop's
    assert not sound & (mixed | {"words-exchanged", "unit-changed", "cell-moved", "sheet-copied"})
