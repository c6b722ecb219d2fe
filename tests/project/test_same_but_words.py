"""A commit of new words is held against the one before by `same_but_words.py`; here that script is
shown to see everything but words.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.styles import Protection

from datumbook.job import Job
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

    with_words = (cell for row in sheet.iter_rows() for cell in row if '"OK"' in str(cell.value))
    cell = next(with_words)
    cell.value = cell.value.replace('"OK"', '"GOOD"')


def test_words_and_number_formats_are_no_difference(tmp_path: Path) -> None:
    assert told(tmp_path, renamed) == []


def everything_but_words(opened: Any) -> None:
    sheet = opened["Bores"]
    formula, other = [cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"][
        :2
    ]
    formula.value = f"{formula.value}+1"
    other.protection = Protection(locked=False)
    first(sheet, "n").value = 83.0
    first(sheet, "s").value = 5.0
    sheet.data_validations.dataValidation.pop()
    name = next(iter(opened.defined_names.values()))
    name.attr_text = name.attr_text.replace("$", "$A", 1)


def test_whatever_is_no_word_is_told(tmp_path: Path) -> None:
    places = [line.split(":")[0] for line in told(tmp_path, everything_but_words)]
    assert len(places) == len(set(places)) == 6
    assert sum(line.endswith((", names", ", checked")) for line in places) == 2


def test_a_sheet_counts_by_its_place_not_by_its_name() -> None:
    formula = "='Main bearings'!$A$1&\"of it\""
    assert without_words(formula, ["Job", "Main bearings"]) == '1!$A$1&"words"'
