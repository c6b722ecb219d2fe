"""A commit of new words is held against the one before by `same_but_words.py`; here that script is
shown to see everything but words.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.styles import Protection

from datumbook.cells.basis import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.writer import write
from programs import made_once
from same_but_words import differences, without_words


def book() -> Path:
    spec = load_spec(shipped_specs()["brackwater_s1"])
    return made_once("same-but-words.xlsx", lambda path: write(lay_out(spec, Job("SQ-17")), path))


def told(folder: Path, change: Callable[[Any], None]) -> list[str]:
    """What is told of a book that a script saved, and of the same one with something changed."""
    same, other, opened = folder / "same.xlsx", folder / "other.xlsx", load_workbook(book())
    opened.save(same)
    change(opened)
    opened.save(other)
    return differences(same, other)


def first(sheet: Any, kind: str) -> Any:
    return next(cell for row in sheet.iter_rows() for cell in row if cell.data_type == kind)


def renamed(opened: Any) -> None:
    sheet = opened["Bores"]
    first(sheet, "s").value = "Other words"
    first(sheet, "f").number_format = "0.0000000"


def text_of_a_formula(opened: Any) -> None:
    cell = next(
        cell for row in opened["Bores"].iter_rows() for cell in row if '"OK"' in str(cell.value)
    )
    cell.value = cell.value.replace('"OK"', '"GOOD"')


@pytest.mark.parametrize("change", [renamed, text_of_a_formula])
def test_words_and_number_formats_are_no_difference(
    tmp_path: Path, change: Callable[[Any], None]
) -> None:
    assert told(tmp_path, change) == []


def other_formula(opened: Any) -> None:
    cell = first(opened["Bores"], "f")
    cell.value = f"{cell.value}+1"


def number_typed(opened: Any) -> None:
    first(opened["Bores"], "n").value = 83.0


def number_taken(opened: Any) -> None:
    first(opened["Bores"], "s").value = 5.0


def unlocked(opened: Any) -> None:
    first(opened["Bores"], "f").protection = Protection(locked=False)


def unchecked(opened: Any) -> None:
    opened["Bores"].data_validations.dataValidation.pop()


def name_moved(opened: Any) -> None:
    name = next(iter(opened.defined_names.values()))
    name.attr_text = name.attr_text.replace("$", "$A", 1)


@pytest.mark.parametrize(
    "change", [other_formula, number_typed, number_taken, unlocked, unchecked, name_moved]
)
def test_whatever_is_no_word_is_told(tmp_path: Path, change: Callable[[Any], None]) -> None:
    assert len(told(tmp_path, change)) == 1


def test_a_sheet_counts_by_its_place_not_by_its_name() -> None:
    formula = "='Main bearings'!$A$1&\"of it\""
    assert without_words(formula, ["Job", "Main bearings"]) == '1!$A$1&"words"'
