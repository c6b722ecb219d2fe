"""Every number somebody else printed, this time as formulas: one workbook, worked out by every
engine.

Source: beside each case in tests/support/published/*.toml.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from case_book import CaseBook, Entry, Question
from datumbook.numbers.quantities import Quantity
from engines import Results
from published_cases import Case, Given, equations, published_cases

CASES = list(published_cases())


def entry(given: Given) -> Entry:
    """Return the cell a given quantity stands in: its printed number, in its own unit."""
    if isinstance(given, Quantity):
        return Entry(float(given.number), given.unit)
    assert isinstance(given, str)
    return Entry(given, None)


def question(case: Case) -> Question:
    return Question(equations()[case.function], case.arguments(entry), case.gives.unit)


def test_an_engine_gives_the_numbers_somebody_else_printed(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    book = CaseBook([question(case) for case in CASES])
    found = book.answers(engine(book.write(tmp_path / "published.xlsx")))
    wrong = [
        (case.name, formula, value, case.gives.text)
        for case, formula, value in zip(CASES, book.formulas, found, strict=True)
        if not isinstance(value, float | int)
        or abs(value - float(case.gives.number)) > case.within * (1 + 1e-9)
    ]
    assert len(found) >= 100
    assert not wrong
