"""The order of work: which operations a job has, what must come before each, and what each makes
stale.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from datumbook.standards import table

ANY_CUT = "any cut"


@dataclass(frozen=True, slots=True)
class MeasuredTogether:
    """A series: features that are measured in one go when they are finished."""

    key: str
    words: str
    features: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation: its key and words, whether it takes metal, the features it moves, the
    stations it cannot do without, and the sections of a spec without which it cannot be planned.
    """

    key: str
    words: str
    cut: bool
    spoils: tuple[str, ...]
    needs: tuple[str, ...]
    wants: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rule:
    """`before` has a lower done number than `after`; where it is needed, it is done at all before
    `after` is. One that holds for every cut is said once.
    """

    before: str
    after: str
    reason: str
    needed: bool
    every_cut: bool = False


@cache
def operations() -> dict[str, Operation]:
    """Every operation by key, in the usual order."""
    return {
        row["key"]: Operation(
            row["key"],
            row["words"],
            row.get("cut", False),
            tuple(row.get("spoils", ())),
            tuple(row.get("needs", ())),
            tuple(row.get("wants", ())),
        )
        for row in table("order")["operations"]
    }


@cache
def rules() -> tuple[Rule, ...]:
    """Every rule, "any cut" written out for each operation that takes metal."""
    cuts = [one.key for one in operations().values() if one.cut]
    return tuple(
        Rule(row["before"], after, row["reason"], row.get("needed", False), row["after"] == ANY_CUT)
        for row in table("order")["rules"]
        for after in (cuts if row["after"] == ANY_CUT else [row["after"]])
    )


def spoilers(feature: str) -> list[str]:
    """The operations that make a feature's readings stale, in the usual order."""
    return [one.key for one in operations().values() if feature in one.spoils]


@cache
def measured_with(feature: str) -> MeasuredTogether:
    """The series with which a feature is measured as finished."""
    (row,) = (row for row in table("order")["series"] if feature in row["features"])
    return MeasuredTogether(row["key"], row["words"], tuple(row["features"]))
