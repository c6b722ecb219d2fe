"""Spelling: golden texts, and nothing that a spreadsheet program could read in its own way.

Source: the rules of tests/support/formula_limits.py; the golden texts are read by hand.
"""

from __future__ import annotations

import re
import string
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from case_book import CaseBook
from datumbook.formulas import functions
from datumbook.formulas.spelling import (
    PORTABLE,
    Address,
    column_letters,
    in_words,
    spell,
    spelled_number,
)
from datumbook.formulas.tracing import parameters
from datumbook.formulas.tree import Call, Cell, Formula, InUnit, Number, Text, tree
from formula_limits import FUNCTIONS, formula_faults
from published_cases import equations
from strategies import Example, collected

A, B, C, D = (Cell(letter) for letter in "ABCD")


def place(key: str) -> Address:
    """Column letters are one row of the sheet Here; `A2` stands below `A`; `Other.A` stands on
    another sheet.
    """
    sheet, _, cell = key.rpartition(".")
    return Address(sheet or "Here", int(cell[1:] or 1), string.ascii_uppercase.index(cell[0]) + 1)


def spelled(node: object) -> str:
    return spell(tree(node), place, "Here")


def over(*keys: str) -> tuple[Cell, ...]:
    return tuple(Cell(key, None) for key in keys)


@pytest.mark.parametrize(
    ("node", "text"),
    [
        (A + B - C, "A1+B1-C1"),
        (A + (B + C), "A1+B1+C1"),
        (A - (B - C), "A1-(B1-C1)"),
        ((A + B) * C, "(A1+B1)*C1"),
        (A * B + C, "A1*B1+C1"),
        (A / (B * C), "A1/(B1*C1)"),
        (A / B * C, "A1/B1*C1"),
        (A / (B / C), "A1/(B1/C1)"),
        (-A, "0-A1"),
        (B * -A, "B1*(0-A1)"),
        (A * -1.5, "A1*(0-1.5)"),
        (A - -1.5, "A1-(0-1.5)"),
        (A**2, "(A1)^(2)"),
        ((A**2) ** 3, "((A1)^(2))^(3)"),
        (2**A, "(2)^(A1)"),
        (-(A**2), "0-(A1)^(2)"),
        ((A + B) ** 0.5, "(A1+B1)^(0.5)"),
        (A**-2, "(A1)^((0-2))"),
        (abs(A - B), "ABS(A1-B1)"),
        (A / 3 * (1 / 3), "A1/3*0.333333333333333"),
        (A * 1e-7, "A1*0.0000001"),
        (A * 1e20, "A1*100000000000000000000"),
    ],
)
def test_arithmetic(node: Formula, text: str) -> None:
    assert spelled(node) == text
    assert formula_faults(f"={text}") == ()


@pytest.mark.parametrize(
    ("keys", "text"),
    [
        (("A", "B", "C"), "SUM(A1:C1)"),
        (("A1", "A2", "A3"), "SUM(A1:A3)"),
        (("A", "C"), "SUM(A1,C1)"),
        (("B", "A"), "SUM(B1,A1)"),
        (("A1", "A2", "B2", "C2"), "SUM(A1:A2,B2:C2)"),
        (("A", "A"), "SUM(A1,A1)"),
        (("Other.A1", "Other.A2", "A1"), "SUM(Other!A1:A2,A1)"),
        (("A1", "Other.A2"), "SUM(A1,Other!A2)"),
    ],
)
def test_neighbours_are_folded_into_ranges_along_one_line_of_one_sheet(
    keys: tuple[str, ...], text: str
) -> None:
    assert spelled(Call("SUM", over(*keys))) == text
    assert formula_faults(f"={text}") == ()


def test_only_functions_over_groups_take_ranges() -> None:
    assert spelled(functions.where(functions.at_most(C, 0), A, B)) == "IF(ROUND(C1,9)<=0,A1,B1)"
    assert spelled(Call("ROUND", (A, B))) == "ROUND(A1,B1)"


def test_comparisons_are_guarded_and_words_are_not() -> None:
    assert spelled(functions.at_most(A, B)) == "ROUND(A1-B1,9)<=0"
    assert spelled(functions.at_most(A, B - C)) == "ROUND(A1-(B1-C1),9)<=0"
    assert spelled(functions.more_than(A, 0)) == "ROUND(A1,9)>0"
    assert spelled(functions.equal(Cell("A", None), "done")) == 'A1="done"'  # type: ignore[arg-type]
    assert spelled(functions.all_of(functions.at_least(A, 1), functions.less_than(A, 2))) == (
        "AND(ROUND(A1-1,9)>=0,ROUND(A1-2,9)<0)"
    )


