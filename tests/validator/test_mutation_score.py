"""Any single change of a cell that changes a check's truth is found; of two changes both are told.

A sample with fixed seeds; `python tests/scripts/mutation.py` runs every change of every cell,
`python tests/scripts/pairs.py` more pairs.
"""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from clean_readings import clean_book, demo_book
from datumbook.readers import open_book
from long_runs import mostly_long
from mutation import KINDS, OF_LOOKS, changed, judge_of, mutants, score, score_of_files
from pairs import counted

# in an ordinary run, in the long one
IN_MEMORY, PAIRS = [6, 16], [1, 5]
THROUGH_FILES = 6


@pytest.mark.parametrize("many", mostly_long(IN_MEMORY))
def test_every_change_in_memory_that_matters_is_found(many: int) -> None:
    chosen = random.Random(5).sample(list(mutants(open_book(demo_book()))), many)
    matter, missed = score(demo_book(), chosen)
    assert matter >= many / 3, "changes that mostly do not matter would prove little"
    assert missed == []


def test_every_change_of_how_a_cell_shows_what_it_holds_is_found() -> None:
    looks = [one for one in mutants(open_book(demo_book())) if one.kind in OF_LOOKS]
    matter, missed = score(demo_book(), random.Random(7).sample(looks, 8))
    assert (matter, missed) == (8, [])


@pytest.mark.parametrize("many", mostly_long([0, 1], 1))
def test_every_change_of_a_rule_is_found(many: int) -> None:
    """The colours and what the cells ask for, rule by rule; the ordinary run looks at one sheet."""
    judge = judge_of(clean_book())
    tried, missed = judge.of_rules([*judge.book.sheets] if many else ["Proofs"])
    assert tried >= 10
    assert missed == []


def test_every_change_through_a_file_that_matters_is_found(tmp_path: Path) -> None:
    book, draw = open_book(demo_book()), random.Random(6)
    every = list(mutants(book))
    formulas = [one for one in every if book.sheets[one.sheet].cells[one.at].formula]
    chosen = draw.sample(formulas, THROUGH_FILES // 2) + draw.sample(every, THROUGH_FILES // 2)
    matter, missed = score_of_files(demo_book(), chosen, tmp_path)
    assert matter >= THROUGH_FILES // 2, "any change of a formula matters"
    assert missed == []


def test_a_change_in_memory_is_taken_back() -> None:
    judge = judge_of(clean_book())
    mutant = next(mutants(judge.book))
    kept = judge.book.sheets[mutant.sheet].cells[mutant.at]
    judge.of(mutant)
    assert judge.book.sheets[mutant.sheet].cells[mutant.at] is kept
    assert all(changed(kept, kind) != kept for kind in KINDS)


@pytest.mark.parametrize("many", mostly_long(PAIRS))
def test_of_two_changes_both_are_told_and_the_book_is_never_released(many: int) -> None:
    tried, both, any_told, unreleased = counted(many, 3)
    assert any_told == unreleased == tried
    assert both >= 0.95 * tried
