"""Cleaning and keeping: whether a bath suits the metal, whether residue is left, whether the film
against rust is on record.
"""

from __future__ import annotations

from datumbook.equations.verdicts import NOTHING_ASKED, OK, OPEN, OUT
from datumbook.formulas.functions import (
    any_of,
    blank,
    equal,
    largest,
    missing,
    more_than,
    numbers_in,
    only_where,
    smallest,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Ratio, Words


@takes_blanks
def verdict_of_bath(bath: Words, *attacking: Words) -> Words:
    """The verdict on the bath a block was washed in: OUT where it dissolves a metal in it.

    attacking: the baths that do.

    Source: common practice, no source.

    >>> verdict_of_bath("hot alkali", "hot alkali", "acid"), verdict_of_bath("hot jet", "acid")
    ('OUT', 'OK')
    """
    return where(blank(bath), OPEN, _bath(bath, attacking))


@takes_blanks
def verdict_of_further_bath(bath: Words, *attacking: Words) -> Words:
    """As verdict_of_bath, of one that need not be: blank where there was none.

    Source: as verdict_of_bath.

    >>> verdict_of_further_bath("", "acid"), verdict_of_further_bath("acid", "acid")
    ('', 'OUT')
    """
    return where(blank(bath), NOTHING_ASKED, _bath(bath, attacking))


def _bath(bath: str, attacking: tuple[str, ...]) -> str:
    return where(any_of(*(equal(bath, one) for one in attacking)), OUT, OK)


@takes_blanks
def residue_off(rinse: Ratio, tap: Ratio) -> Ratio:
    """How far the acidity (pH) of a last rinse is from being clean: outside 6 to 8, and more than
    one half away from that of the water from the tap; nothing where it is clean.

    tap: may be blank, then 6 to 8 alone counts.

    Source: common practice, no source.

    >>> residue_off(rinse=9.0, tap=7.5), residue_off(rinse=8.6, tap=8.4)
    (1.0, 0)
    """
    off_neutral = largest(abs(rinse - 7) - 1, 0)
    off_tap = largest(abs(rinse - tap) - 0.5, 0)
    off = where(missing(tap), off_neutral, smallest(off_neutral, off_tap))
    return only_where(more_than(numbers_in(rinse), 0), off)


@takes_blanks
def verdict_of_film(film: Words, put_on: Words, inspect_by: Words) -> Words:
    """The verdict on the film against rust: OPEN until its kind, the day it was put on and the day
    by which it is looked at again are written.

    Source: common practice, no source.

    >>> verdict_of_film("light oil", "2026-05-12", "")
    'OPEN'
    """
    return where(any_of(blank(film), blank(put_on), blank(inspect_by)), OPEN, OK)
