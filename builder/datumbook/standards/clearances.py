"""Room of valves and rings where nobody else says it."""

from __future__ import annotations

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table


def usual_clearance(what: str) -> tuple[Quantity, Quantity | None, str]:
    """Return the least room, the most where there is one, and where they come from; KeyError for
    what the table does not hold.

    >>> usual_clearance("inlet_gap")[0].text
    '0.080 in'
    """
    row = table("clearances")[what]
    high = read_quantity(row["high"]) if "high" in row else None
    return read_quantity(row["low"]), high, row["source"]
