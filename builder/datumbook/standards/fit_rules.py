"""How much room a part wants where nobody says: the shop's rules of so much to the inch, each by
its name.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table


@dataclass(frozen=True, slots=True)
class FitRule:
    """A rule of so much to the inch of diameter: least, most, and that it has no source."""

    name: str
    least: Quantity
    most: Quantity
    source: str

    @property
    def middle(self) -> Fraction:
        """Halfway between least and most."""
        return (self.least.number + self.most.number) / 2


def fit_rule(name: str) -> FitRule:
    """Return the rule of a name; LookupError naming those known.

    >>> fit_rule("ring, top").least.text
    '0.0035'
    """
    rows = table("fit_rules")
    if name not in rows:
        raise LookupError(f'"{name}" is no rule of fit; the table holds {", ".join(rows)}.')
    row = rows[name]
    return FitRule(name, read_quantity(row["least"]), read_quantity(row["most"]), row["source"])
