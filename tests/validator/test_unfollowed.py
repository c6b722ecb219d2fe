"""Rows, columns and sheets moved by a script that carries neither names nor formulas along:
openpyxl does just that.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bored_block import bored_book
from datumbook.messages.findings import Finding
from datumbook.validator import validate
from long_runs import mostly_long


def said(book: Any, path: Path) -> list[Finding]:
    book.save(path)
    return [one for one in validate(path).findings if one.severity == "damage"]


@pytest.mark.parametrize(
    ("code", "cell", "inflict"),
    mostly_long(
        [
            ("row-deleted", "A10", lambda sheet: sheet.delete_rows(10)),
            ("row-inserted", "A10", lambda sheet: sheet.insert_rows(10)),
            ("row-inserted", "A10", lambda sheet: sheet.insert_rows(10, 2)),
            ("column-deleted", "C1", lambda sheet: sheet.delete_cols(3)),
            ("column-inserted", "C1", lambda sheet: sheet.insert_cols(3)),
        ],
        2,
    ),
)
@pytest.mark.parametrize("name", mostly_long(["Bores", "Finished", "Release"]))
def test_lines_moved_by_a_script_are_one_finding(
    name: str, code: str, cell: str, inflict: Callable[[Any], None], tmp_path: Path
) -> None:
    book = openpyxl.load_workbook(bored_book())
    inflict(book[name])
    (only,) = said(book, tmp_path / "moved.xlsx")
    assert (only.code, only.sheet, only.cell) == (code, name, cell)


def test_a_sheet_renamed_by_a_script_is_renamed_and_not_gone(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(bored_book())
    book["Proofs"].title = "Measured"
    (only,) = said(book, tmp_path / "renamed.xlsx")
    assert (only.code, only.sheet) == ("sheet-renamed", "Measured")
    assert not [
        one for one in validate(tmp_path / "renamed.xlsx").findings if one.code == "reading-missing"
    ]


def test_a_reading_moved_with_its_row_is_read_where_it_stands(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(bored_book())
    book["Bores"].insert_rows(10)
    book.save(tmp_path / "moved.xlsx")
    moved, sound = validate(tmp_path / "moved.xlsx"), validate(bored_book())
    assert moved.typed == sound.typed
    assert {one.key: one.verdict for one in moved.outcomes} == {
        one.key: one.verdict for one in sound.outcomes
    }
