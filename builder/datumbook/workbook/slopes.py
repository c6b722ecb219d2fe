"""Slopes: the derivative of a value's traced tree with respect to every reading it comes from, and
to every setting these readings share.

A setting is an origin like a reading, and each of its readings has it in full: a mean does not
average it away, a difference cancels it. A value computed from other values is followed down to its
readings, so what two of them share is counted once and with its sign. A decision, such as a planned
size, has none, whatever suggested it. `largest` and `where` take the derivative of the branch
taken.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from math import isclose, pi
from typing import Any, NamedTuple, Protocol, TypeGuard

from datumbook.formulas.functions import at_least, at_most, where
from datumbook.formulas.tracing import trace_open
from datumbook.formulas.tree import BinaryOperation, Call, Cell, Formula, Number, Text, tree
from datumbook.numbers.units import factor


class Setting(NamedTuple):
    """One setting of a gauge: its group of readings, its name within it ("" for the group's own),
    and the stage in which it was read from.
    """

    group: str
    name: str
    stage: str


class Cells(Protocol):
    """What is asked of a layout here."""

    def place(self, key: str) -> Any:
        """The place of a key, with its column, its equation and its unit."""

    def cell(self, key: str) -> Cell:
        """A key as a leaf."""

    def arguments(self, key: str) -> Mapping[str, Any]:
        """What the equation of a key is called with, as leaves."""

    def leaning(self, key: str) -> Mapping[str, str] | None:
        """Of a value whose sensitivities stand in cells of their own, these cells by the reading;
        None of any other.
        """

    def setting_of(self, key: str) -> Setting | None:
        """The setting of the gauge that a reading was read with, or what else may be off by itself;
        None of any other cell.
        """

    def figure_of(self, name: str, group: str) -> str:
        """The key of one figure of the gauge of a group: uncertainty, setting, all_told or
        in_common.
        """


OF_NUMBERS: Mapping[str, Callable[[float, float], float]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
}
Coefficient = float | Formula
Origin = tuple[Setting, str]  # a setting and one of its readings, "" for the setting itself
Gradient = dict[Origin, Coefficient]


class Slope:
    """The derivative of settled trees with respect to the readings they come from.

    by_reading: each reading is asked for by name, so that the largest of several alike is the one
    that is largest; else it counts as one reading, whichever it is. Of sizes all alike the largest
    is another than the smallest, for so they are as soon as one of them is off: how far they lie
    apart is never certain.
    """

    def __init__(self, layout: Cells, by_reading: bool = False) -> None:
        self.layout, self.by_reading = layout, by_reading
        self.known: dict[str, Gradient] = {}
        self.by_equation: dict[str, Gradient] = {}

    def of_key(self, key: str) -> Gradient:
        """The gradient of a cell's number, in the cell's unit per unit of each reading.

        An outermost ABS only changes the sign of the whole, which a sum of squares does not see.
        """
        if key not in self.known:
            self.known[key] = self._of_key(key)
        return self.known[key]

    def _of_key(self, key: str) -> Gradient:
        leaning = self.layout.leaning(key)
        return self.expanded(key) if leaning is None else self._leaning(leaning)

    def _leaning(self, cells: Mapping[str, str]) -> Gradient:
        """The gradient of a value whose sensitivities stand in cells of their own."""
        found: Gradient = {}
        for reading, cell in cells.items():
            setting = self.layout.setting_of(reading)
            assert setting is not None  # only readings and influences are leaned on
            found[setting, reading] = self.layout.cell(cell)
            together = found.get((setting, ""), 0.0)
            found[setting, ""] = _plus(together, self.layout.cell(cell))
        return found

    def expanded(self, key: str) -> Gradient:
        """The gradient of a cell's number by its own equation."""
        if key not in self.by_equation:
            self.by_equation[key] = self._expanded(key)
        return self.by_equation[key]

    def _expanded(self, key: str) -> Gradient:
        place = self.layout.place(key)
        setting = self.layout.setting_of(key)
        if setting is not None and place.unit is not None:
            stated = self.layout.place(self.layout.figure_of("uncertainty", setting.group))
            one = float(factor(stated.unit or "", place.unit))
            return {(setting, ""): one, (setting, key): one}
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
            "COUNTA": lambda *_: {},
            "SIN": lambda call, one: _times(one[0], Call("COS", call.arguments)),
            "COS": lambda call, one: _times(one[0], Call("COS", (call.arguments[0] + pi / 2,))),
            "TAN": lambda call, one: _times(one[0], 1 + call * call),
            "ATAN": lambda call, one: _times(
                one[0], 1 / (1 + call.arguments[0] * call.arguments[0])
            ),
            "MAX": lambda call, them: self._of_branch(call, them, at_least),
            "MIN": lambda call, them: self._of_branch(call, them, at_most),
            "IF": _of_choice,
            "ROUND": lambda _, them: them[0],
        }
        return rules[node.name](node, inner)

    def _of_branch(
        self, call: Call, gradients: list[Gradient], reaches: Callable[[Any, Any], Any]
    ) -> Gradient:
        """Largest and smallest: every branch alike counts as one reading; else the derivative of
        the branch taken.
        """
        shapes = {_shape(each) for each in gradients}
        if len(shapes) == 1 and None not in shapes and not self.by_reading:
            among = " ".join(
                sorted({reading for each in gradients for _, reading in each if reading})
            )
            return {
                (setting, f"{call.name} {number} of {among}" if of_reading else ""): one
                for number, (setting, of_reading, one) in enumerate(shapes.pop() or ())
            }
        tried = [*zip(call.arguments, gradients, strict=True)]
        if self.by_reading and call.name == "MAX":
            tried = [*tried[1:], tried[0]]  # of sizes alike, another than the smallest
        *others, (last, found) = tried
        for argument, gradient in reversed(others):
            against = call if len(others) > 1 else last
            found = _chosen(reaches(argument, against), gradient, found)
        return found


