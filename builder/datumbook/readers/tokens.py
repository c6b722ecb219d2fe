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


_SHEET = r"(?:'(?:[^']|'')+'|(?:\[[^\]]+\])?[^\W\d][\w.]*+(?::[\w.]++)?+|\[[^\]]+\][\w.]*)!"
_SIGNS = {sign: Token("sign", sign, "") for sign in (*"-+*/^&=<>%(),;{}:@#", "<=", ">=", "<>")}
_NO_MORE_NAME = r"(?![\w.(\\])"
_PATTERN = re.compile(
    rf"""\s*(?:
      (?P<sign><=|>=|<>|[-+*/^&=<>%(),;{{}}:@]|\#(?![A-Z]))
    | (?P<text>"(?:[^"]|"")*")
    | (?P<number>(?:[0-9]++(?!:\$?[0-9])\.?[0-9]*+|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)
    | (?P<sheet>{_SHEET}|) (?:
        (?P<error>\#(?:REF!|DIV/0!|N/A|NAME\?|NULL!|NUM!|VALUE!|SPILL!|CALC!|GETTING_DATA|FIELD!|BLOCKED!))
      | (?P<function>[^\W\d][\w.]*+)\s*+\(
      | (?P<columns>\$?[A-Za-z]{{1,3}}:\$?[A-Za-z]{{1,3}}{_NO_MORE_NAME})
      | (?P<rows>\$?[0-9]{{1,7}}:\$?[0-9]{{1,7}}{_NO_MORE_NAME})
      | (?P<cell>\$?[A-Za-z]{{1,3}}\$?[0-9]{{1,7}}{_NO_MORE_NAME})
      | (?P<name>[^\W\d][\w.\\?]*(?:\[(?:[^\[\]]|\[[^\[\]]*\])*\])? | \\[\w.\\?]*)
      )
    | (?P<wrong>.)
    )\s*""",
    re.VERBOSE | re.DOTALL,
)


def tokens(formula: str) -> list[Token]:
    """Return the words of a formula without its leading "="; ValueError where something cannot be
    read.

    >>> [token.text for token in tokens("SUM(Bores!$C$7, 25.40)")]
    ['SUM', '$C$7', ',', '25.40', ')']
    """
    return [
        _SIGNS[match[kind]] if kind == "sign" else Token(kind, match[kind], match["sheet"] or "")
        for kind, match in _matches(formula)
    ]


def spans(formula: str) -> Iterator[tuple[str, int, int]]:
    """Yield the kind of each word, and where it begins and ends, its sheet left out; ValueError as
    tokens.
    """
    for kind, match in _matches(formula):
        yield kind, *match.span(kind)


def _matches(formula: str) -> Iterator[tuple[str, re.Match[str]]]:
    for match in _PATTERN.finditer(formula):
        kind = match.lastgroup
        if kind is None or kind == "wrong":
            raise ValueError(f"{formula[match.start() :][:20]!r} cannot be read in a formula")
        yield kind, match
