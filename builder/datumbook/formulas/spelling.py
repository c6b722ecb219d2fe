"""Tree to text: the only maker of formula text.

Every operand of ^ and every right operand of equal rank is bracketed, but for a sum within a sum,
there is no unary minus, numbers have at most 15 digits, and neighbouring cells are folded into
ranges: the spelling that every spreadsheet program reads alike and writes back as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

from datumbook.formulas.tracing import trace_by_names
from datumbook.formulas.tree import BinaryOperation, Call, Cell, Formula, Number, Test, Text, cells
from datumbook.numbers.rounding import GUARD_DIGITS

RANK = {"+": 1, "-": 1, "*": 2, "/": 2, "^": 3}
ATOM = 4
PORTABLE = {
    "IF",
    "AND",
    "OR",
    "ABS",
    "MAX",
    "MIN",
    "SUM",
    "AVERAGE",
    "COUNT",
    "COUNTA",
    "COUNTIF",
    "ROUND",
    "INT",
    "SQRT",
    "TAN",
    "ATAN",
    "SIN",
    "COS",
    "LARGE",
    "INDEX",
    "MATCH",
}
OVER_GROUPS = {
    "MAX",
    "MIN",
    "SUM",
    "AVERAGE",
    "COUNT",
    "COUNTA",
}  # elsewhere a range is not its cells one by one
ONE_RANGE = {
    "LARGE",
    "INDEX",
    "MATCH",
    "COUNTIF",
}  # functions that read one range and then their last argument


@dataclass(frozen=True, slots=True, order=True)
class Address:
    """Where a cell is: sheet, row and column, both from 1."""

    sheet: str
    row: int
    column: int

    @property
    def cell(self) -> str:
        """The address as printed on the sheet's edges, such as C7."""
        return f"{column_letters(self.column)}{self.row}"

    def __str__(self) -> str:
        return f"{self.sheet}!{self.cell}"


Addresses = Callable[[str], Address]


def ranges_of(cells: Iterable[Address]) -> list[str]:
    """Return cells of one sheet as ranges, those under one another together.

    >>> ranges_of(Address("Plan", row, column) for row, column in ((7, 3), (9, 3), (8, 3), (7, 4)))
    ['C7:C9', 'D7']
    """
    runs: list[list[Address]] = []
    for one in sorted(cells, key=lambda cell: (cell.column, cell.row)):
        if runs and (one.column, one.row) == (runs[-1][-1].column, runs[-1][-1].row + 1):
            runs[-1].append(one)
        else:
            runs.append([one])
    return [run[0].cell if len(run) == 1 else f"{run[0].cell}:{run[-1].cell}" for run in runs]


@cache
def column_letters(column: int) -> str:
    """Return the letters of a column counted from 1."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def spell(node: Formula, address: Addresses, sheet: str) -> str:
    """Return the formula's text, without the leading =, as it stands in a cell of this sheet."""
    return ShapeSpelled(node).at(address, sheet)


@dataclass(frozen=True, slots=True)
class Where:
    """Where the cells of a formula stand, and on which sheet the formula does."""

    address: Addresses
    sheet: str

    def reference(self, at: Address) -> str:
        """An address as it is written here."""
        return at.cell if at.sheet == self.sheet else f"{at.sheet}!{at.cell}"


Piece = str | Callable[[Where], str]
"""Text, or what hangs on where cells stand."""


class ShapeSpelled:
    """A formula spelled but for its cells: what is the same wherever it stands is spelled once."""

    def __init__(self, node: Formula) -> None:
        self._pieces: list[Piece] = []
        self._spell(node)

    def at(self, address: Addresses, sheet: str) -> str:
        """Return the text with these addresses, as it stands in a cell of this sheet."""
        return self.where(Where(address, sheet))

    def where(self, where: Where) -> str:
        """Return the text with its cells where they are."""
        return "".join([one if isinstance(one, str) else one(where) for one in self._pieces])

    def _say(self, text: str) -> None:
        if self._pieces and isinstance(self._pieces[-1], str):
            self._pieces[-1] += text
        else:
            self._pieces.append(text)

    def _spell(self, node: Formula) -> None:
        match node:
            case Cell(key, _):
                self._pieces.append(lambda where: where.reference(where.address(key)))
            case Number(value):
                self._say(spelled_number(value))
            case Text(words):
                self._say('"' + words.replace('"', '""') + '"')
            case BinaryOperation(mark, left, right):
                self._operand(left, RANK[mark], mark)
                self._say(mark)
                # brackets of a sum within a sum are not written back by every program
                self._operand(right, RANK[mark] if mark == "+" else RANK[mark] + 1, mark)
            case Call():
                self._call(node)
            case Test("=" | "<>" as mark, left, right):
                self._spell(left)
                self._say(mark)
                self._spell(right)
            case Test(mark, difference, Number(0)):
                self._say("ROUND(")
                self._spell(difference)
                self._say(f",{GUARD_DIGITS}){mark}0")
            case Test(mark, left, right):
                self._spell(Test(mark, BinaryOperation("-", left, right), Number(0.0)))
            case _:
                kind = type(node).__name__
                raise TypeError(f"{kind} must be settled by tracing before it is spelled")

    def _operand(self, node: Formula, least: int, mark: str) -> None:
        rank = RANK[node.mark] if isinstance(node, BinaryOperation) else ATOM
        if rank < least or mark == "^":
            self._say("(")
            self._spell(node)
            self._say(")")
        else:
            self._spell(node)

    def _call(self, node: Call) -> None:
        if node.name not in PORTABLE:
            raise ValueError(f"{node.name} is not read alike by every spreadsheet program")
        if node.name in ONE_RANGE:
            self._pieces.append(_over_one_range(node))
            return
        self._say(f"{node.name}(")
        if node.name in OVER_GROUPS:
            folded = _folded(node.arguments)
            self._pieces.append(lambda where: ",".join(folded(where)))
        else:
            for at, argument in enumerate(node.arguments):
                if at:
                    self._say(",")
                self._spell(argument)
        self._say(")")


