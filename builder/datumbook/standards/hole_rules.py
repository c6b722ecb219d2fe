"""What shops hold a threaded hole to: the leads of taps, and the rules for length of engagement,
each by its name.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from datumbook.standards import row_called, table


@dataclass(frozen=True, slots=True)
class Tap:
    """A tap: how many pitches of lead it has, least and most, before it cuts a full thread, and the
    figure that is counted with.
    """

    name: str
    least_lead: Fraction
    most_lead: Fraction
    lead: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class EngagementRule:
    """A rule for the least engagement: so many diameters, or the name of the equation it is worked
    by.
    """

    name: str
    diameters: Fraction | None
    equation: str | None
    source: str


def taps() -> list[Tap]:
    """Return the taps, the longest lead first."""
    return [
        Tap(
            name,
            Fraction(row["least"]),
            Fraction(row["most"]),
            Fraction(row["counted"]),
            row["source"],
        )
        for name, row in table("taps").items()
    ]


def tap(name: str) -> Tap:
    """Return the tap of a name; LookupError naming those known."""
    return row_called(name, taps(), "is no tap known here: choose from")


def engagement_rules() -> list[EngagementRule]:
    """Return the rules by which a least engagement is reckoned, in the order they are offered."""
    return [_rule(row) for row in table("engagement")["rule"]]


def engagement_rule(name: str) -> EngagementRule:
    """Return the rule of a name; LookupError naming those known."""
    return row_called(name, engagement_rules(), "is no rule of engagement: choose from")


def _rule(row: dict[str, str]) -> EngagementRule:
    return EngagementRule(
        name=row["name"],
        diameters=Fraction(row["diameters"]) if "diameters" in row else None,
        equation=row.get("equation"),
        source=row["source"],
    )
