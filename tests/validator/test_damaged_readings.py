"""Every reading that is not the size a person read is told with its cell, and with what it may have
been.

The reading is changed in the stored XML of a book that has no finding at all, so what is found is
that reading. What programs make of what is typed: measured, see test_typed_by_a_client.py.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import openpyxl
import pytest
from lxml import etree

from bored_block import at, bored_book
from clean_readings import STALE, only
from damaged_books import with_cell, with_sheet
from datumbook.validator import validate
from long_runs import mostly_long
from xlsx_parts import MAIN

READING = "bores.2.middle.thrust"
INCHES = "row.deck_length"

TEXTS = [
    (READING, "82.014 mm", "82.014"),
    (READING, "82,014", "82.014"),
    (READING, "82.O14", "82.014"),
    (READING, "82.014\u00a0", "82.014"),
    (READING, "82.014\u00a0mm", "82.014"),
    (READING, "'82.014", "82.014"),
    (READING, "3.229 in", "82.0166"),
    (READING, "\u221282.014", ""),
    (READING, "n/a", ""),
    (READING, "82.0.14", ""),
    (INCHES, "15 1/2", "15.5"),
    (INCHES, '15.5000"', "15.5"),
    (INCHES, "15500 thou", "15.5"),
    (INCHES, "393.7 mm", "15.5"),
    ("instruments.bores.part", "\u22122.5", "-2.5"),
]


@pytest.mark.parametrize(("key", "typed", "meant"), mostly_long(TEXTS, 4))
def test_a_reading_that_is_text_is_quoted_with_the_number_it_may_have_been(
    tmp_path: Path, key: str, typed: str, meant: str
) -> None:
    made = validate(with_cell(bored_book(), tmp_path / "book.xlsx", at(key), holds=typed))
    (one,) = [one for one in made.findings if one.code not in STALE]
    assert (one.code, one.sheet, one.cell, one.found, one.suggestion) == (
        "reading-is-text",
        *at(key),
        typed,
        meant,
    )
    assert made.verdict == "hold"
    assert made.values[key] is None, "the number it may have been is offered and not used"


SLIPS = [
    (READING, 82.014 / 25.4, "reading-wrong-unit", "82.014"),
    (INCHES, 15.5 * 25.4, "reading-wrong-unit", "15.500"),
    (INCHES, 15500.0, "reading-wrong-unit", "15.500"),
    (READING, 8.2014, "reading-decimal-slip", "82.014"),
    (READING, 820.14, "reading-decimal-slip", "82.014"),
    (READING, 82014.0, "reading-decimal-slip", "82.014"),
    ("lands.1_2.width", 39.4, "reading-decimal-slip", "0.394"),
    (READING, 120.0, "reading-impossible", ""),
    (READING, -82.014, "reading-impossible", ""),
    (READING, 0.0, "reading-is-nought", ""),
    ("finished_bores.2.middle.thrust", -82.0, "reading-impossible", ""),
]


@pytest.mark.parametrize(("key", "typed", "code", "meant"), mostly_long(SLIPS, 4))
def test_a_size_that_cannot_be_is_held_with_the_size_it_may_have_been(
    tmp_path: Path, key: str, typed: float, code: str, meant: str
) -> None:
    made = validate(with_cell(bored_book(), tmp_path / "book.xlsx", at(key), holds=typed))
    (one,) = [one for one in made.findings if one.code not in STALE]
    assert (one.code, one.sheet, one.cell, one.suggestion) == (code, *at(key), meant)
    assert (made.verdict, made.state) == ("hold", "ON HOLD"), "whatever the sheet says of itself"


OTHERS = [
    (READING, "#N/A", "reading-is-error"),
    (READING, "   ", "reading-missing"),
    (READING, None, "reading-missing"),
    ("cracks.all.outcome", "yes", "reading-not-a-choice"),
    ("lands.1_2.width", None, "reading-missing"),
    ("decision.decision", "perhaps", "reading-not-a-choice"),
]


@pytest.mark.parametrize(("key", "typed", "code"), mostly_long(OTHERS, 2))
def test_what_is_no_reading_at_all_holds_the_job(
    tmp_path: Path, key: str, typed: str | None, code: str
) -> None:
    made = validate(with_cell(bored_book(), tmp_path / "book.xlsx", at(key), holds=typed))
    (one,) = [one for one in made.findings if one.code not in STALE]
    assert (one.code, one.sheet, one.cell) == (code, *at(key))
    assert made.exit_status == 1


def test_a_reading_typed_as_a_formula_is_used_and_noted(tmp_path: Path) -> None:
    made = validate(
        with_cell(bored_book(), tmp_path / "book.xlsx", at(READING), holds=82.0, formula="81.9+0.1")
    )
    assert [(one.code, one.cell) for one in made.findings] == [
        ("reading-is-formula", at(READING)[1])
    ]
    assert made.exit_status == 0


def test_a_truth_in_a_readings_cell_is_told(tmp_path: Path) -> None:
    def change(root: etree._Element) -> None:
        (cell,) = [one for one in root.iter(f"{MAIN}c") if one.get("r") == at(READING)[1]]
        cell.set("t", "b")
        cell[-1].text = "1"

    assert (
        only(with_sheet(bored_book(), tmp_path / "book.xlsx", at(READING)[0], change)).code
        == "reading-is-truth"
    )


@pytest.mark.parametrize(
    ("key", "typed", "meant"),
    [
        ("lands.2_3.width", date(2026, 5, 8), "5/8"),
        (READING, date(2026, 3, 8), ""),
        ("lands.2_3.width", date(2026, 8, 5), "5/8"),
    ],
)
def test_a_fraction_that_became_a_date_is_named_and_not_used(
    tmp_path: Path, key: str, typed: date, meant: str
) -> None:
    book = openpyxl.load_workbook(bored_book())
    sheet, cell = at(key)
    book[sheet][cell] = typed
    assert book[sheet][cell].is_date
    book.save(tmp_path / "book.xlsx")
    made = validate(tmp_path / "book.xlsx")
    (one,) = [one for one in made.findings if one.code not in STALE]
    assert (one.code, one.sheet, one.cell, one.suggestion) == (
        "reading-is-date",
        sheet,
        cell,
        meant,
    )
    assert one.found == typed.isoformat()
    assert made.exit_status == 1


def test_a_date_without_its_format_is_still_known_by_its_day_number(tmp_path: Path) -> None:
    book = with_cell(bored_book(), tmp_path / "book.xlsx", at("lands.2_3.width"), holds=46150.0)
    assert (only(book).code, only(book).suggestion) == ("reading-is-date", "5/8")