def _over_one_range(node: Call) -> Callable[[Where], str]:
    name, (*group, last) = node.name, node.arguments
    chosen, folded = ShapeSpelled(last), _folded(group)

    def over(where: Where) -> str:
        choice = chosen.where(where)
        if name == "INDEX" and len(group) == 1:  # not every program picks from a lone cell
            return f"IF({choice}=1,{','.join(folded(where))},1/0)"
        if name == "INDEX":  # nor knows a lone place
            rows = {where.address(cell.key).row for cell in group if isinstance(cell, Cell)}
            choice = f"1,{choice}" if len(rows) == 1 else f"{choice},1"
        calls = [_over(name, one, choice) for one in folded(where)]
        if name != "COUNTIF" and len(calls) != 1:
            raise ValueError(f"{name} needs its cells in one unbroken row or column")
        return calls[0] if len(calls) == 1 else f"({'+'.join(calls)})"

    return over


def _over(name: str, cells: str, chosen: str) -> str:
    if name == "COUNTIF" and ":" not in cells:
        return f"IF({cells}={chosen},1,0)"  # one program counts only over a range
    return f"MATCH({chosen},{cells},0)" if name == "MATCH" else f"{name}({cells},{chosen})"


def _folded(arguments: Sequence[Formula]) -> Callable[[Where], Iterator[str]]:
    """The arguments one by one, cells that stand in a row as one range."""
    each = [one.key if isinstance(one, Cell) else ShapeSpelled(one) for one in arguments]

    def folded(where: Where) -> Iterator[str]:
        run: list[Address] = []
        for one in each:
            here = where.address(one) if isinstance(one, str) else None
            if run and (here is None or not _continues(run, here)):
                yield _range(run, where)
                run = []
            if here is not None:
                run.append(here)
            elif isinstance(one, ShapeSpelled):
                yield one.where(where)
        if run:
            yield _range(run, where)

    return folded


def _range(run: list[Address], where: Where) -> str:
    first = where.reference(run[0])
    return first if len(run) == 1 else f"{first}:{run[-1].cell}"


def _continues(run: list[Address], here: Address) -> bool:
    """Say whether a cell carries on a run down one column or along one row."""
    last = run[-1]
    step = (here.row - last.row, here.column - last.column)
    if step not in {(1, 0), (0, 1)} or here.sheet != last.sheet:
        return False
    return len(run) == 1 or (last.row - run[-2].row, last.column - run[-2].column) == step


@cache
def spelled_number(value: float) -> str:
    """Return a number as every program reads it: 15 digits, no exponent, a negative one as
    (0-x).
    """
    text = format(Decimal(f"{abs(value):.15g}"), "f")
    return f"(0-{text})" if value < 0 else text


def in_words(equation: Callable[..., Any]) -> str:
    """Return an equation's formula with the parameters' own names in it, as the method sheet prints
    it.
    """
    node = trace_by_names(equation)
    names = {
        cell.key: InPlace.of(place, cell.key.replace("_", " "))
        for place, cell in enumerate(cells(node), 1)
    }
    return spell(node, names.__getitem__, "")


@dataclass(frozen=True, slots=True)
class InPlace(Address):
    """Words in the place of a cell, such as a parameter's name or a number typed."""

    words: str

    @classmethod
    def of(cls, place: int, words: str) -> InPlace:
        """The words of a place counted from 1; no two places are neighbours."""
        return cls("", 9 * place, 9 * place, words)

    @property
    def cell(self) -> str:
        """The words."""
        return self.words
