"""Uncertainty carried along: the derivative of the traced tree, reading by reading (JCGM 100, law
of propagation).

Every reading of a group has the expanded uncertainty stated for the group's instrument (zero
until stated), and readings are taken as independent. A value computed from other values is followed
down to its readings, so what two of them share is counted once and with its sign. A decision, such
as a planned size, has none, whatever suggested it. `largest` and `where` take the derivative of the
branch taken.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import hypot, pi
from typing import Any, Protocol

from datumbook.cells.columns import Reading
from datumbook.formulas.functions import (
    at_least,
    at_most,
    square_root,
    total,
    total_of_squares,
    where,
)
from datumbook.formulas.tracing import guarded, trace_open
from datumbook.formulas.tree import BinaryOperation, Call, Cell, Formula, Number, tree
from datumbook.numbers.units import factor


class Cells(Protocol):
    """What is asked of a layout here."""

    def place(self, key: str) -> Any:
        """The place of a key, with its column, its equation and its unit."""

    def cell(self, key: str) -> Cell:
        """A key as a leaf."""

    def arguments(self, key: str) -> Mapping[str, Any]:
        """What the equation of a key is called with, as leaves."""

    def uncertainty_of(self, group: str) -> str:
        """The key of the uncertainty stated for the instrument of a group."""


Coefficient = float | Formula
Gradient = dict[tuple[str, str], Coefficient]  # (group of the instrument, reading) -> derivative


def expanded_uncertainty(layout: Cells, key: str) -> Formula:
    """Return the formula of a value's expanded uncertainty, in the value's own unit."""
    gradient = Slope(layout).of_key(key)
    steady: dict[str, float] = {}
    terms: list[Formula] = []
    for (group, _), coefficient in gradient.items():
        if isinstance(coefficient, float):
            steady[group] = hypot(steady.get(group, 0.0), coefficient)
        else:
            terms.append(_term(coefficient, layout, group))
    terms = [*(_term(one, layout, group) for group, one in steady.items()), *terms]
    if not terms:
        return Number(0.0)
    if len(terms) > 1:
        terms = [tree(square_root(total_of_squares(*terms)))]  # type: ignore[arg-type]
    elif not steady:
        terms = [abs(terms[0])]
    return guarded(terms[0], {layout.uncertainty_of(group) for group, _ in gradient})


def _term(coefficient: Coefficient, layout: Cells, group: str) -> Formula:
    """One term: the derivative times the group's stated uncertainty, a blank one counting as
    zero.
    """
    stated = tree(total(layout.cell(layout.uncertainty_of(group))))  # type: ignore[arg-type]
    return stated if isinstance(coefficient, float) and coefficient == 1 else coefficient * stated


class Slope:
    """The derivative of settled trees with respect to the readings they come from."""

    def __init__(self, layout: Cells) -> None:
        self.layout = layout
        self.known: dict[str, Gradient] = {}

    def of_key(self, key: str) -> Gradient:
        """The gradient of a cell's number, in the cell's unit per unit of each reading.

        An outermost ABS only changes the sign of the whole, which a sum of squares does not see.
        """
        if key not in self.known:
            self.known[key] = self._of_key(key)
        return self.known[key]

    def _of_key(self, key: str) -> Gradient:
        place = self.layout.place(key)
        if isinstance(place.column, Reading) and place.column.group and place.unit is not None:
            stated = self.layout.place(self.layout.uncertainty_of(place.column.group))
            return {(place.column.group, key): float(factor(stated.unit or "", place.unit))}
        if place.equation is None or getattr(place.equation, "decided", False):
            return {}
        node = trace_open(place.equation, self.layout.arguments(key), place.traced_unit)
        return self.of(node.arguments[0] if isinstance(node, Call) and node.name == "ABS" else node)

    def of(self, node: Formula) -> Gradient:
        """The gradient of a tree."""
        match node:
            case Cell(key, word):
                return self.of_key(key) if word is not None else {}
            case BinaryOperation("+", left, right):
                return _joined(self.of(left), self.of(right), 1.0)
            case BinaryOperation("-", left, right):
                return _joined(self.of(left), self.of(right), -1.0)
            case BinaryOperation("*", left, right):
                return _joined(_times(self.of(left), right), _times(self.of(right), left), 1.0)
            case BinaryOperation("/", left, right):
                below = _times(_times(self.of(right), left), 1 / (right * right))
                return _joined(_times(self.of(left), 1 / right, divide=right), below, -1.0)
            case BinaryOperation("^", left, right):
                return _times(self.of(left), right * left ** (right - 1))
            case Call():
                return self._of_call(node)
        return {}

    def _of_call(self, node: Call) -> Gradient:
        inner = [self.of(argument) for argument in node.arguments]
        if not any(inner):
            return {}
        rules: dict[str, Callable[[Call, list[Gradient]], Gradient]] = {
            "SUM": lambda _, all_of_them: _sum(all_of_them, 1.0),
            "AVERAGE": lambda _, all_of_them: _sum(all_of_them, 1.0 / len(all_of_them)),
            "ABS": lambda call, one: _times(one[0], where(at_least(call.arguments[0], 0), 1, -1)),  # type: ignore[arg-type]
            "SQRT": lambda call, one: _times(one[0], 1 / (2 * call)),
            "COUNT": lambda *_: {},
            "COS": lambda call, one: _times(one[0], Call("COS", (call.arguments[0] + pi / 2,))),
            "TAN": lambda call, one: _times(one[0], 1 + call * call),
            "MAX": lambda call, them: _of_branch(call, them, at_least),
            "MIN": lambda call, them: _of_branch(call, them, at_most),
            "IF": lambda call, them: _of_choice(call, them),
            "ROUND": lambda _, them: them[0],
        }
        return rules[node.name](node, inner)


def _of_branch(
    call: Call, gradients: list[Gradient], reaches: Callable[[Any, Any], Any]
) -> Gradient:
    """Largest and smallest: every branch alike counts as one reading; else the derivative of the
    branch taken.
    """
    shapes = {
        tuple(sorted((group, one) for (group, _), one in each.items() if isinstance(one, float)))
        for each in gradients
    }
    if len(shapes) == 1 and all(
        isinstance(one, float) for each in gradients for one in each.values()
    ):
        among = " ".join(sorted({reading for each in gradients for _, reading in each}))
        return {
            (group, f"{call.name} {number} of {among}"): one
            for number, (group, one) in enumerate(shapes.pop())
        }
    taken = [
        _times(each, where(reaches(argument, call), 1, 0))
        for each, argument in zip(gradients, call.arguments, strict=True)
    ]
    return _sum(taken, 1.0)


def _of_choice(call: Call, gradients: list[Gradient]) -> Gradient:
    test, _, _ = call.arguments
    _, then, otherwise = gradients
    found: Gradient = {}
    for reading in {**then, **otherwise}:
        one, two = then.get(reading, 0.0), otherwise.get(reading, 0.0)
        alike = isinstance(one, float) and isinstance(two, float) and one == two
        found[reading] = one if alike else Call("IF", (test, tree(one), tree(two)))
    return found


def _sum(gradients: list[Gradient], weight: float) -> Gradient:
    found: Gradient = {}
    for each in gradients:
        found = _joined(found, each, weight)
    return found


def _joined(one: Gradient, two: Gradient, sign: float) -> Gradient:
    found = dict(one)
    for reading, coefficient in two.items():
        more = coefficient if sign == 1 else sign * coefficient
        found[reading] = found[reading] + more if reading in found else more
    return found


def _times(gradient: Gradient, by: Any, divide: Formula | None = None) -> Gradient:
    if isinstance(divide, Number):
        return {reading: one / divide.value for reading, one in gradient.items()}
    factor = by.value if isinstance(by, Number) else by
    return {
        reading: factor if isinstance(one, float) and one == 1 else one * factor
        for reading, one in gradient.items()
    }
