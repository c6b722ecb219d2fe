"""An equation called with cells: the tree it leaves, its units settled and its blanks guarded.

`trace` is the single place that passes cells where floats are declared. It checks every dimension,
writes a conversion factor only where two units meet, and wraps the blank guard that the tree itself
demands.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Container, Mapping, Sequence
from fractions import Fraction
from functools import cache
from inspect import Parameter, signature
from typing import Any, NoReturn

from datumbook.formulas.kinds import kinds_of
from datumbook.formulas.tree import (
    BinaryOperation,
    Call,
    Cell,
    Formula,
    InUnit,
    Number,
    OfUnit,
    TakenAs,
    Test,
    Text,
    cells,
    tree,
)
from datumbook.numbers.units import (
    BARE,
    COUNT,
    Unit,
    UnitError,
    coherent_word,
    exponents,
    named,
    unit,
)

Arguments = Mapping[str, Formula | Sequence[Formula]]
Settled = tuple[Formula, Unit | None]

PLAIN = Unit("", BARE, Fraction(1))
# of a number written into an equation: it may count, or be bare
AS_WRITTEN = Unit("", BARE, Fraction(1))
RADIAN, COUNTED = unit("rad"), unit(COUNT)
UNIT_OF_CALL = {"AND": None, "OR": None, "COUNT": COUNTED, "COUNTA": COUNTED, "COUNTIF": COUNTED}
CONVERTIBLE = {BARE, RADIAN.exponents, COUNTED.exponents}  # what `taken_as` turns into one another


class DimensionError(TypeError):
    """Two units that cannot meet inside an equation; the message names the equation, the argument
    and both units.
    """


def trace(equation: Callable[..., Any], arguments: Arguments, gives: str | None) -> Formula:
    """Call an equation with cells and return its formula, its result in the unit `gives` (None for
    words).

    Raises DimensionError when a cell is not of the kind its parameter names, when two units cannot
    meet inside, or when the result is not of the kind the equation promises.
    """
    settled = trace_open(equation, arguments, gives)
    return settled if getattr(equation, "takes_blanks", False) else guarded(settled)


def trace_open(equation: Callable[..., Any], arguments: Arguments, gives: str | None) -> Formula:
    """As trace, without the blank guard."""
    kinds = kinds_of(equation)
    for name, given in arguments.items():
        for leaf in [given] if isinstance(given, Formula) else given:
            _is_of_kind(equation, name, leaf, kinds[name])
    settled, found = Settling(equation.__name__, arguments).settle(
        tree(called(equation, arguments))
    )
    return _in(settled, found, gives, equation.__name__, kinds["return"])


def trace_by_names(equation: Callable[..., Any]) -> Formula:
    """As trace_open, with one cell for each parameter: its key is the parameter's name, its unit
    that of the coherent set. A group that comes in pairs is one pair, both called by its name.
    """
    units = {
        name: None if kind == "words" else coherent_word(kind)
        for name, kind in kinds_of(equation).items()
    }
    gives, (_, group, _) = units.pop("return"), parameters(equation)
    leaves = {name: Cell(name, word) for name, word in units.items()}
    each = 2 if getattr(equation, "in_pairs", False) else 1
    given = {name: [leaf] * each if name == group else leaf for name, leaf in leaves.items()}
    return trace_open(equation, given, gives)


def called(equation: Callable[..., Any], arguments: Mapping[str, Any]) -> Any:
    """Call an equation by parameter names; a parameter written *name takes its whole group."""
    before, group, after = parameters(equation)
    return equation(
        *(arguments[name] for name in before),
        *(arguments[group] if group else ()),
        **{name: arguments[name] for name in after if name in arguments},
    )


@cache
def parameters(equation: Callable[..., Any]) -> tuple[tuple[str, ...], str | None, tuple[str, ...]]:
    """Return an equation's parameters: those before its *group, the group's name, those after
    it.
    """
    names: dict[Any, list[str]] = defaultdict(list)
    for name, parameter in signature(equation).parameters.items():
        names[parameter.kind].append(name)
    return (
        tuple(names[Parameter.POSITIONAL_OR_KEYWORD]),
        next(iter(names[Parameter.VAR_POSITIONAL]), None),
        tuple(names[Parameter.KEYWORD_ONLY]),
    )


def cells_of(given: Formula | Sequence[Formula]) -> list[Cell]:
    """Return the cells among what was given for one parameter."""
    each = [given] if isinstance(given, Formula) else given
    return [one for one in each if isinstance(one, Cell)]


def guarded(settled: Formula, apart_from: Container[str] = (), value: Any = None) -> Formula:
    """Wrap a formula so that it stays blank until every number it needs is there.

    Cells in `apart_from` may stay blank. With a `value`, the cell whose formula this serves, what
    one branch of a choice needs is there when the value is.
    """
    needed = cells(settled)
    if value is not None and len(always := cells(settled, in_branches=False)) < len(needed):
        needed = [value, *always]
    numbers = [cell for cell in needed if cell.unit is not None and cell.key not in apart_from]
    if not numbers:
        return settled
    all_there = Test("=", Call("COUNT", tuple(numbers)), Number(float(len(numbers))))
    return Call("IF", (all_there, settled, Text("")))


def _is_of_kind(equation: Callable[..., Any], name: str, leaf: Formula, kind: str) -> None:
    if isinstance(leaf, Cell | OfUnit) and not _fits(leaf.unit, kind):
        called = leaf.key if isinstance(leaf, Cell) else "what is given"
        raise DimensionError(
            f"{equation.__name__} wants {name} as {named(kind)}; {called} is in "
            f"{'words' if leaf.unit is None else named(leaf.unit)}."
        )


@cache
def _fits(word: str | None, kind: str) -> bool:
    """Say whether a cell in this unit (None for words) is of a kind."""
    if word is None or kind in {"words", "any"}:
        return (word is None) == (kind == "words")
    return unit(word).exponents == exponents(kind)


def _in(
    settled: Formula, found: Unit | None, gives: str | None, equation: str, kind: str
) -> Formula:
    if found is None or gives is None:
        if kind != "words" or gives is not None:
            raise DimensionError(
                f"{equation} promises {named(kind)} and gives words, or the other way."
            )
        return settled
    if found is AS_WRITTEN and kind == COUNTED.dimension:
        found = COUNTED
    if kind != "any" and found.exponents != exponents(kind):
        raise DimensionError(f"{equation} promises {named(kind)} and gives {found.named}.")
    try:
        return converted(settled, found, unit(gives))
    except UnitError as refusal:
        raise DimensionError(f"{equation}: {refusal}") from refusal


def converted(node: Formula, here: Unit, there: Unit) -> Formula:
    """Return the node turned from one unit into another, with a factor only where the units
    differ.
    """
    if here is there:
        return node
    if here.exponents != there.exponents:
        raise UnitError(f"{here.named} cannot be turned into {there.named}")
    if here.zero is not None and there.zero is not None and here.zero != there.zero:
        node = node - float(here.zero) if here.zero else node
        node = _scaled(node, here.factor / there.factor)
        return node + float(there.zero) if there.zero else node
    return _scaled(node, here.factor / there.factor)


def _scaled(node: Formula, ratio: Fraction) -> Formula:
    if isinstance(node, Text) or f"{float(ratio):.15g}" == "1":
        return node  # a root of a unit's square comes back with its last bit astray
    if isinstance(node, Number):
        return Number(float(Fraction(node.value) * ratio))
    if (
        isinstance(node, Call) and node.name == "IF"
    ):  # each branch by itself: one of them may be blank
        test, then, otherwise = node.arguments
        return Call("IF", (test, _scaled(then, ratio), _scaled(otherwise, ratio)))
    if _short(ratio) or not _short(1 / ratio):
        return BinaryOperation("*", node, Number(float(ratio)))
    return BinaryOperation("/", node, Number(float(1 / ratio)))


def _short(ratio: Fraction) -> bool:
    """Say whether a number is exact in the 15 digits a formula may hold."""
    return Fraction(f"{float(ratio):.15g}") == ratio


class Settling:
    """One walk over a tree, giving each node its unit and each meeting of two units its factor."""

    def __init__(self, equation: str, arguments: Arguments) -> None:
        self.equation = equation
        self.names = {
            cell.key: name
            for name, given in reversed(list(arguments.items()))  # of two, the first names it
            for cell in cells_of(given)
        }

    def settle(self, node: Formula) -> Settled:
        """Return the node with its units settled, and its unit (None for words and tests)."""
        match node:
            case Cell(_, word):
                return node, None if word is None else unit(word)
            case Number():
                return node, AS_WRITTEN
            case BinaryOperation("+" | "-", _, _):
                return self._sum(node)
            case BinaryOperation():
                return self._product(node)
            case Call():
                return self._call(node)
            case Test(mark, left, right):
                return Test(mark, *self._together(left, right)[:2]), None
            case InUnit(quantity, word):
                return self._as(quantity, unit(word)), PLAIN
            case OfUnit(number, word):
                return self._as(number, PLAIN), unit(word)
            case TakenAs(quantity, kind):
                return self._taken_as(quantity, kind)
        return node, None

    def _taken_as(self, quantity: Formula, kind: str) -> Settled:
        settled, found = self.settle(quantity)
        if found is None or not {found.exponents, exponents(kind)} <= CONVERTIBLE:
            self._refuse(quantity, "only an angle, a count or a bare number is taken as another")
        return settled, Unit(found.word, exponents(kind), found.factor)

    def _sum(self, node: BinaryOperation) -> Settled:
        left, right, shared = self._together(node.left, node.right)
        if shared is not None and shared.zero is not None:
            if node.mark == "+":
                self._refuse(node, "a temperature can be subtracted from another, not added to it")
            shared = Unit(shared.word, shared.exponents, shared.factor)
        return BinaryOperation(node.mark, left, right), shared

    def _product(self, node: BinaryOperation) -> Settled:
        (left, one), (right, two) = self.settle(node.left), self.settle(node.right)
        if one is None or two is None or one.zero is not None or two.zero is not None:
            self._refuse(node, "words and temperature scales cannot be multiplied")
        if node.mark == "^":
            return BinaryOperation("^", left, right), self._power(node, one, right, two)
        return BinaryOperation(node.mark, left, right), one * two if node.mark == "*" else one / two

    def _power(self, node: BinaryOperation, base: Unit, power: Formula, of: Unit) -> Unit:
        if of.exponents != BARE:
            self._refuse(node, "a power must be a bare number")
        if base.exponents == BARE and base.factor == 1:
            return PLAIN
        if not isinstance(power, Number):
            self._refuse(
                node, "a measured size can only be raised to a number known when the book is built"
            )
        return self._root(node, base, Fraction(power.value).limit_denominator(24))

    def _root(self, node: Formula, base: Unit, power: Fraction) -> Unit:
        raised = base**power
        if any(one.denominator > 1 for one in raised.exponents[-2:]):
            self._refuse(node, f"there is no root of {base.named}; say what it is taken_as")
        return raised

    def _call(self, node: Call) -> Settled:
        name, arguments = node.name, node.arguments
        match name:
            case "MAX" | "MIN" | "SUM" | "AVERAGE" | "ABS":
                return self._same(name, arguments)
            case "SQRT":
                call, shared = self._same(name, arguments)
                return call, shared and self._root(node, shared, Fraction(1, 2))
            case "TAN" | "SIN" | "COS" | "ATAN":
                taken, gives = (PLAIN, RADIAN) if name == "ATAN" else (RADIAN, PLAIN)
                return Call(name, (self._as(arguments[0], taken),)), gives
            case "IF":
                then, otherwise, shared = self._together(arguments[1], arguments[2])
                return Call("IF", (self.settle(arguments[0])[0], then, otherwise)), shared
            case "LARGE" | "INDEX":
                call, shared = self._same(name, arguments[:-1])
                return Call(name, (*call.arguments, self._as(arguments[-1], COUNTED))), shared
            case "MATCH":
                return self._same("MATCH", arguments)[0], COUNTED
        settled = tuple(self.settle(argument)[0] for argument in arguments)
        return Call(name, settled), UNIT_OF_CALL.get(name, PLAIN)

    def _same(self, name: str, arguments: Sequence[Formula]) -> tuple[Call, Unit | None]:
        settled = [self.settle(argument) for argument in arguments]
        shared = next((found for _, found in settled if found is not AS_WRITTEN), AS_WRITTEN)
        return Call(name, tuple(self._to(one, found, shared) for one, found in settled)), shared

    def _together(self, left: Formula, right: Formula) -> tuple[Formula, Formula, Unit | None]:
        (one, here), (two, there) = self.settle(left), self.settle(right)
        if here is None or there is None:
            return one, two, here or there
        if _yields(one, here, there):
            return one, two, there
        if _yields(two, there, here):
            return one, two, here
        return one, self._to(two, there, here), here

    def _as(self, node: Formula, there: Unit) -> Formula:
        settled, here = self.settle(node)
        return self._to(settled, here or PLAIN, there)

    def _to(self, node: Formula, here: Unit | None, there: Unit | None) -> Formula:
        if there is None or (here is not None and _yields(node, here, there)):
            return node
        try:
            return converted(node, here or PLAIN, there)
        except UnitError as refusal:
            raise DimensionError(f"{self.equation}: {self._called(node)}: {refusal}.") from refusal

    def _called(self, node: Formula) -> str:
        names = dict.fromkeys(self.names.get(cell.key, cell.key) for cell in cells(node))
        return " and ".join(names) or "a number in it"

    def _refuse(self, node: Formula, why: str) -> NoReturn:
        raise DimensionError(f"{self.equation}: {self._called(node)}: {why}.")


def _yields(node: Formula, here: Unit, there: Unit) -> bool:
    """Say whether a bare number passes as it stands: 0 in any unit, one written here as a count."""
    if isinstance(node, Number) and node.value == 0:
        return here.exponents == BARE
    return here is AS_WRITTEN and there.exponents == COUNTED.exponents
