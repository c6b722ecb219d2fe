"""The words of a formula, found by one regular expression; what it cannot read is a ValueError.

A formula library would do as well, but its import takes longer than reading a whole workbook.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple


class Token(NamedTuple):
    """One word of a formula: its kind (a group of the pattern), its text, and the sheet before it,
    as written.
    """

    kind: str
    text: str
    sheet: str


_SHEET = r"(?:'(?:[^']|'')+'|(?:\[[^\]]+\])?[^\W\d][\w.]*(?::[\w.]+)?|\[[^\]]+\][\w.]*)!"
_NO_MORE_NAME = r"(?![\w.(\\])"
_PATTERN = re.compile(
    rf"""\s*(?:
      (?P<text>"(?:[^"]|"")*")
    | (?P<sheet>{_SHEET})? (?:
        (?P<error>\#(?:REF!|DIV/0!|N/A|NAME\?|NULL!|NUM!|VALUE!|SPILL!|CALC!|GETTING_DATA|FIELD!|BLOCKED!))
      | (?P<function>[^\W\d][\w.]*)\s*\(
      | (?P<columns>\$?[A-Za-z]{{1,3}}:\$?[A-Za-z]{{1,3}}{_NO_MORE_NAME})
      | (?P<rows>\$?[0-9]{{1,7}}:\$?[0-9]{{1,7}}{_NO_MORE_NAME})
      | (?P<cell>\$?[A-Za-z]{{1,3}}\$?[0-9]{{1,7}}{_NO_MORE_NAME})
      | (?P<name>[^\W\d][\w.\\?]*(?:\[(?:[^\[\]]|\[[^\[\]]*\])*\])? | \\[\w.\\?]*)
      )
    | (?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)
    | (?P<sign><=|>=|<>|[-+*/^&=<>%(),;{{}}:@\#])
    )\s*""",
    re.VERBOSE,
)


def tokens(formula: str) -> list[Token]:
    """Return the words of a formula without its leading "="; ValueError where something cannot be
    read.

    >>> [token.text for token in tokens("SUM(Bores!$C$7, 25.40)")]
    ['SUM', '$C$7', ',', '25.40', ')']
    """
    return [
        Token(match.lastgroup or "", match[match.lastgroup or ""], match["sheet"] or "")
        for match in _matches(formula)
    ]


def spans(formula: str) -> Iterator[tuple[str, int, int]]:
    """Yield the kind of each word, and where it begins and ends, its sheet left out; ValueError as
    tokens.
    """
    for match in _matches(formula):
        kind = match.lastgroup or ""
        yield kind, *match.span(kind)


def _matches(formula: str) -> Iterator[re.Match[str]]:
    place = 0
    while place < len(formula):
        match = _PATTERN.match(formula, place)
        if match is None or match.lastgroup is None:
            raise ValueError(f"{formula[place : place + 20]!r} cannot be read in a formula")
        yield match
        place = match.end()
