"""Words by which somebody at a machine goes."""

from __future__ import annotations

import re
from functools import cache

from datumbook.standards import table
from datumbook.standards.cautions import cautions
from datumbook.standards.order import operations

LINKING = frozenset(table("steering_words")["linking"].split())
"""Words that name nothing."""

_WORD = re.compile(r"[^\W_]+|[^\w\s]")
_HARMLESS = frozenset(".,;:'\"()·–—…!?“”‘’")


def words_of(text: str) -> list[str]:
    """Return the words and signs of a text, in small letters.

    >>> words_of("DANGER: 15/32, not 17/32.")
    ['danger', ':', '15', '/', '32', ',', 'not', '17', '/', '32', '.']
    """
    return [found[0].casefold() for found in _WORD.finditer(text)]


def without_marks(words: list[str]) -> list[str]:
    """Return the words and signs of a text without commas, points and the like.

    >>> without_marks(words_of("Oversize, -0.75 (mm)"))
    ['oversize', '-', '0', '75', 'mm']
    """
    return [word for word in words if word not in _HARMLESS]


@cache
def steering_words() -> frozenset[str]:
    """Return every word of the trade that steers, those of units, operations and cautions among
    them.
    """
    texts = [*table("steering_words").values(), *table("units")["words"]]
    texts += [one.words for one in operations().values()]
    texts += [line for one in cautions() for line in (one.words, *one.lines)]
    texts += [
        line for said in table("cautions").values() for line in said if isinstance(said, list)
    ]
    return (
        frozenset(word for text in texts if isinstance(text, str) for word in words_of(text))
        - LINKING
        - _HARMLESS
    )


def steers(word: str, names: frozenset[str]) -> bool:
    """Say whether a word or sign steers: one of the trade's, one of these names, a figure, or a
    sign that is no comma.
    """
    if word in _HARMLESS:
        return False
    return word in steering_words() or word in names or not word.isalpha()
