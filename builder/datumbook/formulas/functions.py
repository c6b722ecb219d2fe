"""The words an equation may use, each with its two meanings in one glance: the spreadsheet's name
on the line above the Python body.
Called with numbers a word gives a number; called with cells it gives a piece of
formula.

Comparisons are words, not operators, because a limit must be compared guarded on both roads:
`ROUND(a-b,9)<=0` in the workbook, the same rounding here. Raw floats are wrong in about half of all
cases that lie exactly on a limit.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import reduce, wraps
from inspect import signature
from operator import add
from typing import Any, ParamSpec, TypeVar, cast

from datumbook.formulas.kinds import dimension
from datumbook.formulas.tree import (
    Call,
    Cell,
    Formula,
    InUnit,
    OfUnit,
    TakenAs,
    Test,
    Text,
    traced,
    tree,
)
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.numbers.units import from_coherent, to_coherent

P = ParamSpec("P")
R = TypeVar("R")

MOST_ARGUMENTS = 255  # that a function of a spreadsheet takes
FAR = 1e-6  # a difference that the guard's last digit cannot turn round
BODIES: dict[str, Callable[..., Any]] = {"ABS": abs}
PI = math.pi


def _difference(left: float, right: float) -> float:
    """What is asked only for its sign: far from zero no rounding changes that."""
    difference = left - right
    return difference if abs(difference) > FAR else half_up(difference, GUARD_DIGITS)


def spreadsheet(name: str, *, turned: bool = False) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Give a word its spreadsheet name: with a cell among its arguments it becomes a call of that
    name; `turned` where the spreadsheet has the first argument last.
    """

    def named(body: Callable[P, R]) -> Callable[P, R]:
        @wraps(body)
        def word(*values: P.args, **named_values: P.kwargs) -> R:
            if not traced(*values):
                return body(*values, **named_values)
            nodes = tuple(map(tree, values))
            return cast("R", Call(name, (*nodes[1:], nodes[0]) if turned else nodes))

        if not turned:
            BODIES[name] = body
        return word

    return named


def takes_blanks(equation: Callable[P, R]) -> Callable[P, R]:
    """Mark an equation that is asked even when cells are missing; a missing number is nan."""
    equation.takes_blanks = True  # type: ignore[attr-defined]
    return equation


def in_pairs(equation: Callable[P, R]) -> Callable[P, R]:
    """Mark an equation whose group comes in pairs, first one and then the other of each."""
    equation.in_pairs = True  # type: ignore[attr-defined]
    return equation


def decided(equation: Callable[P, R]) -> Callable[P, R]:
    """Mark an equation whose result is a decision: no uncertainty is followed through it."""
    equation.decided = True  # type: ignore[attr-defined]
    return equation


