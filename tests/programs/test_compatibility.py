"""Every shipped book through every spreadsheet program: opened without one right result, typed
into, reckoned, saved, validated and printed.

The programs are the witness. What is known not to hold stands in tests/support/compatibility.toml;
a gap that has closed fails here.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from compatibility import given, layout_of, measure
from compatibility_page import GAPS, MEASURED, MEASURES, Measured, gap, gaps, remade
from datumbook.spec import shipped_specs
from engines import EngineError, stored
from long_runs import mostly_long
from spreadsheet_programs import programs

SHORTEST = "brackwater_s1"
ORDINARY = ("IronCalc", SHORTEST)  # half a second; a program that starts takes five


def pairs() -> Iterator[Any]:
    """Each program with each book, the pair of every run first."""
    every = [
        (program.name, book)
        for program in programs().values()
        for book in ([SHORTEST] if program.slow else sorted(shipped_specs()))
    ]
    for pair in sorted(every, key=lambda one: one != ORDINARY):
        yield pytest.param(pair, id="-".join(pair).replace(" ", "_"))


@pytest.fixture(scope="module", params=mostly_long(pairs()))
def taken(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[str, str, Measured]:
    program, book = request.param
    return program, book, measure(programs()[program], book, tmp_path_factory.mktemp("taken"))


@pytest.mark.parametrize("of", MEASURES)
def test_a_program_does_with_a_book_what_it_should(
    request: pytest.FixtureRequest, taken: tuple[str, str, Measured], of: str
) -> None:
    program, book, found = taken
    held = found.holds(of)
    if held is None:
        pytest.skip(f"{program}: {of}: cannot be had without its window")
    if known := gap(program, of, book):
        request.applymarker(pytest.mark.xfail(reason=known.why))
    assert held, found


def test_the_books_given_carry_no_right_result() -> None:
    formulas = [
        (place.at.sheet, place.at.cell)
        for key, place in layout_of(SHORTEST).places.items()
        if layout_of(SHORTEST).has_formula(key)
    ]
    wrong = stored(given(SHORTEST, filled=True, removed=False))
    none = stored(given(SHORTEST, filled=True, removed=True))
    assert {wrong[one] for one in formulas} == {-777.0}
    assert {none[one] for one in formulas} == {None}


@pytest.mark.parametrize(
    ("found", "bad"),
    [
        (Measured((2, 2), (3, 3), (), (5, 0)), set()),
        (Measured((1, 2), (2, 3), ("part-strange",), (5, 1)), set(MEASURES)),
        (Measured((2, 2), None, None, (0, 0)), {"printed"}),
    ],
)
def test_what_is_measured_can_fail(found: Measured, bad: set[str]) -> None:
    assert {of for of in MEASURES if found.holds(of) is False} == bad
    assert EngineError("#REF!") == EngineError()


def test_every_gap_is_of_a_program_and_a_measure_there_are() -> None:
    assert GAPS.exists()
    for one in gaps():
        assert (one.program in programs(), one.measure in MEASURES) == (True, True), one
        assert set(one.books) <= set(shipped_specs()), one


def test_the_table_shows_every_gap_and_nothing_else_that_fails() -> None:
    """What was measured and what is known to fail say the same of every program and book."""
    measured = json.loads(MEASURED.read_text("utf-8"))
    assert set(measured) == set(programs())
    for program, one in measured.items():
        for book, found in one["books"].items():
            for of in MEASURES:
                fails = remade(found).holds(of) is False
                assert fails == bool(gap(program, of, book)), (program, book, of)
