"""Leaning: how much a forecast moves with each reading under it, so that what follows from it has
an uncertainty that a cell can hold.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from datumbook.cells.columns import Column, Per, Sensitivity
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Row, Table

Origins = Mapping[str, tuple[str, Key]]
"""Readings, and what may be off besides, by a name of their own: in words, and where they stand."""


def leaning(key: str, title: str, rows: Sequence[Row], of: Per[Handle | Key], on: Origins) -> Table:
    """The table of a forecast's sensitivities: one line for each of its cells, one column for each
    origin.
    """
    columns: list[Column] = [
        Sensitivity(name=name, words=words, unit="", decimals=2, width=7.5, of=of, to=to)
        for name, (words, to) in on.items()
    ]
    return Table(
        key=key,
        title=title,
        heading="What moves",
        note="How far it moves for each unit that a reading, or the work, is off.",
        rows=rows,
        columns=columns,
    )
