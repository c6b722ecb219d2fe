"""What was done to a formula that is not the one the book was made with: dragged here, broken, a
number changed, …

Only what a formula says counts, never how a program spells it: see `reader.canonical`.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from datumbook.effort import spend
from datumbook.formulas.spelling import PORTABLE
from datumbook.readers import FoundCell, address_of
from datumbook.readers.canonical import canonical, references
from datumbook.readers.formulas import outside
from datumbook.readers.shared import shared_formula
from datumbook.readers.syntax import Tree, functions_in
from datumbook.validator.compare.applied_names import without_names
from datumbook.validator.locate.location import Located, Spot
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place

GROUPED = {"+": "+-", "*": "*/"}
PLACEHOLDERS = ("DUMMYFUNCTION", "_XLFNGNUMERIC")
VOLATILE = {
    "NOW",
    "TODAY",
    "RAND",
    "RANDBETWEEN",
    "RANDARRAY",
    "OFFSET",
    "INDIRECT",
    "CELL",
    "INFO",
}
NEIGHBOURS = 80  # how many cells of the sheet are asked whether the formula was theirs
LONGER, LONG = 8, 100
"""No program spells a formula so many times longer, short ones with so many letters more: names in
the place of cells were measured, the rest is chosen.
"""

Change = tuple[str, str]
"""The code of the finding, and what is found."""


def change(
    layout: Layout, place: Place, cell: FoundCell, located: Located, closely: bool = True
) -> Change | None:
    """Return what was done to the formula of a cell, None where it says what it should; only
    `closely` is it asked whose formula it may have been.
    """
    assert cell.formula is not None
    here, expected = located.spots[place.key][0], layout.formula(place.key)
    if len(cell.formula) > LONGER * (LONG + len(expected)):
        return "formula-edited", cell.formula
    found = canonical(cell.formula, here)
    wanted = canonical(expected, place.at.sheet, located.moved)
    if found != wanted:
        found, wanted = levelled(without_names(found, located.book)), levelled(wanted)
    if found == wanted:
        return ("formula-array", cell.array) if cell.array else None
    if not closely:
        return "formula-edited", cell.formula
    if told := _by_words(cell.formula, found, wanted, located.spots[place.key]):
        return told
    return _by_tree(layout, place, located, cell.formula, found, wanted)


def levelled(tree: Tree) -> Tree:
    """A formula's tree with sums and products taken from left to right: some programs drop brackets
    that only group them.

    >>> levelled(canonical("A1+(B1-C1)", "Bores")) == levelled(canonical("A1+B1-C1", "Bores"))
    True
    """
    tree = tuple([levelled(branch) if type(branch) is tuple else branch for branch in tree])
    return _from_the_left(*tree) if len(tree) == 3 and tree[0] in GROUPED else tree


def _from_the_left(sign: str, one: Tree, other: Tree) -> Tree:
    """Two levelled trees joined by a sign, and levelled again."""
    if type(other) is not tuple or other[0] not in GROUPED[sign]:
        return (sign, one, other)
    spend(1, "formulas")
    mark, first, second = other
    return (mark, _from_the_left(sign, one, first), second)


def _by_words(formula: str, found: Tree, wanted: Tree, spot: Spot) -> Change | None:
    """What a word in the formula's text gives away."""
    if link := outside(formula):
        return "formula-outside", link
    new = functions_in(found) - functions_in(wanted)
    signs = {
        "formula-placeholder": any(word in formula.upper() for word in PLACEHOLDERS),
        "formula-broken": "#REF!" in formula.upper(),
        "formula-volatile": new & VOLATILE,
        "formula-circular": spot in references(formula, spot[0]),
        "formula-function": new - PORTABLE,
    }
    return next(((code, formula) for code, sign in signs.items() if sign), None)


def _by_tree(
    layout: Layout, place: Place, located: Located, formula: str, found: Tree, wanted: Tree
) -> Change:
    """What the formula's tree gives away."""
    here = located.spots[place.key]
    for key, origin in _neighbours(layout, place, located):
        theirs = located.cell(key)
        if theirs is not None and theirs.formula and found in _copies(theirs.formula, origin, here):
            return "formula-dragged", address_of(*origin[1:])
    code = {frozenset({"number"}): "formula-number", frozenset({"cell"}): "formula-reference"}
    return code.get(frozenset(_differing(found, wanted)), "formula-edited"), formula


def _neighbours(layout: Layout, place: Place, located: Located) -> Iterator[tuple[str, Spot]]:
    """The formulas of the same row or column of the sheet, the nearest first."""
    sheet, row, column = located.spots[place.key]
    spend(len(located.spots) // 8, "formulas altered")
    others = [
        (abs(spot[1] - row) + abs(spot[2] - column), key, spot)
        for key, spot in located.spots.items()
        if spot[0] == sheet and (spot[1] == row) != (spot[2] == column) and layout.has_formula(key)
    ]
    yield from ((key, spot) for _, key, spot in sorted(others)[:NEIGHBOURS])


def _copies(formula: str, origin: Spot, here: Spot) -> Iterator[Tree]:
    """A formula as it reads elsewhere: letter by letter, and moved along."""
    yield levelled(canonical(formula, here[0]))
    with suppress(ValueError):
        moved = shared_formula(formula, address_of(*origin[1:]), address_of(*here[1:]))
        yield levelled(canonical(moved, here[0]))


def _differing(one: object, two: object) -> set[str]:
    """The kinds of leaf in which two trees of one shape differ; {"shape"} where they are of
    different shape.
    """
    if one == two:
        return set()
    if not (
        isinstance(one, tuple)
        and isinstance(two, tuple)
        and len(one) == len(two)
        and one[:1] == two[:1]
    ):
        return {"shape"}
    if one[0] in ("number", "cell", "text"):
        return {str(one[0])}
    return set[str]().union(
        *(_differing(first, second) for first, second in zip(one, two, strict=True))
    )
