"""Which sign stands before the decimals of a CSV: one for the whole file, certain or refused.

A comma is the decimal sign where some number can mean nothing else: by how it is written (0,64 or
82,0 has no thousands) or by what its cell allows (82,013 in a bore of 82 is no 82013).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from datumbook.carrying.csv_text import CsvLine, CsvText
from datumbook.cells.columns import Reading, possible
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place

_WITH_COMMA = re.compile(
    r"(?P<sign>[-+−]?) ?(?P<whole>\d*),(?P<part>\d+)(?P<behind>(?:[^\d,.].*)?)"
)
_WITH_POINT = re.compile(r"[-+−]? ?\d*\.\d[^,]*")
_WHOLE = re.compile(r"[-+−]?\d+")

SizedLines = list[tuple[CsvLine, Place]]


def comma_faults(said: CsvText, layout: Layout, source: Path) -> dict[int, str]:
    """Return what cannot be told of the decimal signs, by line."""
    numbers = list(_numbers(said, layout))
    faults = {}
    if said.separator == ",":
        faults = {
            line.number: f"{source} line {line.number}: {line.key}: {line.value} and "
            f"{line.behind} stand side by side and may be one number; write {line.value}.0, or "
            f'"{line.value},{line.behind}" in quotes if that is meant.'
            for line, _ in numbers
            if _WHOLE.fullmatch(line.value) and re.fullmatch(r"\d+", line.behind)
        }
    commas = _commas(numbers)
    pointed = next((line for line, _ in numbers if _WITH_POINT.fullmatch(line.value)), None)
    if commas and pointed is not None:
        why = f"while line {pointed.number} has a point ({pointed.value}); write points everywhere"
    elif commas and not has_decimal_comma(said, layout):
        why = "which may be a decimal sign or stand between thousands; write points"
    else:
        return faults
    return faults | {
        line.number: f"{source} line {line.number}: {line.key}: {line.value} has a comma, {why}."
        for line, _ in commas
    }


def has_decimal_comma(said: CsvText, layout: Layout) -> bool:
    """Say whether some number can mean nothing else than a decimal comma."""
    return any(_certain(line.value, place) for line, place in _commas(_numbers(said, layout)))


def with_point(value: str) -> str:
    """Return a number of a file with decimal commas as it is written with a point.

    >>> with_point("82,013 mm"), with_point("1.082,5")
    ('82.013 mm', '1.082,5')
    """
    return value.replace(",", ".") if _WITH_COMMA.fullmatch(value) else value


def _numbers(said: CsvText, layout: Layout) -> Iterator[tuple[CsvLine, Place]]:
    for line in said.lines:
        place = layout.places.get(line.key)
        if place is not None and place.role == "reading" and place.unit is not None:
            yield line, place


def _commas(numbers: SizedLines | Iterator[tuple[CsvLine, Place]]) -> SizedLines:
    return [one for one in numbers if _WITH_COMMA.fullmatch(one[0].value)]


def _certain(value: str, place: Place) -> bool:
    """Say whether a number with a comma cannot have thousands before it."""
    found = _WITH_COMMA.fullmatch(value)
    assert found is not None
    whole, part = found["whole"], found["part"]
    if len(part) != 3 or not 1 <= len(whole) <= 3 or whole.startswith("0"):
        return True
    assert isinstance(place.column, Reading)
    between = None if found["behind"].strip() else possible(place.column, place.row)
    if between is None:
        return False
    low, high = between
    return (
        low <= float(f"{found['sign'].replace('−', '-')}{whole}.{part}") <= high < int(whole + part)
    )
