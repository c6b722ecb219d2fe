"""The syntax tree of a formula, by precedence as spreadsheets have it.

Unary minus binds tighter than `^`, and `^` goes from left to right: -2^2 is 4 and 2^3^2 is 64.
Source of the precedence: ECMA-376 part 1, 18.17.2.2 (from memory) and measured programs.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from datumbook.effort import spend
from datumbook.readers.addresses import column_number, place_of, plain_sheet
from datumbook.readers.tokens import Token, tokens

Tree = tuple[Any, ...]
"""A node: its kind first, then its branches (tuples) and values."""

_LEVELS = ("= < > <= >= <>", "&", "+ -", "* /", "^")
BINARY = {sign: level for level, signs in enumerate(_LEVELS, 1) for sign in signs.split()} | {
    " ": 8,
    ":": 9,
}
"""Sign between two operands -> how tightly it binds; a blank is the intersection of two ranges."""

BEHIND = {"%": 7, "#": 10}
"""Sign behind an operand -> how tightly it binds."""

_STRENGTHS = BINARY | BEHIND

IN_FRONT = 6
"""How tightly a sign in front of an operand binds: its ranges and percent signs, but no powers."""

UNREADABLE = "unreadable"

_PREFIXES = (
    "_XLFN.",
    "_XLWS.",
    "_XLPM.",
    "COM.MICROSOFT.",
    "LEGACY.",
    "ORG.GNUMERIC.",
    "COM.SUN.STAR.SHEET.ADDIN.ANALYSIS.GET",
)
_ALIASES = {
    "STDEV.S": "STDEV",
    "STDEV.P": "STDEVP",
    "VAR.S": "VAR",
    "VAR.P": "VARP",
    "RANK.EQ": "RANK",
    "MODE.SNGL": "MODE",
    "NORM.S.INV": "NORMSINV",
    "NORM.INV": "NORMINV",
    "NORM.DIST": "NORMDIST",
    "T.INV.2T": "TINV",
    "PERCENTILE.INC": "PERCENTILE",
    "QUARTILE.INC": "QUARTILE",
    "PERCENTRANK.INC": "PERCENTRANK",
    "COVARIANCE.P": "COVAR",
    "FORECAST.LINEAR": "FORECAST",
    "CHISQ.INV.RT": "CHIINV",
    "F.INV.RT": "FINV",
    "BINOM.DIST": "BINOMDIST",
    "POISSON.DIST": "POISSON",
}
_DEEPEST = 300
"""Levels of the tree of one formula: Python's stack must hold them all."""