def empirical(*, gives: str, **units: str) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Mark a standard's formula that holds in one set of units: both roads turn its arguments into
    them first.
    """

    def in_units(equation: Callable[..., Any]) -> Callable[P, R]:
        names = signature(equation).parameters

        @wraps(equation)
        def converted(*values: Any, **named_values: Any) -> Any:
            given = dict(zip(names, values, strict=False)) | named_values
            given |= {name: in_unit(given[name], unit) for name, unit in units.items()}
            return of_unit(equation(**given), gives)

        return cast("Callable[P, R]", converted)

    return in_units


def in_unit(quantity: float, unit: str) -> float:
    """The bare number a quantity has in a unit."""
    return (
        cast("float", InUnit(quantity, unit))
        if isinstance(quantity, Formula)
        else from_coherent(quantity, unit)
    )


def of_unit(number: float, unit: str) -> float:
    """A bare number as a quantity of a unit."""
    return (
        cast("float", OfUnit(number, unit))
        if isinstance(number, Formula)
        else to_coherent(number, unit)
    )


def taken_as(value: float, kind: object) -> float:
    """An angle (in radians), a count or a ratio taken for another of the three: the number stays.

    An arc is `radius * taken_as(angle, Ratio)`, all pistons `swept * taken_as(cylinders, Ratio)`.
    """
    return cast("float", TakenAs(value, dimension(kind))) if isinstance(value, Formula) else value


@spreadsheet("MAX")
def largest(*values: float) -> float:
    """The greatest of the values; a blank cell is passed over."""
    return max(value for value in values if not math.isnan(value))


@spreadsheet("MIN")
def smallest(*values: float) -> float:
    """The least of the values; a blank cell is passed over."""
    return min(value for value in values if not math.isnan(value))


@spreadsheet("SUM")
def total(*values: float) -> float:
    """The sum of the values; a blank cell adds nothing."""
    return math.fsum(value for value in values if not math.isnan(value))


@spreadsheet("AVERAGE")
def mean(*values: float) -> float:
    """The arithmetic mean of the values."""
    return math.fsum(values) / len(values)


def total_of_squares(*values: float) -> float:
    """The sum of the squares of the values, each squared by itself: not every program has a
    function for it. A missing value is to be told beforehand, as a blank cell cannot be squared.
    """
    squares = [value**2 for value in values]
    return reduce(
        add,
        (
            total(*squares[at : at + MOST_ARGUMENTS])
            for at in range(0, len(squares), MOST_ARGUMENTS)
        ),
    )


@spreadsheet("SQRT")
def square_root(value: float) -> float:
    """The square root; a negative value is an error on both roads."""
    return math.sqrt(value)


@spreadsheet("TAN")
def tangent(angle: float) -> float:
    """The tangent of an angle in radians (a cell in degrees is turned first)."""
    return math.tan(angle)


@spreadsheet("ATAN")
def arctangent(ratio: float) -> float:
    """The angle that has this tangent, in radians (a cell in degrees gets degrees)."""
    return math.atan(ratio)


@spreadsheet("SIN")
def sine(angle: float) -> float:
    """The sine of an angle in radians (a cell in degrees is turned first)."""
    return math.sin(angle)


@spreadsheet("COS")
def cosine(angle: float) -> float:
    """The cosine of an angle in radians (a cell in degrees is turned first)."""
    return math.cos(angle)


def rounded(value: float, unit: str, digits: int) -> float:
    """The value rounded half up to so many digits of this unit, as the source's own procedure
    rounds.

    It is rounded to GUARD_DIGITS first: not every program sees a tie in a number whose last bit is
    short of one.
    """
    if isinstance(value, Formula):
        bare = Call("ROUND", (InUnit(value, unit), tree(GUARD_DIGITS)))
        return of_unit(cast("float", Call("ROUND", (bare, tree(digits)))), unit)
    return of_unit(half_up(half_up(in_unit(value, unit), GUARD_DIGITS), digits), unit)


def _test(mark: str, left: object, right: object) -> bool:
    return cast("bool", Test(mark, tree(left), tree(right)))


def at_most(value: float, limit: float) -> bool:
    """Say whether value <= limit, guarded against the last bit."""
    return _test("<=", value, limit) if traced(value, limit) else _difference(value, limit) <= 0


def at_least(value: float, limit: float) -> bool:
    """Say whether value >= limit, guarded against the last bit."""
    return _test(">=", value, limit) if traced(value, limit) else _difference(value, limit) >= 0


def less_than(value: float, limit: float) -> bool:
    """Say whether value < limit by more than the last bit."""
    return _test("<", value, limit) if traced(value, limit) else _difference(value, limit) < 0


def more_than(value: float, limit: float) -> bool:
    """Say whether value > limit by more than the last bit."""
    return _test(">", value, limit) if traced(value, limit) else _difference(value, limit) > 0


def equal(choice: str, word: str) -> bool:
    """Say whether a cell of words holds this word, capitals or not, as spreadsheets compare."""
    return (
        _test("=", choice, word)
        if traced(choice, word)
        else (choice or "").casefold() == word.casefold()
    )


def blank(words: str) -> bool:
    """Say whether a cell of words is empty."""
    return _test("=", words, "") if traced(words) else not words


def missing(number: float) -> bool:
    """Say whether a cell holds no number: blank, words, or an error upstream."""
    return (
        cast("bool", Test("=", Call("COUNT", (number,)), tree(0)))
        if isinstance(number, Cell)
        else math.isnan(number)
    )


@spreadsheet("AND")
def all_of(*tests: bool) -> bool:
    """Say whether every test holds."""
    return all(tests)


@spreadsheet("OR")
def any_of(*tests: bool) -> bool:
    """Say whether at least one test holds."""
    return any(tests)


def where(test: bool, then: R, otherwise: R) -> R:
    """`then` where the test holds, else `otherwise`: the `if` of what is known when the book is
    filled.
    """
    if isinstance(test, Formula):
        return cast("R", Call("IF", (test, tree(then), tree(otherwise))))
    return then if test else otherwise


def only_where(test: bool, value: R) -> R:
    """The value where the test holds, else blank."""
    return where(test, value, cast("R", Text("") if isinstance(test, Formula) else None))


def next_size_up(need: float, *sizes: float) -> float:
    """The first of the sizes, in rising order, that is not below the need; blank if none is."""
    *smaller, most = sizes
    found = only_where(at_most(need, most), most)
    for size in reversed(smaller):
        found = where(at_most(need, size), size, found)
    return found


def at_place(place: float, *values: R) -> R:
    """The value at this place, counted from 1, of cells anywhere; the last beyond it."""
    *before, found = values
    for counted in range(len(before), 0, -1):
        found = where(at_most(place, counted), before[counted - 1], found)
    return found


@spreadsheet("COUNT")
def numbers_in(*values: float) -> float:
    """How many of the cells hold a number."""
    return float(sum(not math.isnan(value) for value in values))


@spreadsheet("COUNTA")
def cells_with_words(*values: str) -> float:
    """How many of the cells hold anything; of cells that are typed, as one worked out to nothing
    counts.
    """
    return float(sum(bool(value) for value in values))


@spreadsheet("COUNTIF", turned=True)
def cells_saying(word: str, *values: str) -> float:
    """How many of the cells hold this word and no more, capitals or not, as spreadsheets
    compare.
    """
    return float(sum(equal(value, word) for value in values))


@spreadsheet("LARGE", turned=True)
def nth_largest(rank: float, *values: float) -> float:
    """The value of this rank, 1 the largest."""
    return sorted((value for value in values if not math.isnan(value)), reverse=True)[_place(rank)]


@spreadsheet("MATCH", turned=True)
def position_of(value: float, *values: float) -> float:
    """The place, counted from 1, of the first cell that holds exactly this value."""
    return float(values.index(value) + 1)


@spreadsheet("INDEX", turned=True)
def pick(position: float, *cells: R) -> R:
    """What stands at this place, counted from 1."""
    return cells[_place(position)]


def _place(counted: float) -> int:
    """Return the index of a place counted from 1; nothing stands at place 0."""
    if counted < 1:
        raise IndexError("places are counted from 1")
    return int(counted) - 1
