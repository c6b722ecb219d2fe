"""What a block is washed in, and what keeps it from rust: what suits which metal, as data."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from datumbook.standards import table


@dataclass(frozen=True, slots=True)
class Bath:
    """A way to clean: how strong, how warm, what it takes off, whether it suits iron and the soft
    metals, and where that comes from.
    """

    name: str
    strength: str
    warmth: str
    does: str
    iron: bool
    soft: bool
    source: str

    def attacks(self, metal: str, *, soft_parts: bool) -> bool:
        """Whether it dissolves a block of this metal, or soft parts that stay in it."""
        return not self.soft if soft_parts or metal != "iron" else not self.iron


@dataclass(frozen=True, slots=True)
class Film:
    """What keeps metal from rust, for how long, and where that comes from."""

    name: str
    keeps: str
    source: str


@cache
def baths() -> tuple[Bath, ...]:
    """Every way to clean, in the order of the table."""
    return tuple(
        Bath(
            row["name"],
            row["strength"],
            row["warmth"],
            row["does"],
            row["iron"] == "suits",
            row["soft"] == "suits",
            row["source"],
        )
        for row in table("cleaning")["baths"]
    )


@cache
def films() -> tuple[Film, ...]:
    """Every film against rust, in the order of the table."""
    return tuple(
        Film(row["name"], row["keeps"], row["source"]) for row in table("cleaning")["films"]
    )
