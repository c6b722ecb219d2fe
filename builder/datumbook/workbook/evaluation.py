"""The other road to the same numbers: every value of a book worked out in Python from its readings.

Readings and given figures are turned into one coherent set of units, the plain equation is called
with floats, and its result is turned into the cell's unit. No formula text is read here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from operator import add, eq, mul, sub, truediv
from typing import Any

from datumbook.cells.columns import Sensitivity, Uncertainty
from datumbook.effort import spend
from datumbook.formulas.functions import BODIES, at_least, at_most, equal, less_than, more_than
from datumbook.formulas.tracing import called
from datumbook.formulas.tree import BinaryOperation, Call, Cell, Formula, Number, Test, Text
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import from_coherent, to_coherent
from datumbook.workbook.layout import LAID_OUT, Layout
from datumbook.workbook.placed import Place, Resolved

Value = float | str | None
Values = dict[str, Value]


class Breakdown:
    """An equation that broke down on its numbers, as #DIV/0! does in a cell; downstream it counts
    as missing.
    """


FAULT = Breakdown()
BROKEN = "error"  # what an equation is called with for words that broke down
OF_TWO: dict[str, Callable[[float, float], float]] = {
    "+": add,
    "-": sub,
    "*": mul,
    "/": truediv,
    "^": lambda left, right: float(left**right),
    "=": eq,
    "<=": at_most,
    "<": less_than,
    ">=": at_least,
    ">": more_than,
}


def reckon(
    layout: Layout,
    readings: Mapping[str, object],
    known: Mapping[str, Value | Breakdown] | None = None,
) -> dict[str, Value | Breakdown]:
    """Return the value of every key: a number in its cell's unit, words, None where blank, FAULT
    where it broke down.

    known: values that stand as they are, for readings of which only a few have changed.

    A reading that is not of its cell's kind (words where a number is wanted, a date) counts as
    missing.
    """
    return _Reckoning(layout, readings, known or {}).all()


class AsTyped(Mapping[str, Value | Breakdown]):
    """The values of a book, were these its readings: each worked out when it is asked for, and what
    it is worked out from with it.

    known: as reckon.
    """

    def __init__(
        self, layout: Layout, readings: Mapping[str, object], known: Mapping[str, Value | Breakdown]
    ) -> None:
        self.layout, self._reckoning = layout, _Reckoning(layout, readings, known)

    def __getitem__(self, key: str) -> Value | Breakdown:
        if key not in self.layout.places:
            raise KeyError(key)
        return self._reckoning.value(key)

    def __iter__(self) -> Iterator[str]:
        return iter(self.layout.places)

    def __len__(self) -> int:
        return len(self.layout.places)


class _Reckoning:
    def __init__(
        self, layout: Layout, readings: Mapping[str, object], known: Mapping[str, Value | Breakdown]
    ) -> None:
        self.layout = layout
        self.readings = readings
        self.values: dict[str, Value | Breakdown] = dict(known)
        self.coherent: dict[str, Any] = {}

    def all(self) -> dict[str, Value | Breakdown]:
        for key in self.layout.places:
            self.value(key)
        return self.values

    def value(self, key: str) -> Value | Breakdown:
        if key in self.values:
            return self.values[key]
        spend(20, LAID_OUT)
        found = self.values[key] = self._worked(self.layout.place(key))
        return found

    def _worked(self, place: Place) -> Value | Breakdown:
        if place.role == "reading":
            return fitting(place, self.readings.get(place.key))
        if place.role == "given":
            return place.value
        if isinstance(place.column, Uncertainty | Sensitivity):
            return self._of_tree(place.key)
        assert place.equation is not None
        return self._equation(place)

    def _equation(self, place: Place) -> Value | Breakdown:
        equation = place.equation
        assert equation is not None
        blanks = getattr(equation, "takes_blanks", False)
        arguments = {name: self._argument(given, blanks) for name, given in place.inputs.items()}
        if not blanks and any(one is None for given in arguments.values() for one in _each(given)):
            return "" if place.unit is None else None
        try:
            found = called(equation, arguments)
        except (ArithmeticError, ValueError, IndexError):
            return FAULT
        if isinstance(found, str) or found is None or place.unit is None:
            return found or None if place.unit is not None else found or ""
        shown = from_coherent(found, place.unit) if _is_number(found) else math.nan
        return shown if math.isfinite(shown) else FAULT

    def _argument(self, given: Resolved, blanks: bool) -> Any:
        if isinstance(given, list):
            return [self._argument(one, blanks) for one in given]
        if isinstance(given, Quantity):
            return to_coherent(given.to(given.unit), given.unit)
        if given not in self.coherent:
            self.coherent[given] = self._coherent(given)
        found = self.coherent[given]
        return math.nan if found is None and blanks else found

    def _coherent(self, key: str) -> float | str | None:
        """A key's value in the coherent set of units, words as they are; None where a number is
        missing. Words that broke down are not blank: a blank verdict passes.
        """
        value, unit = self.value(key), self.layout.place(key).unit
        if unit is None:
            return BROKEN if value is FAULT else value if isinstance(value, str) else ""
        return to_coherent(value, unit) if isinstance(value, float) else None

    def _of_tree(self, key: str) -> Value | Breakdown:
        functions = self.layout.functions
        if key not in functions:
            functions[key] = as_function(self.layout.tree(key))
        try:
            found = functions[key](self.value)
            return found if found is None or isinstance(found, str) or _is_number(found) else FAULT
        except (ArithmeticError, ValueError, IndexError):
            return FAULT


def as_function(node: Formula) -> Callable[[Callable[[str], object]], Any]:
    """A tree as a function of what its cells hold, each asked for by its key."""
    match node:
        case Number(value):
            return lambda _: value
        case Text(words):
            return lambda _: words or None
        case Cell(key, None):
            return lambda ask: found if isinstance(found := ask(key), str) else ""
        case Cell(key, _):
            return lambda ask: found if isinstance(found := ask(key), float) else math.nan
        case Test("=", left, Text(word)):
            said = as_function(left)
            return lambda ask: equal(said(ask), word)
        case Test(mark, left, right) | BinaryOperation(mark, left, right):
            of_two, one, two = OF_TWO[mark], as_function(left), as_function(right)
            return lambda ask: of_two(one(ask), two(ask))
        case Call("IF", arguments):
            test, (then, otherwise) = as_function(arguments[0]), map(_Later, arguments[1:])
            return lambda ask: then(ask) if test(ask) else otherwise(ask)
        case Call(name, arguments):
            body, each = BODIES[name], [*map(as_function, arguments)]
            return lambda ask: body(*[one(ask) for one in each])
    raise TypeError(f"{type(node).__name__} has no value")


class _Later:
    """A branch as a function that is made once it is taken: of a book without readings few are."""

    def __init__(self, node: Formula) -> None:
        self.node = node

    @cached_property
    def function(self) -> Callable[[Callable[[str], object]], Any]:
        return as_function(self.node)

    def __call__(self, ask: Callable[[str], object]) -> Any:
        return self.function(ask)


def fitting(place: Place, typed: object) -> Value:
    """Return what a cell of this kind takes from what was typed: a number, words, or None."""
    number = isinstance(typed, int | float) and not isinstance(typed, bool)
    if place.unit is None:
        return f"{typed:.15g}" if number else typed or None if isinstance(typed, str) else None
    return float(typed) if number else None  # type: ignore[arg-type]


def _is_number(found: Any) -> bool:
    """Say whether a cell could hold this: no nan, no infinity, no root of a negative number."""
    return isinstance(found, int | float) and math.isfinite(found)


def _each(given: Any) -> list[Any]:
    return given if isinstance(given, list) else [given]
