"""What the features of a block share: their ticks and their nominal sizes."""

from __future__ import annotations

from fractions import Fraction

from datumbook.cells.columns import Check, Reading
from datumbook.equations.verdicts import DONE
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit
from datumbook.spec.limits import Band


def tick(name: str, words: str, how: str) -> Reading:
    """A cell in which work is ticked off."""
    return Reading(name=name, words=words, unit=None, choices=(DONE,), how=how)


def ticked(name: str, words: str, how: str) -> tuple[Reading, Check]:
    """A tick, and the check that it is made."""
    made = tick(name, words, how)
    return made, Check(of=made, says=DONE)


def drawn(band: Band) -> Quantity:
    """The drawing's size, or the lower end where the drawing gives only two ends."""
    return band.nominal or band.low


def middle(limit: Limit) -> Quantity:
    """A size well within a limit: halfway between its ends, its lower end, or half its upper
    one.
    """
    low, high, half = limit.low, limit.high, Fraction(1, 2)
    if low is not None and high is not None:
        return (low + high) * half
    found = low if low is not None else high * half if high is not None else None
    assert found is not None  # a limit has an end
    return found
