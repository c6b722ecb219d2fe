"""Books opened and saved by other programs: what each drops is known, told as a note, and changes
no verdict.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

import foreign_saves
from bench_typing import job, type_many
from clean_readings import BOOKS, news, told, validated
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import ROUTES, roundtrip
from foreign_saves import LOCALES, honest_books, honest_readings, small_layout, written
from long_runs import mostly_long

PROGRAM = {"libreoffice", "libreoffice_through_ods", "libreoffice_ods", "gnumeric"}


DROPPED = {
    "openpyxl": {"results-missing"},
    "ironcalc": {"entry-rules-lost"},
    "sheetjs": {"entry-rules-lost", "colours-lost"},
}
"""What a program is known to drop, told as a note."""


def noted(name: str) -> set[str]:
    """The notes that a route brings."""
    return DROPPED.get(name.casefold().partition(",")[0], set())


def route(name: str) -> object:
    program = "gnumeric" if name == "gnumeric" else "libreoffice"
    return pytest.param(name, marks=[pytest.mark.program(program)] if name in PROGRAM else [])


@pytest.mark.parametrize("name", mostly_long(route(name) for name in ROUTES))
@pytest.mark.parametrize("book", mostly_long(BOOKS))
def test_a_book_saved_by_another_program_is_judged_as_the_book_that_was_written(
    name: str, book: str
) -> None:
    sound = BOOKS[book]()
    saved = roundtrip(name, sound)
    more, less = news(saved, sound)
    assert less == Counter()
    assert {code for code, _, _ in more} == noted(name)
    now, before = validated(saved), validated(sound)
    assert (now.verdict, now.state, now.counts) == (before.verdict, before.state, before.counts)
    assert now.typed == before.typed
    assert now.values == before.values


SAVED_EACH = [2, 16]  # in an ordinary run, in the long one


@pytest.fixture(scope="module")
def honest(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    return honest_books(small_layout(), range(max(SAVED_EACH)), tmp_path_factory.mktemp("honest"))


def program(name: str) -> object:
    marks = [
        pytest.mark.program(one)
        for one in ("libreoffice", "gnumeric")
        if name.casefold().startswith(one)
    ]
    return pytest.param(name, marks=marks)


@pytest.mark.parametrize("many", mostly_long(SAVED_EACH))
@pytest.mark.parametrize("name", mostly_long((program(name) for name in foreign_saves.ROUTES), 2))
def test_honest_books_saved_by_any_program_in_any_language_draw_no_finding(
    name: str, many: int, honest: list[Path], tmp_path: Path
) -> None:
    """13 routes of 16 books each are 208 round trips; tests/support/foreign/many.py runs
    thousands.
    """
    assert max(SAVED_EACH) * len(foreign_saves.ROUTES) >= 200
    books = honest[:many]
    for book, saved in zip(books, foreign_saves.ROUTES[name](books, tmp_path), strict=True):
        now, before = validate(saved), validated(book)
        more, less = (
            told(now.findings) - told(before.findings),
            told(before.findings) - told(now.findings),
        )
        assert (less, {code for code, _, _ in more}) == (Counter(), noted(name))
        assert (now.verdict, now.typed, now.values) == (before.verdict, before.typed, before.values)


def at_of(layout: Layout, key: str) -> tuple[str, str]:
    at = layout.place(key).at
    return at.sheet, at.cell


@pytest.mark.program("libreoffice")
@pytest.mark.parametrize("language", mostly_long(sorted(LOCALES)))
def test_readings_typed_in_another_language_are_read_as_they_were_meant(
    language: str, tmp_path: Path
) -> None:
    """A person whose computer speaks German or French types a comma, and the file holds the same
    number.
    """
    layout, locale, jobs = small_layout(), LOCALES[language], []
    write(layout, tmp_path / "empty.xlsx")
    for seed, suffix in enumerate((".xlsx", ".ods")):
        numbers = {
            key: value
            for key, value in honest_readings(layout, seed).items()
            if isinstance(value, float)
        }
        places = [
            (layout.place(key).at.sheet, layout.place(key).at.cell, written(value, locale))
            for key, value in numbers.items()
        ]
        jobs.append((job(tmp_path / "empty.xlsx", tmp_path / f"typed{suffix}", places), numbers))
    type_many([one for one, _ in jobs], locale=locale)
    for one, numbers in jobs:
        made = validate(Path(one["out"]))
        assert {key: made.typed.get(key) for key in numbers} == pytest.approx(numbers)
        assert {one.severity for one in made.findings if one.severity == "damage"} == set()
