"""Addresses of cells as people and programs write them: `C7`, `Bores!$C$7`, `'Bores'!C7`,
`$Bores.$C$7`.
"""

from __future__ import annotations

import re
from functools import lru_cache
from string import ascii_uppercase

from datumbook.formulas.spelling import column_letters

LAST_ROW = 1_048_576
LAST_COLUMN = 16_384

_CELL = re.compile(r"\$?([A-Za-z]{1,3})\$?([0-9]{1,7})", re.ASCII)
_TARGET = re.compile(
    r"=?\$?(?P<sheet>'(?:[^']|'')+'|[^'!:]+?)(?:!|\.)(?P<cell>\$?[A-Za-z]{1,3}\$?[0-9]{1,7})",
    re.ASCII,
)


@lru_cache(maxsize=LAST_COLUMN)
def column_number(letters: str) -> int:
    """Return the number of a column, A is 1; ValueError if there is no such column.

    >>> column_number("AA")
    27
    """
    number = 0
    for letter in letters.upper():
        number = number * 26 + ascii_uppercase.index(letter) + 1
    if not 1 <= number <= LAST_COLUMN:
        raise ValueError(f"{letters!r} is not a column")
    return number


@lru_cache(maxsize=65_536)
def place_of(address: str) -> tuple[int, int]:
    """Return (row, column) of an address without a sheet, `$` ignored; ValueError if it is none.

    >>> place_of("$C$7")
    (7, 3)
    """
    match = _CELL.fullmatch(address)
    if match is None or not 1 <= int(match[2]) <= LAST_ROW:
        raise ValueError(f"{address!r} is not the address of a cell")
    return int(match[2]), column_number(match[1])


def address_of(row: int, column: int) -> str:
    """Return the address of a cell.

    >>> address_of(7, 3)
    'C7'
    """
    return f"{column_letters(column)}{row}"


def plain_sheet(name: str) -> str:
    """Return a sheet's name without the quotes a formula puts round it.

    >>> plain_sheet("'Rob''s gauge'")
    "Rob's gauge"
    """
    return name[1:-1].replace("''", "'") if name[:1] == "'" else name


def target(text: str) -> tuple[str, int, int] | None:
    """Return (sheet, row, column) of the one cell a name stands for, None where it is anything
    else.

    >>> target("Bores!$C$7"), target("$Bores.$C$7"), target("Bores!#REF!")
    (('Bores', 7, 3), ('Bores', 7, 3), None)
    """
    match = _TARGET.fullmatch(text.strip()) if len(text) < 500 else None
    if (
        match is None
        or "#REF" in match["sheet"]
        or ("[" in match["sheet"] and match["sheet"][0] != "'")
    ):
        return None
    try:
        return plain_sheet(match["sheet"]), *place_of(match["cell"])
    except ValueError:
        return None
