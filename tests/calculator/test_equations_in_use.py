"""Every equation is for a book or a plan; those in none are listed, and the list may only shrink.

An equation stands in a book if a cell holds it, or if an equation of a cell calls it: its formula
is then part of that cell's own. To be worked at the bench alone does not count.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from datumbook.calculator import explain
from datumbook.calculator.equations import NO_CELL, shipped_books, standing_in
from datumbook.spec import shipped_specs
from datumbook.workbook.layout import Layout
from equations_in_use import ALL, LIST, listed, unused

AT_MOST = {"at_the_bench_alone": 45, "for_no_shipped_engine": 16}  # lower it with the list


@pytest.mark.parametrize("name", AT_MOST)
def test_the_equations_in_no_book_and_no_plan_are_those_listed(name: str) -> None:
    known, found = listed()[name], unused()[name]
    used, new = sorted(set(known) - found), sorted(found - set(known))
    assert not used, f"used by now, or gone: take {used} out of {LIST.name}, {name}"
    assert not new, f"{new} in no shipped book and no plan: give each a cell"
    assert known == sorted(set(known)), "in order of the alphabet, each once"
    assert len(known) <= AT_MOST[name], "the list may only shrink"


@pytest.mark.parametrize("place", range(len(shipped_specs())))
def test_explain_finds_what_stands_in_this_book_and_in_none_before(place: int) -> None:
    *before, book = list(shipped_books())[: place + 1]
    known = frozenset().union(*map(standing_in, before))
    new = {one for one in standing_in(book) - known if one.__name__ in ALL}
    own = {cell.equation for cell in book.places.values()} & new
    assert own
    for one in sorted(own, key=lambda one: one.__name__)[:5]:
        cells = [cell for cell in book.places.values() if cell.equation is one]
        first = cells[0].at
        count = sum(cell.at.sheet == first.sheet for cell in cells)
        assert re.search(
            rf"^  shown     sheet {first.sheet}, first in {first.cell}, {count} cells?, "
            rf"in the book of {book.spec.engine.name}$",
            explain(one.__name__),
            re.MULTILINE,
        ), one.__name__


def test_an_equation_that_another_calls_is_found_in_the_cells_of_that_one() -> None:
    told = explain("basic_pitch_diameter")
    assert "within largest_pitch_diameter_2b: sheet Threads, first in " in told
    assert NO_CELL not in told


def test_no_book_is_laid_out_after_the_one_it_stands_in(monkeypatch: pytest.MonkeyPatch) -> None:
    def books() -> Iterator[Layout]:
        yield next(shipped_books())
        raise AssertionError("a second book was laid out")

    monkeypatch.setattr("datumbook.calculator.equations.shipped_books", books)
    assert "in the book of Brackwater S1" in explain("out_of_round")
