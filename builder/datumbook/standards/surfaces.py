"""The finish that a gasket or a set of rings wants where nobody else says it."""

from __future__ import annotations

from dataclasses import dataclass

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import row_called, table


@dataclass(frozen=True, slots=True)
class FinishWanted:
    """The finish that a kind of gasket or ring wants: Ra from low, if there is one, to high; how
    this project knows it, and who disagrees.
    """

    name: str
    low: Quantity | None
    high: Quantity
    source: str
    known: str
    conflict: str

    @property
    def told(self) -> str:
        """Where the figures come from, and who disagrees."""
        return f"{self.source}; {self.conflict}" if self.conflict else self.source


def gasket_finish(kind: str) -> FinishWanted:
    """Return the finish that a kind of gasket wants; LookupError naming the kinds known.

    >>> gasket_finish("multi-layer steel").high.text
    '0.8 um'
    """
    return row_called(kind, _wanted("gaskets"), "is not a kind of gasket known here; they are")


def ring_finish(kind: str) -> FinishWanted:
    """Return the finish that a kind of piston ring wants; LookupError naming the kinds known.

    >>> ring_finish("moly").low.text
    '0.4 um'
    """
    return row_called(kind, _wanted("rings"), "is not a kind of ring known here; they are")


def _wanted(kinds: str) -> list[FinishWanted]:
    return [
        FinishWanted(
            row["name"],
            read_quantity(row["low"]) if "low" in row else None,
            read_quantity(row["high"]),
            row["source"],
            row["known"],
            row.get("conflict", ""),
        )
        for row in table("surfaces")[kinds]
    ]
