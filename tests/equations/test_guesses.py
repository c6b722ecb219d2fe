"""Guesses: what is held to one is never OK, and passes nothing. Common practice, no source."""

from __future__ import annotations

import math

import pytest

from datumbook.equations.guesses import unless_guessed, verdict_of_guesses


@pytest.mark.parametrize(
    ("verdict", "made"),
    [("OK", "UNSURE"), ("OUT", "OUT"), ("OPEN", "OPEN"), ("STALE", "STALE"), ("", "")],
)
def test_unless_guessed_an_ok_of_a_guess_is_none(verdict: str, made: str) -> None:
    assert unless_guessed(verdict) == made


def test_verdict_of_guesses_is_unsure_while_there_is_one() -> None:
    assert [verdict_of_guesses(count) for count in (0.0, 1.0, 26.0)] == ["OK", "UNSURE", "UNSURE"]
    assert verdict_of_guesses(math.nan) == "OK"
