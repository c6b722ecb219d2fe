"""Guesses: the figures of a spec that only hold the place of the maker's own."""

from __future__ import annotations

import re
from collections.abc import Iterator

from datumbook.numbers.quantities import BETWEEN_SOURCES, Quantity
from datumbook.spec.limits import Limit, SpecPart

TO_DO = "not yet filled in"
SAYS_NOTHING = re.compile(r"\W+|source|text|words?|value|unknown|not known", re.IGNORECASE)
ANYWHERE = re.compile(
    rf"{TO_DO}|(?<!\w)(?:to ?do|t\.? ?b\.? ?[da]|n\. ?k|fixme|xxx+|fill (?:me )?in)(?!\w)",
    re.IGNORECASE,
)
EVERY_FIGURE = "every_figure"
SOURCES = ("source", "hatch_source")


def is_placeholder(words: str) -> bool:
    """Say whether words only hold the place of others.

    >>> is_placeholder("not yet filled in"), is_placeholder("..."), is_placeholder("sheet 4")
    (True, True, False)
    """
    each = words.split(BETWEEN_SOURCES)
    return bool(ANYWHERE.search(words)) or any(SAYS_NOTHING.fullmatch(one.strip()) for one in each)


def guesses(part: object, key: str = "") -> Iterator[str]:
    """Yield the key of every figure that is marked as guessed or whose source says nothing, in the
    order of the model; lists count from 1.
    """
    if isinstance(part, Limit | Quantity):
        if part.guessed or (part.source and is_placeholder(part.source)):
            yield key
    elif isinstance(part, SpecPart):
        if getattr(part, "guessed", False):
            yield EVERY_FIGURE
        for name, value in part:
            if name in SOURCES and isinstance(value, str) and is_placeholder(value):
                yield f"{key}.{name}".lstrip(".")
            yield from guesses(value, f"{key}.{name}".lstrip("."))
    elif isinstance(part, tuple):
        for at, value in enumerate(part, start=1):
            own = getattr(value, "key", None)
            yield from guesses(value, f"{key}.{own}" if own else f"{key}[{at}]")
