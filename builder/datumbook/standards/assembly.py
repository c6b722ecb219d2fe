"""Assembly: the conditions that a block's state of assembly is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table

PLATE = "plate"


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition: its words, what a limit may mean by it, and for each what to do where it was
    read otherwise; whether it is asked only under a torque plate.
    """

    key: str
    words: str
    how: str
    meant: Mapping[str, str]
    needs_plate: bool


@cache
def conditions() -> tuple[Condition, ...]:
    """Every condition, in the order in which a block is set up."""
    return tuple(
        Condition(row["key"], row["words"], row["how"], row["meant"], row.get("needs_plate", False))
        for row in table("assembly")["conditions"]
    )


@cache
def torque_within() -> Quantity:
    """How near a plate must be to the torque its limit means, as a share of it."""
    row = table("assembly")["torque"]
    return read_quantity(row["within"])


@cache
def heats() -> tuple[str, ...]:
    """The operations whose heat and force move every feature."""
    return tuple(table("assembly")["heat"]["operations"])
