"""The tree refuses what a spreadsheet could not repeat, each refusal naming the word to use
instead.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from datumbook.formulas.tree import (
    BinaryOperation,
    Call,
    Cell,
    MisuseError,
    Number,
    cells,
    children,
    traced,
    tree,
)

SIZE, LIMIT = Cell("size", "mm"), Cell("limit", "mm")

MISUSES: dict[str, tuple[Callable[[], object], str]] = {
    "if": (lambda: 1 if SIZE else 2, r"use where\(test, a, b\) for `if`"),
    "and": (lambda: SIZE and LIMIT, "all_of or any_of for `and` and `or`"),
    "or": (lambda: SIZE or LIMIT, "all_of or any_of"),
    "not": (lambda: not SIZE, "where"),
    "==": (lambda: SIZE == LIMIT, "use equal.*at_most and at_least"),
    "!=": (lambda: SIZE != LIMIT, "use equal"),
    "in": (lambda: SIZE in (LIMIT, 3.0), "use equal"),
    "<": (lambda: SIZE < LIMIT, r"less_than\(a, b\)"),
    "<=": (lambda: SIZE <= 3, r"at_most\(a, b\)"),
    ">": (lambda: SIZE < 3, r"more_than\(a, b\)"),
    ">=": (lambda: SIZE >= LIMIT, r"at_least\(a, b\)"),
    "max": (lambda: max(SIZE, LIMIT), "at_most"),
    "sorted": (lambda: sorted([SIZE, LIMIT]), "at_most"),
    "float": (lambda: float(SIZE), "words in builder/datumbook/formulas/functions.py"),
    "int": (lambda: int(SIZE), "words in builder/datumbook/formulas/functions.py"),
    "index": (lambda: range(9)[SIZE], "words in builder/datumbook/formulas/functions.py"),
    "math.sqrt": (lambda: math.sqrt(SIZE), "words in builder/datumbook/formulas/functions.py"),
    "math.floor": (lambda: math.floor(SIZE), "words in builder/datumbook/formulas/functions.py"),
    "round": (lambda: round(SIZE), r"rounded\(value, unit, digits\)"),
    "round to digits": (lambda: round(SIZE, 3), r"rounded\(value, unit, digits\)"),
    "for": (lambda: [one + 1 for one in SIZE], r"name a group of cells as \*cells"),
    "sum": (lambda: sum(SIZE), r"\*cells"),
    "star": (lambda: [*SIZE], r"\*cells"),
    "true": (lambda: SIZE + True, "has no place in a formula"),
    "none": (lambda: SIZE * None, "has no place in a formula"),
    "list": (lambda: SIZE - [1.0], "has no place in a formula"),
}


@pytest.mark.parametrize("misuse", MISUSES)
def test_a_misuse_is_refused_with_the_word_to_use(misuse: str) -> None:
    attempt, message = MISUSES[misuse]
    with pytest.raises(MisuseError, match=message):
        attempt()


@pytest.mark.parametrize(
    ("made", "mark"),
    [
        (SIZE + 1, "+"),
        (1 + SIZE, "+"),
        (SIZE - 1, "-"),
        (1 - SIZE, "-"),
        (SIZE * 2, "*"),
        (2 * SIZE, "*"),
        (SIZE / 2, "/"),
        (2 / SIZE, "/"),
        (SIZE**2, "^"),
        (2**SIZE, "^"),
        (-SIZE, "-"),
    ],
)
def test_arithmetic_makes_bigger_trees_in_the_order_written(
    made: BinaryOperation, mark: str
) -> None:
    assert made.mark == mark
    assert [type(side) for side in (made.left, made.right)].count(Cell) == 1


def test_the_sides_of_an_operation_stand_as_written() -> None:
    made = 1 - SIZE
    assert isinstance(made.left, Number)
    assert made.right is SIZE
    assert children(made) == (made.left, SIZE)


def test_absolute_value_is_a_call() -> None:
    made = abs(SIZE)
    assert isinstance(made, Call)
    assert made.name == "ABS"


def test_cells_are_found_once_in_the_order_met() -> None:
    assert [cell.key for cell in cells((LIMIT - SIZE) * SIZE / Cell("other"))] == [
        "limit",
        "size",
        "other",
    ]


def test_a_value_is_traced_when_a_cell_is_in_it() -> None:
    assert traced(1.0, SIZE)
    assert not traced(1.0, "words", None)
    assert tree(SIZE) is SIZE
