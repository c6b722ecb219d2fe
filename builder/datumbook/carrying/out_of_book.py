"""Readings out of a book: one by one for a program, or as CSV for anybody."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from datumbook.cells.columns import DateTyped
from datumbook.validator import Validation
from datumbook.validator.readings.entries import UNREAD

FIRST_DAY = date(1899, 12, 30).toordinal()
RISKY = ("=", "+", "-", "@", "\t", "\r", "\n")


class ReadingTold(NamedTuple):
    """One cell for a reading and what stands in it: a number in `unit`, words where there is no
    unit, a day as year-month-day, None where it is blank. `unread` is what stands there where that
    is no reading at all; `value` is None then.
    """

    key: str
    sheet: str
    cell: str
    label: str
    unit: str
    value: float | str | None
    unread: str = ""


def readings_told(validation: Validation) -> Iterator[ReadingTold]:
    """Yield every cell for a reading, in the order of the sheets; none of a file that is no book
    of ours.
    """
    unread = unread_in(validation)
    for place in validation.layout.readings() if validation.layout else ():
        typed = None if place.key in unread else validation.typed.get(place.key)
        yield ReadingTold(
            str(place.key),
            place.at.sheet,
            place.at.cell,
            place.label,
            place.unit or "",
            written_as(typed) if isinstance(typed, DateTyped) else typed,
            unread.get(place.key, ""),
        )


def readings_csv(validation: Validation) -> str:
    """Return every reading of a book as CSV: key, sheet, cell, label, unit, value (blank where
    nothing is typed).
    """
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow(ReadingTold._fields[:-1])
    for one in readings_told(validation):
        said = harmless(one.unread) or written_as(one.value)
        lines.writerow([one.key, one.sheet, one.cell, harmless(one.label), one.unit, said])
    return out.getvalue()


def unread_in(validation: Validation) -> dict[str, str]:
    """What stands in the cells that hold nothing a person read or wrote, by their keys."""
    return {one.key: one.found for one in validation.findings if one.code in UNREAD}


def written_as(typed: float | str | None) -> str:
    """A reading as the CSV has it; "" where there is none."""
    if isinstance(typed, DateTyped):
        return date.fromordinal(FIRST_DAY + int(typed)).isoformat()
    return f"{typed:.15g}" if isinstance(typed, float) else harmless(typed or "")


def harmless(text: str) -> str:
    """Words that no program takes for a formula when it opens the CSV.

    >>> harmless("=1+1"), harmless("'=1+1"), harmless("'quoted'")
    ("'=1+1", "''=1+1", "'quoted'")
    """
    return f"'{text}" if text.lstrip("'").startswith(RISKY) else text
