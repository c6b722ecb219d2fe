"""Works and stations: what a block is here for, and where it is measured."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from datumbook.standards import table


@dataclass(frozen=True, slots=True)
class WorkKind:
    """A work that a shop knows by one word: its operations and stations, or everything."""

    key: str
    words: str
    operations: tuple[str, ...]
    stations: tuple[str, ...]
    everything: bool


@dataclass(frozen=True, slots=True)
class StationKind:
    """A station: the sections of a spec that describe it, the stations it cannot do without,
    whether it stands in a book only where the job names it, and whether it has a line of its own on
    the first sheet, by which it may be left; then how many readings it asks for and how many pages
    it prints, on an engine of four cylinders with everything.
    """

    key: str
    words: str
    sections: tuple[str, ...]
    needs: tuple[str, ...]
    by_name: bool
    own_line: bool
    readings: int = 0
    pages: int = 0

    @property
    def told(self) -> str:
        """What it is, and what it asks for where that is stated."""
        asked = f"; some {self.readings} readings, {self.pages} pages" if self.pages else ""
        return f"{self.words}{asked}"


@cache
def works() -> dict[str, WorkKind]:
    """Every work by key."""
    return {
        row["key"]: WorkKind(
            row["key"],
            row["words"],
            tuple(row.get("operations", ())),
            tuple(row.get("stations", ())),
            row.get("everything", False),
        )
        for row in table("works")["works"]
    }


@cache
def stations() -> dict[str, StationKind]:
    """Every station by key, in walking order."""
    return {
        row["key"]: StationKind(
            row["key"],
            row["words"],
            tuple(row.get("sections", ())),
            tuple(row.get("needs", ())),
            row.get("by_name", False),
            row.get("own_line", True),
            row.get("readings", 0),
            row.get("pages", 0),
        )
        for row in table("works")["stations"]
    }
