"""Formulas that a file keeps once for many cells: as each of them reads in a cell of its own."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from datumbook.effort import spend
from datumbook.formulas.spelling import column_letters
from datumbook.readers.addresses import LAST_COLUMN, LAST_ROW, column_number, place_of
from datumbook.readers.tokens import spans

_LAST_OF_AREA = re.compile(r"(\$?)([A-Za-z]{1,3})?(\$?)([0-9]{1,7})?", re.ASCII)


class ReferenceEnd(NamedTuple):
    """One end of a reference: its column and row, 0 for what it has not, and whether each stays
    where it is.
    """

    column: int
    row: int
    column_stays: bool
    row_stays: bool

    def moved(self, down: int, across: int) -> str:
        """How it reads so many rows below and columns to the right; ValueError outside a sheet."""
        column = self.column and self.column + (0 if self.column_stays else across)
        row = self.row and self.row + (0 if self.row_stays else down)
        if (self.column and not 0 < column <= LAST_COLUMN) or (
            self.row and not 0 < row <= LAST_ROW
        ):
            raise ValueError("it leads out of the sheet")
        letters = f"{'$' * self.column_stays}{column_letters(column)}" if column else ""
        return f"{letters}{'$' * self.row_stays}{row}" if row else letters


def shared_formula(text: str, origin: str, here: str) -> str:
    """Return a formula shared from `origin` as it reads at `here`; ValueError if it cannot be
    followed there.

    >>> shared_formula("SUM(A$1:B1)+$C2", "D1", "E3")
    'SUM(B$1:C3)+$C4'
    """
    (row, column), (to_row, to_column) = place_of(origin), place_of(here)
    try:
        pieces = _pieces(text)
        spend(2 * len(pieces) + len(text) // 32, "formulas shared by many cells")
        return "".join(
            piece if isinstance(piece, str) else piece.moved(to_row - row, to_column - column)
            for piece in pieces
        )
    except ValueError as error:
        raise ValueError(f"the formula shared from {origin}: {error}") from None


@lru_cache(maxsize=256)
def _pieces(text: str) -> tuple[str | ReferenceEnd, ...]:
    """A formula cut at the ends of its references."""
    found: list[str | ReferenceEnd] = []
    done = 0
    for kind, start, end in spans(text):
        if kind in ("cell", "columns", "rows"):
            found.append(text[done:start])
            found += _ends(text[start:end])
            done = end
    return (*found, text[done:])


def _ends(reference: str) -> list[str | ReferenceEnd]:
    """The ends of one reference; as it is written where it only looks like one."""
    found: list[str | ReferenceEnd] = []
    for written in reference.split(":"):
        match = _LAST_OF_AREA.fullmatch(written)
        assert match is not None
        stays, letters, row_stays, digits = match.groups()
        try:
            column, row = column_number(letters) if letters else 0, int(digits or 0)
        except ValueError:
            return [reference]
        alone = letters is None  # then the sign before it holds its row
        if digits is not None and not 1 <= row <= LAST_ROW:
            return [reference]
        found += [":"] if found else []
        found.append(
            ReferenceEnd(
                column, row, bool(stays) and not alone, bool(row_stays or (alone and stays))
            )
        )
    return found
