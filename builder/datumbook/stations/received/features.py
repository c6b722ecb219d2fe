"""What the features of a block share: their ticks, their nominal sizes, and how a size is held."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from datumbook.cells.columns import (
    Check,
    Column,
    Input,
    Per,
    Reading,
    Result,
    Sizes,
    limited,
    typed_words,
)
from datumbook.cells.tables import Table
from datumbook.equations import bores
from datumbook.equations.verdicts import DONE, NOT_DONE, REPAIRED, SOUND, verdict_of_outcome
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit, limit
from datumbook.spec.limits import Band


class TwoPointSizes(Table):
    """Features of which several diameters are read: the smallest and the largest of each."""

    smallest_size: Column
    largest_size: Column


def out_of_round(sizes: Sizes, read: Sequence[Column]) -> Result:
    """How far a bore is from round at one depth: of two directions their difference, of more the
    largest less the smallest.
    """
    if len(read) == 2:
        return sizes.result("out_of_round", "out of round", bores.out_of_round)
    return sizes.result("out_of_round", "out of round", bores.out_of_round_all, diameters=read)


def two_point(sizes: Sizes, diameters: Per[Input]) -> tuple[Column, Column]:
    """The smallest and the largest of all diameters read."""
    return (
        sizes.result("smallest_size", "smallest", bores.smallest_size, diameters=diameters),
        sizes.result("largest_size", "largest", bores.largest_size, diameters=diameters),
    )


def two_point_held(
    sizes: Sizes, diameters: Per[Input], band: Band
) -> tuple[Column, Check, Column, Check]:
    """Every diameter read, held to both ends of a band: the smallest to the low one, the largest to
    the high one (ISO 14405-1, two-point size). A mean releases nothing.
    """
    smallest, largest = two_point(sizes, diameters)
    return (
        *limited(smallest, limit(band.source, low=band.low)),
        *limited(largest, limit(band.source, high=band.high)),
    )


def tick(name: str, words: str, how: str) -> Reading:
    """A cell in which work is ticked off."""
    return Reading(name=name, words=words, unit=None, choices=(DONE,), how=how)


def ticked(name: str, words: str, how: str) -> tuple[Reading, Check]:
    """A tick, and the check that it is made."""
    made = tick(name, words, how)
    return made, Check(of=made, says=DONE)


def outcome(fails: str, how: str) -> tuple[Column | Check, ...]:
    """What a test by looking found, with the place and the words of what failed, and what the test
    again found once that was repaired.
    """
    found = Reading(
        name="outcome",
        words="outcome",
        unit=None,
        choices=(SOUND, fails, REPAIRED, NOT_DONE),
        how=how,
    )
    again = typed_words(
        "again", "again", "Outcome of the test again, after a repair.", choices=(SOUND, fails)
    )
    place = typed_words("where", "where", "Where it failed, for the one who repairs it.", width=20)
    said = typed_words("words", "words", "What was seen, or why it was not done.", width=30)
    verdict = Result(name="verdict", words="verdict", equation=verdict_of_outcome)
    check = Check(of=verdict, judged=True, source=found.words, story=(found, again, place, said))
    return (found, again, verdict, check, place, said)


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
