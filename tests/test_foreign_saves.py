"""Books opened and saved by other programs: what each drops is known, told as a note, and changes no verdict."""

from __future__ import annotations

from collections import Counter

import pytest

from clean_readings import BOOKS, news, validated
from engines import ROUTES, roundtrip

PROGRAM = {"libreoffice", "libreoffice_through_ods", "libreoffice_ods", "gnumeric"}
BLANKS_LOST = ("libreoffice_through_ods", "clean")
"""Opened as .ods and saved as .xlsx, blank results of the list of what holds the job up show 0: where none holds, twelve."""


def route(name: str) -> object:
    program = "gnumeric" if name == "gnumeric" else "libreoffice"
    return pytest.param(name, marks=[pytest.mark.program(program)] if name in PROGRAM else [])


@pytest.mark.parametrize("name", [route(name) for name in ROUTES])
@pytest.mark.parametrize("book", BOOKS)
def test_a_book_saved_by_another_program_is_judged_as_the_book_that_was_written(name: str, book: str) -> None:
    sound = BOOKS[book]()
    saved = roundtrip(name, sound)
    more, less = news(saved, sound)
    assert less == Counter()
    assert [code for code, _, _ in more.elements()] == (
        ["results-missing"] if name == "openpyxl" else ["results-stale"] if (name, book) == BLANKS_LOST else []
    )
    now, before = validated(saved), validated(sound)
    assert (now.verdict, now.state, now.counts) == (before.verdict, before.state, before.counts)
    assert now.typed == before.typed
    assert now.values == before.values
