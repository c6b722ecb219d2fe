"""A computed value explained: its formula in the trade's signs, once with words in it and once with
the numbers put in.

The formula is the tree that the workbook's formula is spelled from, written for people: × − ÷ √,
bars for the size of a difference, the words of functions.py for the rest. The blank guard and the
round-off guard are left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import isclose, pi
from typing import Any

from datumbook.cells.columns import Sensitivity, Uncertainty
from datumbook.equations.openings import place_among, value_at
from datumbook.equations.standings import said_again, shown_again, words_at
from datumbook.formulas.spelling import ATOM, RANK
from datumbook.formulas.ties import TIE_PULL
from datumbook.formulas.tracing import parameters, trace_by_names, trace_open
from datumbook.formulas.tree import BinaryOperation, Call, Cell, Formula, Number, Test, Text, cells
from datumbook.numbers.printing import figures, signed, with_unit
from datumbook.numbers.rounding import GUARD_DIGITS
from datumbook.numbers.units import COUNT
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.printed import printed, printer

ValuesByKey = Mapping[str, object]
Spelled = tuple[str, int]  # the text and how tightly it holds together, as RANK and ATOM count

OPERATOR_SIGNS = {"+": "+", "-": "−", "*": "×", "/": "÷", "<=": "≤", ">=": "≥", "<>": "≠"}
POWERS = {2.0: "²", 3.0: "³"}
FUNCTION_WORDS = {
    "MAX": "largest",
    "MIN": "smallest",
    "AVERAGE": "mean",
    "COUNT": "numbers in",
    "COUNTA": "cells filled of",
    "COUNTIF": "cells saying",
    "LARGE": "nth largest",
    "INDEX": "pick",
    "INT": "whole steps of",
    "MATCH": "position of",
}
FORMULA_FIGURES = 7  # of a number of the formula itself
LOOSE = 0  # a test or a choice: bracketed wherever it is an operand
FEW_VALUES = 12  # values of a group that are written out; of more, the first and the last
REPEATED = (said_again, shown_again)
CHOSEN = (place_among, value_at, words_at)  # a figure of a table, as one of the spec is
UNKNOWN = "?"


def with_numbers(layout: Layout, key: str, values: ValuesByKey, *bounds: object) -> str:
    """Return a value with its formula and the numbers put in: `|82.178 − 82.121| mm = 0.057 mm`.

    A reading or a figure of the spec is its value alone. Where every number is in the unit of the
    result the unit is written once, else beside each number. A number that is not there is `?`.
    Beside one of the bounds the value has the decimals that keep it on its side. Raises LayoutError
    for an unknown key.
    """
    place = layout.place(key)
    said = signed(printed(values.get(key), place, *bounds))
    if not layout.has_formula(key) or place.equation in CHOSEN:
        return said
    node = open_tree(layout, key)
    units = {cell.unit for cell in cells(node)} - {"", COUNT, None}
    alike = units <= {place.unit}
    text, rank = Writing(
        lambda cell: _number(layout.place(cell.key), values.get(cell.key), not alike)
    ).write(node)
    if alike and units and place.unit:
        text = with_unit(text if rank == ATOM else f"[{text}]", place.unit)
    return f"{text} = {said}"


def in_signs(equation: Callable[..., Any]) -> str:
    """Return an equation's formula with the names of its arguments: `out of round = |thrust −
    axial|`.
    """
    writing = Writing(lambda cell: (_plain(cell.key), ATOM), parameters(equation)[1])
    text, _ = writing.write(trace_by_names(equation))
    return f"{_plain(equation.__name__)} = {text}"


def steps(layout: Layout, key: str, values: ValuesByKey) -> Iterator[tuple[Place, str]]:
    """Yield the results that a value rests on, the first to be worked out first, each with its
    numbers put in.
    """
    met: set[str] = {key}
    yield from _below(layout, key, values, met)


def _below(
    layout: Layout, key: str, values: ValuesByKey, met: set[str]
) -> Iterator[tuple[Place, str]]:
    given = (
        one
        for each in layout.place(key).inputs.values()
        for one in (each if isinstance(each, list) else [each])
    )
    for below in given:
        if not isinstance(below, str) or below in met or not layout.has_formula(below):
            continue
        met.add(below)
        if layout.place(below).equation in CHOSEN:
            continue
        yield from _below(layout, below, values, met)
        if layout.place(below).equation not in REPEATED:
            yield layout.place(below), with_numbers(layout, below, values)


def open_tree(layout: Layout, key: str) -> Formula:
    """Return the settled tree of a computed key without its blank guard."""
    place = layout.place(key)
    if isinstance(place.column, Uncertainty | Sensitivity) or place.equation is None:
        match node := layout.tree(key):
            case Call("IF", (Test(_, Call("COUNT", _), _), inner, Text(""))):
                return inner
        return node
    return trace_open(place.equation, layout.arguments(key), place.traced_unit)


def _number(place: Place, value: object, unit_beside: bool) -> Spelled:
    """One cell's value as the cell shows it."""
    if isinstance(value, str) and value:
        return f"“{value}”", ATOM
    if isinstance(value, bool) or not isinstance(value, int | float):
        return UNKNOWN, ATOM
    shown = printer(place)
    return signed((shown.quantity if unit_beside else shown.number)(value)), RANK[
        "+"
    ] if value < 0 else ATOM


def _plain(name: str) -> str:
    return name.replace("_", " ")


class Writing:
    """Writes a settled tree for people; `leaf` says what stands in the place of a cell, `group`
    which is many in one.
    """

    def __init__(self, leaf: Callable[[Cell], Spelled], group: str | None = None) -> None:
        self.leaf = leaf
        self.group = group

    def write(self, node: Formula) -> Spelled:
        """Return the text of a tree and how tightly it holds together."""
        match node:
            case Cell():
                return self.leaf(node)
            case Number(value):
                return signed(figures(value, FORMULA_FIGURES)), RANK["+"] if value < 0 else ATOM
            case Text(words):
                return f"“{words}”" if words else "blank", ATOM
            case BinaryOperation("^", base, Number(power)) if power in POWERS:
                return f"{self.operand(base, ATOM)}{POWERS[power]}", RANK["^"]
            case BinaryOperation(mark, left, right):
                sign = OPERATOR_SIGNS.get(mark, mark)
                return (
                    f"{self.operand(left, RANK[mark])} {sign} "
                    f"{self.operand(right, RANK[mark] + 1)}",
                    RANK[mark],
                )
            case Test(_, Call("COUNT", counted), _):
                return f"{self._listed(counted)} is blank", LOOSE
            case Test(_, left, Text("")):
                return f"{self.operand(left, 1)} is blank", LOOSE
            case Test(mark, left, right):
                sign = OPERATOR_SIGNS.get(mark, mark)
                return f"{self.operand(left, 1)} {sign} {self.operand(right, 1)}", LOOSE
            case Call("ABS", (value,)):
                return f"|{self.operand(value, 1)}|", ATOM
            case Call("SQRT", (value,)):
                return f"√{self.operand(value, ATOM)}", ATOM
            case Call("SUM", (value,)) if self.group in {cell.key for cell in cells(value)}:
                return f"total({self.write(value)[0]})", ATOM
            case Call("SUM", (value,)):
                return self.write(value)
            case Call("SUM", added):
                return " + ".join(self.operand(one, RANK["+"]) for one in added), RANK["+"]
            case Call("AND" | "OR" as name, tests):
                return f" {name.lower()} ".join(self.operand(one, 1) for one in tests), LOOSE
            case Call("TAN" | "SIN" | "COS" as name, (angle,)):
                return f"{name.lower()}({self.write(_in_degrees(angle))[0]})", ATOM
            case Call(
                "ROUND", (BinaryOperation("+", value, BinaryOperation("/", _, Number(of))), at)
            ) if of == TIE_PULL:
                places = self.write(at)[0]
                return f"rounded({self.write(value)[0]}, {places} places, a tie to even)", ATOM
            case Call("ROUND", (value, places)):
                rounded = self.write(_unguarded(value))[0]
                return f"rounded({rounded}, {self.write(places)[0]} places)", ATOM
            case Call("IF", (test, then, otherwise)):
                return (
                    f"{self.operand(then, 1)} if {self.write(test)[0]}, otherwise "
                    f"{self.write(otherwise)[0]}",
                    LOOSE,
                )
            case Call(name, arguments):
                return f"{FUNCTION_WORDS[name]}({self._listed(arguments)})", ATOM
        raise TypeError(f"{type(node).__name__} must be settled by tracing before it is written")

    def operand(self, node: Formula, least: int) -> str:
        """Return the text of a tree, bracketed where it would fall apart."""
        text, rank = self.write(node)
        return text if rank >= least else f"({text})"

    def _listed(self, arguments: Sequence[Formula]) -> str:
        if len(arguments) <= FEW_VALUES:
            return ", ".join(self.write(one)[0] for one in arguments)
        first, last = (self.write(one)[0] for one in (arguments[0], arguments[-1]))
        return f"{first}, … {len(arguments) - 2} more …, {last}"


def _in_degrees(angle: Formula) -> Formula:
    """An angle without the factor that turns it into radians."""
    match angle:
        case BinaryOperation("*", inner, Number(turned)) if isclose(turned, pi / 180):
            return inner
    return angle


def _unguarded(value: Formula) -> Formula:
    """What is rounded, without the round-off guard inside it."""
    match value:
        case Call("ROUND", (inner, Number(digits))) if digits == GUARD_DIGITS:
            return inner
    return value
