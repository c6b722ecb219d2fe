"""Lines of a sheet found again by what they hold: the fewest inserted and deleted that explain what
stands there.
"""

from __future__ import annotations

import pytest

from datumbook.validator.locate.moved_lines import aligned, shape

WORDS = ["head", "first", "second", "third", "note", "fourth", "fifth"]


def held(words: list[str]) -> dict[int, set[str]]:
    return {line: {word, "every line"} for line, word in enumerate(words, start=1) if word}


def found(words: list[str], known: dict[int, int | None] | None = None) -> list[int | None]:
    return list(aligned(held(WORDS), held(words), known or {}).values())


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        (WORDS, [1, 2, 3, 4, 5, 6, 7]),
        (["", *WORDS], [2, 3, 4, 5, 6, 7, 8]),
        ([*WORDS[:3], *[""] * 40, *WORDS[3:]], [1, 2, 3, 44, 45, 46, 47]),
        ([*WORDS[:2], *WORDS[4:]], [1, 2, None, None, 3, 4, 5]),
        (WORDS[1:], [None, 1, 2, 3, 4, 5, 6]),
        (WORDS[:5], [1, 2, 3, 4, 5, None, None]),
        ([*WORDS[:2], "zweite", *WORDS[3:]], [1, 2, 3, 4, 5, 6, 7]),
        ([*WORDS[:2], "third", "second", *WORDS[4:]], [1, 2, 3, 4, 5, 6, 7]),
    ],
    ids=[
        "nothing done",
        "one inserted at the top",
        "forty inserted",
        "two deleted",
        "the first deleted",
        "the last two deleted",
        "one reworded",
        "two exchanged",
    ],
)
def test_lines_are_found_by_what_they_hold(words: list[str], lines: list[int | None]) -> None:
    assert found(words) == lines


def test_a_line_that_is_known_counts_for_more_than_words() -> None:
    assert found(["", *WORDS], {4: 4}) == [1, 2, 3, 4, 6, 7, 8]


def test_the_shape_of_a_formula_is_what_no_moving_changes() -> None:
    assert shape('IF(COUNT(B12:C12)=2,ABS(B12-Walls!$C$7),"")') == shape(
        "IF(COUNT(B13:D13)=2,ABS(#REF!-'Wall 2'!$C$9),\"\")"
    )
    assert shape("ABS(B12-C12)") != shape("ABS(B12+C12)")
