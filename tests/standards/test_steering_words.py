"""Words by which somebody at a machine goes: common practice, no source."""

from __future__ import annotations

import pytest

from datumbook.standards.steering_words import LINKING, steering_words, steers, words_of


@pytest.mark.parametrize(
    "word", ["left", "thrust", "never", "not", "psi", "mm", "danger", "before", "least", "bore"]
)
def test_sides_senses_units_and_dangers_steer(word: str) -> None:
    assert steers(word, frozenset())


@pytest.mark.parametrize("word", ["82", "/", "±", "≤", "▲", "-"])
def test_figures_and_signs_steer(word: str) -> None:
    assert steers(word, frozenset())


def test_a_name_of_the_book_steers_and_a_comma_or_a_word_of_nothing_does_not() -> None:
    assert steers("magneto", frozenset({"magneto"}))
    assert not any(steers(word, frozenset()) for word in ("magneto", ",", "·", "gladly"))
    assert not LINKING & steering_words()


def test_words_are_taken_apart_at_signs() -> None:
    assert words_of("Relief 15/32 in") == ["relief", "15", "/", "32", "in"]
