"""Typing as a person would: what each text becomes in cells of four formats, and what damage can be
done.

The table is measured (LibreOffice 7.4, en-US and de-DE); a `1/4` that turns into a date is the trap
of the trade.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

import bench_typing
from bench_typing import job, type_into, type_many
from engines import Results, stored
from xlsx_parts import MAIN, Parts

pytestmark = pytest.mark.program("libreoffice")

FORMATS = {"A": "General", "B": "0.0000", "C": "# ??/64", "D": "@"}
AMERICAN = {
    "81.02": (81.02, 81.02, 81.02, "81.02"),
    ".0005": (0.0005, 0.0005, 0.0005, ".0005"),
    "2 3/8": (2.375, 2.375, 2.375, "2 3/8"),
    "9/32": ("9/32", "9/32", 0.28125, "9/32"),
    "12,5": ("12,5", "12,5", "12,5", "12,5"),
    "0042": (42, 42, 42, "0042"),
    "5%": (0.05, 0.05, 0.05, "5%"),
}
GERMAN = {
    "12,5": (12.5, 12.5, 12.5, "12,5"),
    "3.001": (3001, 3001, 3001, "3.001"),
    "1/4": ("1/4", "1/4", 0.25, "1/4"),
}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A protected sheet with ten unlocked cells in each of four formats, a locked sum, and a name
    on B5.
    """
    with xlsxwriter.Workbook(path := tmp_path / "blank.xlsx") as made:
        sheet = made.add_worksheet("Bores")
        for column, code in FORMATS.items():
            style = made.add_format({"num_format": code, "locked": False})
            for row in range(1, 11):
                sheet.write_blank(f"{column}{row}", None, style)
        sheet.write_formula("F1", "=SUM(B1:B10)", None, "")
        made.add_worksheet("Notes").write_string("A1", "kept")
        made.define_name("in_b5", "=Bores!$B$5")
        sheet.protect()
    return path


def typed_in_every_format(book: Path, texts: dict[str, tuple[object, ...]], locale: str) -> Results:
    typed = [
        ("Bores", f"{column}{row}", text) for row, text in enumerate(texts, 1) for column in FORMATS
    ]
    type_into(book, out := book.with_name(f"{locale}.xlsx"), typed, locale=locale)
    return stored(out)


@pytest.mark.parametrize(
    ("texts", "locale"), [(AMERICAN, "en-US"), (GERMAN, "de-DE")], ids=["en-US", "de-DE"]
)
def test_what_a_typed_text_becomes(
    book: Path, texts: dict[str, tuple[object, ...]], locale: str
) -> None:
    found = typed_in_every_format(book, texts, locale)
    for row, (text, expected) in enumerate(texts.items(), 1):
        assert tuple(found["Bores", f"{column}{row}"] for column in FORMATS) == expected, text


def test_a_quarter_becomes_a_date_except_where_the_format_is_a_fraction(book: Path) -> None:
    found = typed_in_every_format(book, {"1/4": ()}, "en-US")
    assert found["Bores", "C1"] == 0.25
    assert isinstance(date := found["Bores", "A1"], float)
    assert date > 40_000


def test_results_follow_the_typing(book: Path, tmp_path: Path) -> None:
    type_into(
        book, out := tmp_path / "out.xlsx", [("Bores", "B1", "81.02"), ("Bores", "B2", "1.5")]
    )
    assert stored(out)["Bores", "F1"] == pytest.approx(82.52)


def test_a_locked_cell_refuses(book: Path, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"^Bores!F1 is locked: nothing can be typed there$"):
        type_into(book, tmp_path / "out.xlsx", [("Bores", "F1", "3")])
    assert not (tmp_path / "out.xlsx").exists()


@pytest.mark.parametrize(
    ("typed", "actions", "sentence"),
    [
        ([("Bore", "A1", "3")], [], "there is no sheet 'Bore'"),
        ([], [{"do": "burn", "sheet": "Bores"}], "there is no action 'burn'"),
    ],
)
def test_what_cannot_be_done_is_said(
    book: Path,
    tmp_path: Path,
    typed: list[tuple[str, str, str]],
    actions: list[dict[str, str]],
    sentence: str,
) -> None:
    with pytest.raises(ValueError, match=sentence):
        type_into(book, tmp_path / "out.xlsx", typed, actions)


def test_rows_and_columns_move_the_name_with_its_cell(book: Path, tmp_path: Path) -> None:
    jobs: dict[str, list[dict[str, Any]]] = {
        "Bores!$B$7": [{"do": "insert_rows", "sheet": "Bores", "row": 3, "count": 2}],
        "Bores!$B$4": [{"do": "delete_rows", "sheet": "Bores", "row": 1}],
        "Bores!$C$5": [{"do": "insert_columns", "sheet": "Bores", "column": 1}],
        "Bores!$A$5": [{"do": "delete_columns", "sheet": "Bores", "column": 1}],
        "Liners!$B$5": [{"do": "rename_sheet", "sheet": "Bores", "to": "Liners"}],
        "Bores!$B$20": [{"do": "move_cells", "sheet": "Bores", "cells": "B5:B5", "to": "B20"}],
        "Bores!$B$5": [{"do": "copy_cells", "sheet": "Bores", "cells": "B5:B5", "to": "B20"}],
    }
    outs = [tmp_path / f"{number}.xlsx" for number in range(len(jobs))]
    type_many(
        [job(book, out, [], actions) for out, actions in zip(outs, jobs.values(), strict=True)]
    )
    targets = [
        Parts(out).workbook.findtext(f"{MAIN}definedNames/{MAIN}definedName") for out in outs
    ]
    assert targets == list(jobs)


def test_sheets_and_formulas_can_be_damaged(book: Path, tmp_path: Path) -> None:
    actions: list[dict[str, Any]] = [
        {"do": "delete_sheet", "sheet": "Notes"},
        {"do": "copy_sheet", "sheet": "Bores", "to": "Copy"},
        {"do": "set_formula", "sheet": "Bores", "cell": "F1", "formula": "=B1+1"},
        {"do": "set_formula", "sheet": "Bores", "cell": "F2", "formula": "12.5"},
    ]
    type_into(book, out := tmp_path / "out.xlsx", [("Bores", "B1", "81.02")], actions)
    assert list(Parts(out).sheets) == ["Bores", "Copy"]
    found = stored(out)
    assert (found["Bores", "F1"], found["Bores", "F2"]) == (pytest.approx(82.02), 12.5)
    assert found["Copy", "F1"] == pytest.approx(81.02)


def test_a_book_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"there is no workbook .*absent\.xlsx"):
        type_into(tmp_path / "absent.xlsx", tmp_path / "out.xlsx", [])


def test_a_system_python_without_the_bridge_is_said_plainly(
    monkeypatch: pytest.MonkeyPatch, book: Path
) -> None:
    monkeypatch.setattr(bench_typing, "bridge", lambda: False)
    monkeypatch.setenv("DATUMBOOK_REQUIRE_PROGRAMS", "1")
    with pytest.raises(pytest.fail.Exception, match="has no module uno"):
        type_into(book, book.with_name("out.xlsx"), [])
