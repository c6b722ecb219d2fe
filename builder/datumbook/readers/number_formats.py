"""Number formats of .xlsx: which of them show a number as a date or as a percentage."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

BUILT_IN: dict[int, str] = {
    0: "General",
    1: "0",
    2: "0.00",
    3: "#,##0",
    4: "#,##0.00",
    9: "0%",
    10: "0.00%",
    11: "0.00E+00",
    12: "# ?/?",
    13: "# ??/??",
    14: "mm-dd-yy",
    15: "d-mmm-yy",
    16: "d-mmm",
    17: "mmm-yy",
    18: "h:mm AM/PM",
    19: "h:mm:ss AM/PM",
    20: "h:mm",
    21: "h:mm:ss",
    22: "m/d/yy h:mm",
    37: "#,##0 ;(#,##0)",
    38: "#,##0 ;[Red](#,##0)",
    39: "#,##0.00;(#,##0.00)",
    40: "#,##0.00;[Red](#,##0.00)",
    45: "mm:ss",
    46: "[h]:mm:ss",
    47: "mmss.0",
    48: "##0.0E+0",
    49: "@",
}
"""The formats a file names by number only. Source: ECMA-376 part 1, 18.8.30 (numFmt)."""

_NOT_SHOWN_AS_CODE = re.compile(
    r'"[^"]*"'  # words in quotes
    r"|\\.|_.|\*."  # one letter as it is, the width of a letter, a letter that fills
    r"|\[(?!h+\]|m+\]|s+\])[^\[\]]*\]",  # colours, conditions, locales; [h] is a duration and stays
    re.IGNORECASE,
)


class NumberFormat(NamedTuple):
    """A number format and what it makes of a number."""

    text: str
    is_date: bool
    is_percent: bool


@lru_cache(maxsize=1_024)
def number_format(text: str) -> NumberFormat:
    """Return a format with what it makes of a number; fractions and words in quotes make no date.

    >>> [number_format(text).is_date for text in ("yyyy-mm-dd", "# ??/64", '0.00" mm"')]
    [True, False, False]
    """
    code = _NOT_SHOWN_AS_CODE.sub("", text)
    return NumberFormat(text, re.search("[ymdhs]", code, re.IGNORECASE) is not None, "%" in code)


GENERAL = number_format("General")


LONGEST = 255
"""Characters of a number format. Source: ECMA-376 part 1, 18.8.31 (from memory)."""

WHOLLY = 15
"""Decimals of a format that shows a number with all its digits, as many as a cell holds."""

_LOCALE = re.compile(r"\[\$[^\]]*\]")
_PLAIN = re.compile(r"(?:#,##)?[#0?]+(?:\.(?P<decimals>[0#?]+))?")
_DAY = re.compile(r"[ymd]{1,4}(?:[-./ ]+[ymd]{1,4}){2}")
_FRACTION = re.compile(r"# \?+/(?:\?+|(?P<parts>\d+))")


@lru_cache(maxsize=1_024)
def settled(text: str) -> str:
    """Return a number format as it is compared: without the locale, words for themselves in quotes.

    >>> settled(r"[$-409]0.000"), settled(r"d\\-mmm"), settled("GENERAL")
    ('0.000', 'd-mmm', 'General')
    """
    plain = _LOCALE.sub("", text).replace("\\-", "-").replace('"-"', "-")
    return "General" if plain.casefold() in ("general", "standard", "") else plain


@lru_cache(maxsize=1_024)
def decimals_shown(text: str) -> int | None:
    """Return to how many decimals a format shows any number truly, and nothing beside it; None for
    one that scales, adds words, hides, asks, or makes a date or a percentage of it.

    >>> [decimals_shown(text) for text in ("0.000##", "General", "@", "0.0;-0.0", "# ??/64")]
    [5, 15, 15, 1, 1]
    >>> [decimals_shown(text) for text in ("0.000,", '"0.037"#', ";;;", "0.0;0.0", "0%", "d-mmm")]
    [None, None, None, None, None, None]
    """
    if len(text) > LONGEST:
        return None
    parts = settled(text).split(";")
    if len(parts) > 1:
        below = parts[1].removeprefix("[Red]").removeprefix("[RED]")
        if not below.startswith("-") or len(parts) > 4 or (len(parts) == 4 and parts[3] != "@"):
            return None
        parts = [parts[0], below[1:], *parts[2:3]]
    shown = [_decimals(part) for part in parts]
    return None if None in shown else min(one for one in shown if one is not None)


def _decimals(part: str) -> int | None:
    if part in ("General", "@"):
        return WHOLLY
    if plain := _PLAIN.fullmatch(part):
        return len(plain["decimals"] or "")
    return 1 if _FRACTION.fullmatch(part) else None


@lru_cache(maxsize=1_024)
def shows_a_day(text: str) -> bool:
    """Say whether a format shows a day whole, and nothing beside it.

    >>> [shows_a_day(text) for text in ("yyyy-mm-dd", "dd.mm.yy;@", "d/m/yyyy", "mmm-yy", "ymd;;;")]
    [True, True, True, False, False]
    """
    plain = settled(text).casefold().removesuffix(";@")
    return _DAY.fullmatch(plain) is not None and set("ymd") <= set(plain)


@lru_cache(maxsize=1_024)
def shows_words(text: str) -> bool:
    """Say whether a format shows words as they are.

    >>> [shows_words(text) for text in ("@", "0.0%", '"not "@', ";;;", "0;-0;0;@")]
    [True, True, False, False, True]
    """
    parts = settled(text).split(";")
    if len(text) > LONGEST or any("@" in part and part != "@" for part in parts):
        return False
    if len(parts) > 3:
        return parts[3] == "@" and len(parts) == 4
    return len(parts) > 1 or not re.search(r'["\\*]', parts[0])
