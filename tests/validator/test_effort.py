"""What one file may cost: steps are counted, so that these tests hold on a slow machine as well;
the record of all files is kept in the long run and by tests/support/costly_files.py.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.formula.translate import Translator

from costly_files import MADE, Cost, cost, line, sound
from datumbook.effort import EFFORT_LIMITS, Effort, EffortLimits, TooMuchWork, held_to, spend
from datumbook.readers.shared import shared_formula
from datumbook.register import HowJudged, register
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.validator import validate
from long_runs import mostly_long
from many_holes import with_holes

REFUSED = [
    "cells that share a long formula",
    "cells of the book that share a long formula",
    "every formula as deep as is read",
    "a record of 400 groups of holes",
]
"""Each of these ran for minutes before its steps were counted."""

BORNE = [
    "merged ranges",
    "merged ranges one over another",
    "a number format of brackets",
    "a long sum in every reading",
    "every formula deep and different",
    "printed words of a few again and again",
]
"""Each of these ran for a minute or for many seconds before, and is judged now."""

SLOWER = 4  # times that a machine shared with other tests may take


def book(name: str, folder: Path) -> Path:
    path = folder / "book.xlsx"
    path.write_bytes(MADE[name]())
    return path


@pytest.mark.parametrize("name", mostly_long(REFUSED, 2))
def test_a_file_that_costs_too_much_is_given_up_in_words(name: str, tmp_path: Path) -> None:
    made = validate(book(name, tmp_path))
    assert (made.verdict, [one.code for one in made.findings]) == ("unreadable", ["too-much-work"])
    assert made.layout is None
    assert "book.xlsx was given up: it has too many" in made.findings[0].message


@pytest.mark.parametrize("name", mostly_long(BORNE))
def test_what_stalled_before_is_judged_within_the_steps_of_a_small_file(
    name: str, tmp_path: Path
) -> None:
    assert validate(book(name, tmp_path)).verdict in {"hold", "untrusted"}


def test_a_register_goes_on_with_the_next_book(tmp_path: Path) -> None:
    costly, honest = book(REFUSED[0], tmp_path), tmp_path / "honest.xlsx"
    honest.write_bytes(sound())
    first, second = (one for one, _ in register([costly, honest], HowJudged()))
    assert (first.state, first.exit_status) == ("unreadable", 2)
    assert "was given up" in first.worst
    assert second.state == "on hold"


def steps_of(count: int, group: int) -> int:
    """The steps that a layout with so many holes takes, its formulas with it."""
    with held_to(0, EffortLimits(steps_of_small=10**9, seconds=600)) as effort:
        layout = lay_out(read_spec(with_holes(count, group), "many.toml"))
        for key in filter(layout.has_formula, layout.places):
            layout.formula(key)
    return 10**9 - effort.left


@pytest.mark.parametrize("group", [12, 150])
def test_an_honest_block_of_150_holes_is_laid_out_in_three_million_steps(group: int) -> None:
    assert steps_of(150, group) < 3_000_000


def test_twice_the_holes_cost_no_more_than_three_times_as_much() -> None:
    few, many = steps_of(75, 75), steps_of(150, 150)
    assert many < 3 * few


def test_steps_and_time_are_held() -> None:
    with held_to(0, EffortLimits(steps_of_small=100)):
        spend(100, "holes")
        with pytest.raises(TooMuchWork, match="holes"):
            spend(1, "holes")
    with pytest.raises(TooMuchWork):
        Effort(10**6, until=0.0, look_at=10**6).spend(1, "holes")
    spend(10**12, "nothing where no file is judged")


def test_a_file_of_more_than_a_megabyte_may_take_more() -> None:
    assert EFFORT_LIMITS.of(1 << 20) < EFFORT_LIMITS.of((1 << 20) + 1)


@given(
    st.sampled_from(
        [
            "SUM(A$3:$B4)+C5",
            "IF('My Sheet'!B9>1,\"A1\",LOG10(C3))",
            "SUM(C:D)+SUM($4:5)",
            "Bores!$C3*{1,2}+#REF!",
            "tap_12+D9%",
        ]
    ),
    st.integers(1, 40),
    st.integers(3, 200),
)
def test_a_shared_formula_reads_as_a_library_moves_it(text: str, row: int, column: int) -> None:
    """Source: the translator of openpyxl, an independent library."""
    from datumbook.readers import address_of

    here = address_of(row + 3, column)
    moved = Translator(f"={text}", origin="C4").translate_formula(here)
    assert shared_formula(text, "C4", here) == moved[1:]


@pytest.mark.parametrize("name", mostly_long(MADE, 1))
def test_no_file_takes_more_than_its_seconds_and_megabytes(name: str, tmp_path: Path) -> None:
    found: Cost = cost(name, MADE[name](), tmp_path)
    small = found.kilobytes <= 1024
    assert found.verdict != "none", line(found)
    assert found.seconds < SLOWER * (5 if small else 20), line(found)
    assert found.megabytes < (500 if small else 1000), line(found)
