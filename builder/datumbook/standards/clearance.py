"""Holes that a bolt passes through, in the head, the gasket and the part that is bolted on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from datumbook.standards import table
from datumbook.standards.thread_rows import in_words
from datumbook.standards.threads import METRIC, UNIFIED, Thread

HOLE_SERIES = dict.fromkeys(METRIC, "ISO 273") | dict.fromkeys(UNIFIED, "ASME B18.2.8")


@dataclass(frozen=True, slots=True)
class ClearanceHole:
    """A clearance hole: its fit, its diameter exactly in the unit of its standard, and that
    standard.
    """

    fit: str
    diameter: Fraction
    unit: str
    source: str

    @property
    def words(self) -> str:
        """Its diameter as a drill is called: 17/64 in, 6.4 mm."""
        size = in_words(self.diameter) if self.unit == "in" else f"{float(self.diameter):g}"
        return f"{size} {self.unit}"


def clearance_holes(thread: Thread) -> list[ClearanceHole]:
    """Return the clearance holes of a size, the closest fit first; LookupError naming the sizes the
    tables hold.
    """
    named = f"M{thread.major}" if thread.unit == "mm" else in_words(thread.major)
    for series in table("clearance")["series"]:
        if series["name"] == HOLE_SERIES.get(thread.family) and named in series["rows"]:
            return [
                ClearanceHole(fit, Fraction(size), series["unit"], series["source"])
                for fit, size in zip(series["fits"], series["rows"][named], strict=True)
            ]
    known = "; ".join(
        f"{series['name']}: {', '.join(series['rows'])}" for series in table("clearance")["series"]
    )
    raise LookupError(
        f"No clearance hole is known for {thread.designation}: the tables hold {known}."
    )
