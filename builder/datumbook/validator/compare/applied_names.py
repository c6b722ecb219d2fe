"""Names in the place of cells: some programs offer to write the defined name of a cell wherever a
formula reads it, and the formula says the same.
"""

from __future__ import annotations

from datumbook.readers import Book, target
from datumbook.readers.syntax import Tree


def without_names(tree: Tree, book: Book) -> Tree:
    """Return a formula's tree with the cell that each name of the book stands for in its place; a
    name of anything else stays.
    """
    if tree[0] == "name" and tree[1] == "":
        at = target(book.named.get(tree[2], ""))
        return tree if at is None else ("cell", at[0].casefold(), *at[1:])
    return tuple(
        [without_names(branch, book) if type(branch) is tuple else branch for branch in tree]
    )
