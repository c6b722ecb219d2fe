"""Guesses: what becomes of the verdict on what rests on a figure that only holds the place of the
maker's own.
"""

from __future__ import annotations

from datumbook.equations.verdicts import OK, UNSURE
from datumbook.formulas.functions import equal, more_than, takes_blanks, where
from datumbook.formulas.kinds import Count, Words


@takes_blanks
def unless_guessed(verdict: Words) -> Words:
    """The verdict on what is held to a guess: whether it keeps the maker's limit nobody can tell.
    What is missing or was moved stays so.

    Source: common practice, no source.

    >>> unless_guessed("OK"), unless_guessed("OPEN")
    ('UNSURE', 'OPEN')
    """
    return where(equal(verdict, OK), UNSURE, verdict)


@takes_blanks
def verdict_of_guesses(guessed: Count) -> Words:
    """The verdict on a section of the engine file: UNSURE while any of its figures is a guess.

    Source: count.

    >>> verdict_of_guesses(guessed=3.0)
    'UNSURE'
    """
    return where(more_than(guessed, 0), UNSURE, OK)