@lru_cache(maxsize=16_384)
def tree_of(formula: str, sheet: str) -> Tree:
    """Return the tree of a formula that stands on `sheet`; (UNREADABLE, text) where it is none that
    can be read.
    """
    spend(len(formula) // 8, "formulas")
    text = formula.strip().removeprefix("=").strip()
    try:
        words = tokens(text)
        spend(3 * len(words), "formulas")
        return shallow(Parser(words, sheet).whole())
    except (ValueError, IndexError, RecursionError):
        return (UNREADABLE, text)


def shallow(tree: Tree) -> Tree:
    """Return a tree that is not too deep; RecursionError for another."""
    level = [tree]
    for _ in range(_DEEPEST):
        level = [branch for one in level for branch in one if type(branch) is tuple]
        if not level:
            return tree
    raise RecursionError("this formula is deeper than any a person could check")


class Parser:
    """Builds the tree by climbing the precedence; ValueError or IndexError where the formula is
    none.
    """

    def __init__(self, words: list[Token], sheet: str) -> None:
        self.words = words
        self.sheet = sheet
        self.own = sheet.casefold()
        self.at = 0

    def whole(self) -> Tree:
        """Return the tree of all words."""
        tree = self.expression()
        if self.at != len(self.words):
            raise ValueError(f"{self.words[self.at].text!r} stands where a formula should end")
        return tree

    def expression(self, floor: int = 0) -> Tree:
        """Return the tree of everything that binds tighter than `floor`, or of all."""
        left = self.operand()
        while (sign := self.sign()) is not None:
            strength = _STRENGTHS.get(sign, 0)
            if strength <= floor:
                break
            self.at += sign != " "
            left = (
                (sign, left)
                if sign in BEHIND
                else self.joined(sign, left, self.expression(strength))
            )
        return left

    def joined(self, sign: str, left: Tree, right: Tree) -> Tree:
        """Return two operands joined by a sign; the second end of a range stands on the sheet of
        the first.
        """
        if sign != ":":
            return (sign, left, right)
        if left[0] == right[0] == "cell" and right[1] == self.sheet:
            right = ("cell", left[1], *right[2:])
        return ("range", left, right)

    def sign(self) -> str | None:
        """Return the sign at hand, a blank where two operands stand side by side, None at the
        end.
        """
        if self.at == len(self.words):
            return None
        word = self.words[self.at]
        return word.text if word.kind == "sign" and word.text != "(" else " "

    def operand(self) -> Tree:
        """Return one operand with the signs before it."""
        word = self.words[self.at]
        self.at += 1
        if word.kind != "sign":
            return self.single(word)
        match word.text:
            case "-":
                return ("minus", self.expression(IN_FRONT))
            case "+" | "@":
                return self.expression(IN_FRONT)
            case "(":
                return self.bracket()
            case "{":
                return self.array()
        raise ValueError(f"{word.text!r} stands where a value should")

    def bracket(self) -> Tree:
        """Return what stands in brackets: the tree itself, or a union of references."""
        tree = self.expression()
        while self.take(","):
            tree = ("union", tree, self.expression())
        self.need(")")
        return tree

    def array(self) -> Tree:
        """Return a constant array, row by row."""
        rows = self.listed(";", lambda: self.listed(",", self.expression))
        self.need("}")
        return ("array", *rows)

    def listed(self, mark: str, one: Callable[[], Tree]) -> tuple[Tree, ...]:
        """Return several of a kind with a mark between them."""
        found = [one()]
        while self.take(mark):
            found.append(one())
        return tuple(found)

    def single(self, word: Token) -> Tree:
        """Return the tree of one word that is no sign."""
        match word.kind:
            case "number":
                return ("number", float(f"{float(word.text):.15g}"))
            case "text":
                return ("text", word.text[1:-1].replace('""', '"'))
            case "cell":
                return self.cell(word)
            case "function":
                return self.call(word.text)
            case "error":
                return ("error", word.text)
            case "columns" | "rows":
                return self.strip_of(word)
        return self.name(word)

    def call(self, name: str) -> Tree:
        """Return a function with its arguments; an argument left out is ("missing",)."""
        word = _function(name)
        arguments: tuple[Tree, ...] = ()
        if not self.take(")"):
            arguments = self.listed(",", self.argument)
            self.need(")")
        if word in ("TRUE", "FALSE") and not arguments:
            return ("logical", word)
        if word == "SINGLE" and len(arguments) == 1:
            return arguments[0]
        return ("call", word, *arguments)

    def argument(self) -> Tree:
        """Return one argument."""
        return ("missing",) if self.sign() in (",", ")") else self.expression()

    def cell(self, word: Token) -> Tree:
        """Return a reference to one cell; what only looks like one (column XFE, row 0) is a
        name.
        """
        try:
            row, column = place_of(word.text)
        except ValueError:
            return self.name(word)
        return ("cell", self.sheet_of(word), row, column)

    def strip_of(self, word: Token) -> Tree:
        """Return a reference to whole columns or rows."""
        ends = word.text.replace("$", "").split(":")
        number = column_number if word.kind == "columns" else int
        return (word.kind, self.sheet_of(word), *map(number, ends))

    def name(self, word: Token) -> Tree:
        """Return a defined name, or a constant that is spelled like one."""
        text = word.text.upper()
        if text in ("TRUE", "FALSE") and not word.sheet:
            return ("logical", text)
        return ("name", plain_sheet(word.sheet[:-1]).casefold(), _function(text))

    def sheet_of(self, word: Token) -> str:
        """Return the sheet a reference stands on: its own spelling, or the formula's own sheet."""
        sheet = plain_sheet(word.sheet[:-1])
        return self.sheet if not sheet or sheet.casefold() == self.own else sheet

    def take(self, sign: str) -> bool:
        """Step over a sign if it is the next word."""
        found = self.sign() == sign
        self.at += found
        return found

    def need(self, sign: str) -> None:
        """Step over a sign that must be the next word."""
        if not self.take(sign):
            raise ValueError(f"{sign!r} is missing")


def _function(name: str) -> str:
    """Return a function's name in capitals, without prefixes and by its older name."""
    word = name.upper()
    for prefix in _PREFIXES:
        word = word.removeprefix(prefix)
    return _ALIASES.get(word, word)


def functions_in(tree: Tree) -> set[str]:
    """Return the names of all functions a formula calls, in capitals and by their older names.

    >>> sorted(functions_in(tree_of("IF(A1>0,_xlfn.STDEV.S(A1:A3),0)", "Bores")))
    ['IF', 'STDEV']
    """
    own = {tree[1]} if tree[0] == "call" else set[str]()
    return own.union(*[functions_in(branch) for branch in tree if type(branch) is tuple])