@pytest.mark.parametrize(
    ("words", "text"), [('5/16"', '"5/16"""'), ("", '""'), ('""', '""""""'), ("±", '"±"')]
)
def test_quotes_inside_words_are_doubled(words: str, text: str) -> None:
    assert spelled(Text(words)) == text


# --- functions over one range


def test_a_count_of_words_over_several_ranges_is_a_sum_of_counts() -> None:
    one = spelled(Call("COUNTIF", (*over("A1", "A2"), Text("done"))))
    assert one == 'COUNTIF(A1:A2,"done")'
    several = spelled(Call("COUNTIF", (*over("A1", "A2", "C5", "Other.B1"), Text("done"))))
    assert several == '(COUNTIF(A1:A2,"done")+IF(C5="done",1,0)+IF(Other!B1="done",1,0))'
    assert formula_faults(f"={several}") == ()


@pytest.mark.parametrize(
    ("name", "text"),
    [("LARGE", "LARGE(A1:A3,D1)"), ("MATCH", "MATCH(D1,A1:A3,0)"), ("INDEX", "INDEX(A1:A3,D1,1)")],
)
def test_functions_that_look_into_one_range(name: str, text: str) -> None:
    assert spelled(Call(name, (*over("A1", "A2", "A3"), D))) == text


def test_a_place_is_given_by_row_and_column_along_a_row_too() -> None:
    assert spelled(Call("INDEX", (*over("A1", "B1", "C1"), D))) == "INDEX(A1:C1,1,D1)"
    assert spelled(Call("INDEX", (*over("A1"), D))) == "IF(D1=1,A1,1/0)"


@pytest.mark.parametrize("name", ["LARGE", "MATCH", "INDEX"])
@pytest.mark.parametrize("keys", [("A1", "A3"), ("A1", "A2", "B2"), ("A1", "Other.A2")])
def test_functions_that_look_into_one_range_are_refused_over_broken_ones(
    name: str, keys: tuple[str, ...]
) -> None:
    with pytest.raises(ValueError, match=f"{name} needs its cells in one unbroken row or column"):
        spelled(Call(name, (*over(*keys), D)))


# --- what can be spelled at all


def test_every_function_that_can_be_spelled_is_portable() -> None:
    assert PORTABLE <= FUNCTIONS
    assert set(functions.BODIES) <= PORTABLE


@pytest.mark.parametrize("name", ["STDEV", "TODAY", "TEXT", "INDIRECT", "IFS", "sum", ""])
def test_a_function_that_is_not_portable_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="not read alike by every spreadsheet program"):
        spelled(Call(name, (A,)))


def test_a_tree_with_unsettled_units_is_refused() -> None:
    with pytest.raises(TypeError, match="InUnit must be settled by tracing"):
        spelled(A + InUnit(B, "in"))


def test_random_expressions_are_spelled_within_every_rule() -> None:
    book = CaseBook([example.question() for example in examples()])
    assert [text for text in book.formulas if formula_faults(f"={text}")] == []


def examples() -> list[Example]:
    return collected(60)


# --- numbers and addresses


@given(
    st.floats(min_value=-1e12, max_value=1e12).filter(
        lambda number: number == 0 or abs(number) > 1e-9
    )
)
def test_a_number_is_spelled_to_15_digits_without_exponent_or_sign(value: float) -> None:
    text = spelled_number(value)
    bare = text.removeprefix("(0-").removesuffix(")")
    assert text.startswith("(0-") == (value < 0)
    assert float(bare) == pytest.approx(abs(value), rel=1e-14)
    assert len(bare.replace(".", "").strip("0")) <= 15
    assert formula_faults(f"=A1+{text}") == ()


@given(st.integers(1, 16_384))
def test_column_letters_count_like_an_abacus_without_a_nought(column: int) -> None:
    back = 0
    for letter in column_letters(column):
        back = back * 26 + string.ascii_uppercase.index(letter) + 1
    assert back == column


def test_an_address_is_printed_with_its_sheet() -> None:
    assert str(Address("Bores", 7, 28)) == "Bores!AB7"
    assert spelled_number(float(Fraction(1, 64))) == "0.015625"
    assert spelled(Number(-0.0)) == "0"


# --- equations in words


@pytest.mark.parametrize("name", sorted(equations()))
def test_every_equation_is_printed_in_the_words_of_its_parameters(name: str) -> None:
    text = in_words(equations()[name])
    before, group, after = parameters(equations()[name])
    for parameter in (*before, *((group,) if group else ()), *after):
        assert parameter.replace("_", " ") in text
    assert not re.search(r"\b[A-Z]{1,2}[0-9]+\b", text), "an address where a word should stand"
