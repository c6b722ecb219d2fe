"""Every equation is for a book, a table, a plan or the bench.

An equation stands in a book if a cell holds it, or if an equation of a cell calls it: its formula
is then part of that cell's own. The books are those of the shipped specs and of the whole engine,
which has every feature there is. To be worked at the bench does not count by itself: the bench
names the few that are its own, and why no sheet shows them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from datumbook.calculator import explain
from datumbook.calculator.equations import NO_CELL, shipped_books, standing_in
from datumbook.calculator.where_used import AT_THE_BENCH, OWN
from datumbook.spec import shipped_specs
from datumbook.workbook.layout import Layout
from equations_in_use import ALL, in_books, named, shown, unused


def test_every_equation_stands_in_a_book_a_table_a_plan_or_at_the_bench() -> None:
    assert not unused(), f"{sorted(unused())} in no book, table or plan: give each a cell"


@pytest.mark.parametrize("name", OWN)
def test_what_is_the_bench_s_own_is_used_nowhere_else_and_explain_says_why(name: str) -> None:
    assert name in ALL
    assert name not in in_books() | named("stations", "standards", "plan", "calculator")
    assert f"{AT_THE_BENCH}: {OWN[name]}" in explain(name)


def test_explain_says_where_an_equation_is_used_that_is_in_no_shipped_book() -> None:
    told = {
        name: explain(name) for name in ("tappet_clearance", "whitworth_depth", "turns_to_bind")
    }
    assert all(NO_CELL in one for one in told.values())
    bores = (
        "in the books of engines that have it: builder/datumbook/stations/received/small_bores.py"
    )
    assert bores in told["tappet_clearance"]
    within = (
        "within whitworth_effective_diameter, in the sizes of a table: builder/datumbook/standards"
    )
    assert f"{within}/thread_families.py" in told["whitworth_depth"]
    assert "builder/datumbook/standards/look_alikes.py" in told["turns_to_bind"]


def test_explain_has_a_place_for_every_equation() -> None:
    for name in sorted(set(ALL) - shown()):
        assert re.search(rf"^  shown     {NO_CELL}\n  shown     \S", explain(name), re.MULTILINE), (
            name
        )


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
    told = explain("friction_lever")
    assert "within nut_factor_by_friction: sheet Threads, first in " in told
    assert NO_CELL not in told


def test_no_book_is_laid_out_after_the_one_it_stands_in(monkeypatch: pytest.MonkeyPatch) -> None:
    def books() -> Iterator[Layout]:
        yield next(shipped_books())
        raise AssertionError("a second book was laid out")

    monkeypatch.setattr("datumbook.calculator.equations.shipped_books", books)
    assert "in the book of Brackwater S1" in explain("out_of_round")
