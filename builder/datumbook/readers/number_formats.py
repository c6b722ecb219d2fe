"""Number formats of .xlsx: which of them show a number as a date or as a percentage."""

from __future__ import annotations

import re
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


def number_format(text: str) -> NumberFormat:
    """Return a format with what it makes of a number; fractions and words in quotes make no date.

    >>> [number_format(text).is_date for text in ("yyyy-mm-dd", "# ??/64", '0.00" mm"')]
    [True, False, False]
    """
    code = _NOT_SHOWN_AS_CODE.sub("", text)
    return NumberFormat(text, re.search("[ymdhs]", code, re.IGNORECASE) is not None, "%" in code)


GENERAL = number_format("General")
