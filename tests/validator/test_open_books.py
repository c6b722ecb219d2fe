"""A book written without sheet protection, for programs that take any as locking everything: it is
judged like every other, and one that was locked when it was made stays judged as that.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from clean_readings import clean_book, clean_readings, shipped_layout, validated
from command import run
from damaged_books import with_cell, with_sheet
from damages import without
from datumbook.validator import validate
from datumbook.writer import write
from programs import made_once
from xlsx_parts import MAIN, Parts

RESULT = "bores.1.top.out_of_round"


@cache
def open_book() -> Path:
    return made_once(
        "open.xlsx",
        lambda out: write(shipped_layout(), out, clean_readings(shipped_layout()), protected=False),
    )


def locked(book: Path) -> list[str]:
    """The sheets of a file that are protected, as they are stored."""
    sheets = Parts(book).sheets.items()
    return [name for name, root in sheets if root.find(f"{MAIN}sheetProtection") is not None]


def codes(book: Path) -> list[str]:
    return sorted(one.code for one in validate(book).findings)


def test_an_open_book_is_locked_nowhere_and_is_judged_like_every_other() -> None:
    assert len(locked(clean_book())) == len(Parts(clean_book()).sheets)
    assert locked(open_book()) == []
    made = validate(open_book())
    assert (made.verdict, made.findings) == ("release", [])
    assert made.values == validated(clean_book()).values


def test_what_is_altered_in_an_open_book_is_found_and_nothing_is_said_to_be_lifted(
    tmp_path: Path,
) -> None:
    at = shipped_layout().place(RESULT).at
    for book in (open_book(), clean_book()):
        spoiled = with_cell(book, tmp_path / "a.xlsx", (at.sheet, at.cell), holds=0.0)
        assert codes(spoiled) == ["formula-replaced"]
    lifted = with_sheet(clean_book(), tmp_path / "b.xlsx", at.sheet, without("sheetProtection"))
    spoiled = with_cell(lifted, tmp_path / "c.xlsx", (at.sheet, at.cell), holds=0.0)
    assert codes(spoiled) == ["formula-replaced", "protection-lifted"]
    assert codes(lifted) == ["protection-lifted"]


def test_a_sheet_that_somebody_locks_in_an_open_book_lifts_nothing_of_the_others(
    tmp_path: Path,
) -> None:
    def lock(root: object) -> None:
        data = root.find(f"{MAIN}sheetData")  # type: ignore[attr-defined]
        data.addnext(data.makeelement(f"{MAIN}sheetProtection", {"sheet": "1"}))

    assert codes(with_sheet(open_book(), tmp_path / "book.xlsx", "Bores", lock)) == []


@pytest.mark.parametrize("words", [(), ("--open",)], ids=["locked", "open"])
def test_a_book_stays_open_or_locked_when_it_is_filled(
    words: tuple[str, ...], tmp_path: Path
) -> None:
    book, out, csv = tmp_path / "book.xlsx", tmp_path / "out.xlsx", tmp_path / "readings.csv"
    csv.write_text("key,value\nbores.1.top.thrust,82.01\n", "utf-8")
    made = run("generate", "orrindale_qp4", "--work", "measure", "-o", book, *words)
    assert made.exit_code == 0, made.output
    assert run("fill", book, csv, "-o", out).exit_code == 0
    for path in (book, out):
        assert (locked(path) == []) is bool(words)
        assert {one.severity for one in validate(path).findings} == {"reading"}
