"""Tree to text: the only maker of formula text.

Every operand of ^ and every right operand of equal rank is bracketed, but for a sum within a sum,
there is no unary minus, numbers have at most 15 digits, and neighbouring cells are folded into
ranges: the spelling that every spreadsheet program reads alike and writes back as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, partial
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
    return _Speller(address, sheet).spell(node)


@dataclass(frozen=True)
class _Speller:
    address: Addresses
    sheet: str

    def spell(self, node: Formula) -> str:
        match node:
            case Cell(key, _):
                return self._reference(self.address(key))
            case Number(value):
                return spelled_number(value)
            case Text(words):
                return '"' + words.replace('"', '""') + '"'
            case BinaryOperation(mark, left, right):
                before = self._operand(left, RANK[mark], mark)
                # brackets of a sum within a sum are not written back by every program
                least = RANK[mark] if mark == "+" else RANK[mark] + 1
                return f"{before}{mark}{self._operand(right, least, mark)}"
            case Call():
                return self._call(node)
            case Test("=" | "<>" as mark, left, right):
                return f"{self.spell(left)}{mark}{self.spell(right)}"
            case Test(mark, difference, Number(0)):
                return f"ROUND({self.spell(difference)},{GUARD_DIGITS}){mark}0"
            case Test(mark, left, right):
                return self.spell(Test(mark, BinaryOperation("-", left, right), Number(0.0)))
        raise TypeError(f"{type(node).__name__} must be settled by tracing before it is spelled")

    def _operand(self, node: Formula, least: int, mark: str) -> str:
        rank = RANK[node.mark] if isinstance(node, BinaryOperation) else ATOM
        return f"({self.spell(node)})" if rank < least or mark == "^" else self.spell(node)

    def _call(self, node: Call) -> str:
        if node.name not in PORTABLE:
            raise ValueError(f"{node.name} is not read alike by every spreadsheet program")
        if node.name in ONE_RANGE:
            return self._over_one_range(node)
        spelled = self._folded if node.name in OVER_GROUPS else partial(map, self.spell)
        return f"{node.name}({','.join(spelled(node.arguments))})"

    def _over_one_range(self, node: Call) -> str:
        *group, last = node.arguments
        chosen = self.spell(last)
        if node.name == "INDEX" and len(group) == 1:  # not every program picks from a lone cell
            return f"IF({chosen}=1,{self.spell(group[0])},1/0)"
        if node.name == "INDEX":  # nor knows a lone place
            rows = {self.address(cell.key).row for cell in group if isinstance(cell, Cell)}
            chosen = f"1,{chosen}" if len(rows) == 1 else f"{chosen},1"
        calls = [self._over(node.name, one, chosen) for one in self._folded(group)]
        if node.name != "COUNTIF" and len(calls) != 1:
            raise ValueError(f"{node.name} needs its cells in one unbroken row or column")
        return calls[0] if len(calls) == 1 else f"({'+'.join(calls)})"

    def _over(self, name: str, cells: str, chosen: str) -> str:
        if name == "COUNTIF" and ":" not in cells:
            return f"IF({cells}={chosen},1,0)"  # one program counts only over a range
        return f"MATCH({chosen},{cells},0)" if name == "MATCH" else f"{name}({cells},{chosen})"

    def _folded(self, arguments: Sequence[Formula]) -> Iterator[str]:
        run: list[Address] = []
        for argument in arguments:
            here = self.address(argument.key) if isinstance(argument, Cell) else None
            if run and (here is None or not _continues(run, here)):
                yield self._range(run)
                run = []
            if here is None:
                yield self.spell(argument)
            else:
                run.append(here)
        if run:
            yield self._range(run)

    def _range(self, run: list[Address]) -> str:
        first = self._reference(run[0])
        return first if len(run) == 1 else f"{first}:{run[-1].cell}"

    def _reference(self, at: Address) -> str:
        return at.cell if at.sheet == self.sheet else f"{at.sheet}!{at.cell}"


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
