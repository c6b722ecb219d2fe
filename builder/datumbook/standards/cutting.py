"""What the shop runs its cutters at where a spec says nothing: speeds, feeds and lubricants, each
with its source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from datumbook.numbers.units import INCH
from datumbook.standards import table


@dataclass(frozen=True, slots=True)
class CuttingRow:
    """One row: a value with the range its sources give, as texts in its unit; `by_hand` instead
    where it has none.
    """

    operation: str
    material: str
    value: str
    low: str
    high: str
    unit: str
    by_hand: str
    source: str

    @property
    def words(self) -> str:
        """What to print: `80 ft/min`, or how it is done by hand."""
        return self.by_hand or f"{self.value or f'{self.low} to {self.high}'} {self.unit}".strip()

    def words_in(self, unit: str) -> str:
        """A range of lengths in millimetres where that is the unit of the cutter: `0.10 to 0.18
        mm`.
        """
        if self.by_hand or unit != "mm" or self.unit != "in":
            return self.words
        low, high = (float(Fraction(end)) * INCH for end in (self.low, self.high))
        return f"{low:.2f} to {high:.2f} mm"


def cutting_speed(operation: str, material: str) -> CuttingRow:
    """Return the speed of a high-speed steel cutter; LookupError naming what the table holds."""
    return _row(_found("speed", operation, material)[0], operation)


def lubricant(operation: str, material: str) -> CuttingRow:
    """Return what an operation is lubricated with, in words; LookupError naming what the table
    holds.
    """
    return _row(_found("lubricant", operation, material)[0], operation)


def feed(operation: str, material: str, diameter_mm: float) -> CuttingRow:
    """Return the range of feed for each turn of a drill of this diameter; LookupError naming what
    the table holds.
    """
    rows = _found("feed", operation, material)
    for row in rows:
        if (
            float(Fraction(row["over"])) * INCH
            < diameter_mm
            <= float(Fraction(row["up_to"])) * INCH
        ):
            return _row(row, operation)
    ends = f"over {rows[0]['over']} in, up to {rows[-1]['up_to']} in"
    raise LookupError(
        f"No feed is known for a diameter of {diameter_mm:g} mm: the table holds drills {ends}."
    )


def _found(what: str, operation: str, material: str) -> list[dict[str, Any]]:
    rows = [row for row in table("cutting")[what] if row["material"] == material.strip().casefold()]
    if found := [row for row in rows if operation in _operations(row)]:
        return found
    asked, known = (
        f'"{operation}" in {material}',
        {name for row in rows for name in _operations(row)},
    )
    if not rows:
        asked, known = f'"{material}"', {row["material"] for row in table("cutting")[what]}
    raise LookupError(
        f"No {what} is known for {asked}: the table holds {', '.join(sorted(known))}; give a "
        "figure of your own in the spec."
    )


def _operations(row: dict[str, Any]) -> list[str]:
    return [str(name) for name in row.get("operations", [row.get("operation")])]


def _row(row: dict[str, Any], operation: str) -> CuttingRow:
    return CuttingRow(
        operation=operation,
        material=row["material"],
        value=str(row.get("value", "")),
        low=str(row.get("from", "")),
        high=str(row.get("to", "")),
        unit=row.get("unit", ""),
        by_hand=row.get("by_hand", ""),
        source=row["source"],
    )
