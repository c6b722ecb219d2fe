"""What a formula says, whatever program spelled it: a tree in which only differences that matter
are differences.

Case, blanks, redundant brackets, `$`, the own sheet's name, quotes round sheet names, digits beyond
the fifteenth, prefixes and older names of functions do not matter; constant texts are compared
letter by letter.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import islice
from typing import Any

from datumbook.effort import spend
from datumbook.readers.syntax import Tree, tree_of

SheetPlace = tuple[str, int, int]
"""Sheet, row, column."""

Shift = Callable[[str, int, int], SheetPlace | None]
"""Where a cell stands now, None where it is gone."""

_MOST_CELLS = 10_000


def canonical(formula: str, sheet: str, shift: Shift | None = None) -> Tree:
    """Return the tree of a formula on `sheet`, each reference first moved by `shift`; ("gone",)
    where it has no place.

    Both ends of a range are moved each for itself; whole columns and rows are not moved. A formula
    that cannot be read becomes ("unreadable", its text), equal only to itself. `shift` is given
    sheets as the formula spells them.

    >>> canonical("=sum( $A$1:Bores!A2 )+(2.50)", "Bores") == canonical("SUM(A1:A2)+2.5", "Bores")
    True
    """
    spend(len(formula) // 16, "formulas")
    return _unmoved(formula, sheet) if shift is None else _settled(tree_of(formula, sheet), shift)


@lru_cache(maxsize=16_384)
def _unmoved(formula: str, sheet: str) -> Tree:
    return _settled(tree_of(formula, sheet), None)


def _settled(tree: Tree, shift: Shift | None) -> Tree:
    """Return the tree with its references moved and the names of sheets in lower case."""
    if tree[0] == "cell":
        _, sheet, row, column = tree
        place = (sheet, row, column) if shift is None else shift(sheet, row, column)
        return ("gone",) if place is None else ("cell", place[0].casefold(), place[1], place[2])
    if tree[0] in ("columns", "rows"):
        return (tree[0], tree[1].casefold(), *tree[2:])
    settled: list[Any] = []
    for branch in tree:
        settled.append(_settled(branch, shift) if type(branch) is tuple else branch)  # noqa: PERF401 - half the stack
    return tuple(settled)


def references(formula: str, sheet: str) -> set[SheetPlace]:
    """Return every cell a formula reads, ranges spelled out; of very many only the first ten
    thousand.
    """
    found = set(islice(_places(tree_of(formula, sheet)), _MOST_CELLS))
    spend(len(found), "cells that formulas read")
    return found


def _places(tree: Tree) -> Iterator[SheetPlace]:
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        if node[0] == "cell":
            yield node[1], node[2], node[3]
        elif node[0] == "range" and node[1][0] == node[2][0] == "cell":
            _, (_, sheet, top, left), (_, _, bottom, right) = node
            for row in range(min(top, bottom), max(top, bottom) + 1):
                for column in range(min(left, right), max(left, right) + 1):
                    yield sheet, row, column
        else:
            waiting += [branch for branch in reversed(node) if type(branch) is tuple]