def _shape(gradient: Gradient) -> tuple[tuple[Setting, bool, float], ...] | None:
    """What branches alike have in common: how many readings of each setting count how much; None
    where that depends on the readings.
    """
    numbers = [
        (of, bool(reading), one)
        for (of, reading), one in gradient.items()
        if isinstance(one, float)
    ]
    return tuple(sorted(numbers)) if len(numbers) == len(gradient) else None


def _of_choice(call: Call, gradients: list[Gradient]) -> Gradient:
    """A choice between numbers; where one branch is blank there is a number in the other alone."""
    test, then, otherwise = call.arguments
    if isinstance(otherwise, Text):
        return gradients[1]
    return gradients[2] if isinstance(then, Text) else _chosen(test, gradients[1], gradients[2])


def _chosen(test: Any, then: Gradient, otherwise: Gradient) -> Gradient:
    found: Gradient = {}
    for origin in {**then, **otherwise}:
        one, two = then.get(origin, 0.0), otherwise.get(origin, 0.0)
        found[origin] = _either(test, one, two)
    return found


def _sum(gradients: list[Gradient], weight: float) -> Gradient:
    found: Gradient = {}
    for each in gradients:
        found = _joined(found, each, weight)
    return found


def _joined(one: Gradient, two: Gradient, sign: float) -> Gradient:
    """A gradient and another times the sign; what cancels is left out."""
    found = dict(one)
    for origin, coefficient in two.items():
        more = coefficient if sign == 1 else _mapped(coefficient, lambda each: sign * each)
        here = found.get(origin, 0.0)
        found[origin] = both = _plus(here, more)
        if isinstance(both, float) and abs(both) <= 1e-12 * max(1.0, *map(_size, (here, more))):
            del found[origin]
    return found


def _size(one: Coefficient) -> float:
    return abs(one) if isinstance(one, float) else 0.0


def _plus(one: Coefficient, two: Coefficient) -> Coefficient:
    """The sum of two coefficients; a number goes into both branches of a choice, and two choices
    that turn on one test are one.
    """
    if isinstance(one, float):
        return _mapped(two, lambda each: one + each if one else each)
    if isinstance(two, float):
        return _mapped(one, lambda each: each + two)
    if is_choice(one) and is_choice(two) and repr(one.arguments[0]) == repr(two.arguments[0]):
        test, *branches = one.arguments
        sums = [
            _plus(bare(mine), bare(other))
            for mine, other in zip(branches, two.arguments[1:], strict=True)
        ]
        return _either(test, *sums)
    return one + two


def _either(test: Any, then: Coefficient, otherwise: Coefficient) -> Coefficient:
    """One coefficient or another as a test falls; one of two numbers alike. What is left of two
    that cancel is nothing.
    """
    numbers = [one for one in (then, otherwise) if isinstance(one, float)]
    if len(numbers) == 2 and isclose(*numbers, abs_tol=1e-12):
        return 0.0 if abs(numbers[0]) < 1e-12 else numbers[0]
    return Call("IF", (test, tree(then), tree(otherwise)))


def _number(node: Any) -> float | None:
    """What a tree of numbers alone comes to; None of any other."""
    match node:
        case Number(value):
            return value
        case BinaryOperation(mark, left, right):
            one, two = _number(left), _number(right)
            if one is not None and two is not None and mark in OF_NUMBERS:
                return OF_NUMBERS[mark](one, two)
    return None


def _one_and_square(call: Call) -> Formula:
    (ratio,) = call.arguments
    return ratio * ratio + 1


def _times(gradient: Gradient, by: Any, divide: Formula | None = None) -> Gradient:
    if (least := _number(divide)) is not None:
        return {origin: _mapped(one, lambda each: each / least) for origin, one in gradient.items()}
    if (weight := _number(by)) is not None:
        return {
            origin: _mapped(one, lambda each: each * weight) for origin, one in gradient.items()
        }
    return {
        origin: by if isinstance(one, float) and one == 1 else one * by
        for origin, one in gradient.items()
    }


def is_choice(one: Coefficient) -> TypeGuard[Call]:
    """Say whether a derivative is one number or another, as a choice falls."""
    return isinstance(one, Call) and one.name == "IF"


def bare(one: Formula) -> Coefficient:
    """A branch of a choice as a derivative."""
    return one.value if isinstance(one, Number) else one


def _mapped(one: Coefficient, change: Callable[[Any], Any]) -> Coefficient:
    """A coefficient changed; of a choice, both its branches."""
    if not is_choice(one):
        return change(one)  # type: ignore[no-any-return]
    test, then, otherwise = one.arguments
    return _either(test, _mapped(bare(then), change), _mapped(bare(otherwise), change))
