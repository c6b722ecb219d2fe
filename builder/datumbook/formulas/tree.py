"""The tree an equation leaves behind when it is called with cells instead of numbers.

A tree knows nothing of spelling and nothing of addresses. It refuses everything a spreadsheet could
not repeat (truth, ``==``, ``float()``, ``round()``, iteration), and each refusal says which word to
use instead.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NoReturn


class MisuseError(TypeError):
    """An equation asked a traced value for something only a number can do."""


Arithmetic = Callable[["Formula", object], "BinaryOperation"]


def _operation(mark: str) -> tuple[Arithmetic, Arithmetic]:
    """What a node does at a sign of arithmetic, standing before it and standing behind it."""
    return (
        lambda node, other: BinaryOperation(mark, node, tree(other)),
        lambda node, other: BinaryOperation(mark, tree(other), node),
    )


def _refused(sentence: str) -> Callable[..., NoReturn]:
    """What a node does where it is asked for something only a number can do."""

    def refuse(*_asked: object) -> NoReturn:
        raise MisuseError(sentence)

    return refuse


@dataclass(frozen=True, slots=True, eq=False)
class Formula:
    """A node of the tree; arithmetic with it makes bigger trees."""

    __add__, __radd__ = _operation("+")
    __sub__, __rsub__ = _operation("-")
    __mul__, __rmul__ = _operation("*")
    __truediv__, __rtruediv__ = _operation("/")
    __pow__, __rpow__ = _operation("^")

    def __abs__(self) -> Call:
        return Call("ABS", (self,))

    def __neg__(self) -> BinaryOperation:
        return BinaryOperation("-", Number(0.0), self)

    __bool__ = _refused(
        "A cell is neither true nor false when the book is built: use where(test, a, b) for `if`, "
        "all_of or any_of for `and` and `or`."
    )
    __eq__ = _refused(
        "A cell cannot be compared with ==: use equal(choice, 'word') for a choice, at_most "
        "and at_least for numbers."
    )
    __ne__ = _refused("A cell cannot be compared with !=: use equal(choice, 'word') inside where.")
    __hash__ = object.__hash__
    __lt__ = __le__ = __gt__ = __ge__ = _refused(
        "Sizes are compared guarded against the last bit: use at_most(a, b), at_least(a, b), "
        "less_than(a, b) or more_than(a, b)."
    )
    __float__ = __int__ = __index__ = _refused(
        "A cell has no number yet: keep it in the equation, and leave float() and math to "
        "the words in builder/datumbook/formulas/functions.py."
    )
    __round__ = _refused(
        "Use rounded(value, unit, digits), which rounds halves up in the unit of the source."
    )
    __iter__ = _refused("A cell is one value: name a group of cells as *cells in the equation.")


@dataclass(frozen=True, slots=True, eq=False)
class Cell(Formula):
    """One cell, by its key; `unit` is the unit word its number is in, None for a cell that holds
    words.
    """

    key: str
    unit: str | None = ""


@dataclass(frozen=True, slots=True, eq=False)
class Number(Formula):
    """A number written into the formula."""

    value: float


@dataclass(frozen=True, slots=True, eq=False)
class Text(Formula):
    """Words written into the formula."""

    words: str


@dataclass(frozen=True, slots=True, eq=False)
class BinaryOperation(Formula):
    """left mark right, mark one of + - * / ^."""

    mark: str
    left: Formula
    right: Formula


@dataclass(frozen=True, slots=True, eq=False)
class Call(Formula):
    """A spreadsheet function over arguments."""

    name: str
    arguments: tuple[Formula, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Test(Formula):
    """left mark right, mark one of <= < >= > = <>; numbers are compared by their guarded
    difference.
    """

    mark: str
    left: Formula
    right: Formula


@dataclass(frozen=True, slots=True, eq=False)
class InUnit(Formula):
    """The bare number that a quantity has in a unit."""

    quantity: Formula
    unit: str


@dataclass(frozen=True, slots=True, eq=False)
class OfUnit(Formula):
    """A bare number taken as a quantity of a unit."""

    number: Formula
    unit: str


@dataclass(frozen=True, slots=True, eq=False)
class TakenAs(Formula):
    """An angle, a count or a bare number taken as one of another of these kinds, by its
    dimension.
    """

    quantity: Formula
    kind: str


def tree(value: object) -> Formula:
    """Return a value as a node: numbers and words become constants; anything else is refused."""
    if isinstance(value, Formula):
        return value
    if isinstance(value, str):
        return Text(value)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return Number(float(value))
    raise MisuseError(f"{value!r} has no place in a formula: numbers, words and cells have.")


def traced(*values: object) -> bool:
    """Say whether any of the values is a node, so that a word makes a formula instead of a
    number.
    """
    for value in values:  # noqa: SIM110 - asked for every word of every equation, a generator costs more than the question
        if isinstance(value, Formula):
            return True
    return False


def children(node: Formula) -> tuple[Formula, ...]:
    """Return the nodes directly under a node."""
    if isinstance(node, BinaryOperation | Test):
        return (node.left, node.right)
    if isinstance(node, Call):
        return node.arguments
    if isinstance(node, InUnit | TakenAs):
        return (node.quantity,)
    return (node.number,) if isinstance(node, OfUnit) else ()


def cells(node: Formula, *, in_branches: bool = True) -> list[Cell]:
    """Return every cell of the tree once, in the order met; without `in_branches` those that are
    needed whatever a choice comes to.
    """
    found: dict[str, Cell] = {}
    todo = [node]
    while todo:
        here = todo.pop()
        if isinstance(here, Cell):
            found[here.key] = here
            continue
        under = children(here)
        chosen = not in_branches and isinstance(here, Call) and here.name == "IF"
        todo += under[:1] if chosen else under[::-1]
    return list(found.values())
