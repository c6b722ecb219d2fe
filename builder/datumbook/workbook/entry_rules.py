"""What may be typed in a reading's cell, and what is said of it there."""

from __future__ import annotations

from typing import Any

from datumbook.cells.columns import Reading, per, possible
from datumbook.numbers.printing import unit_in_words
from datumbook.workbook.placed import Place


def entry_rule(place: Place) -> dict[str, Any]:
    """The validation of a reading's cell: what stops the impossible, and the message that says what
    goes in.
    """
    column = place.column
    assert isinstance(column, Reading)
    unit = unit_in_words(place.unit or "")
    read_in = f", read in {unit}" if unit else ""
    rule: dict[str, Any] = {
        "input_title": _cut(column.words, 32),
        "input_message": _cut(f"{place.label}{read_in}. {per(column.how, place.row)}", 255),
        "ignore_blank": True,
    }
    if choices := per(column.choices, place.row):
        return rule | {
            "validate": "list",
            "source": list(choices),
            "error_title": "Not one of the words",
            "error_message": _cut(f"Type one of: {', '.join(choices)}.", 225),
        }
    if place.unit is None:
        return rule | {"validate": "any"}
    low, high = possible(column, place.row) or (-1e6, 1e6)
    return rule | {
        "validate": "integer" if column.whole else "decimal",
        "criteria": "between",
        "minimum": low,
        "maximum": high,
        "error_title": "That cannot be",
        "error_message": _cut(
            f"A number from {low:.4g} to {high:.4g} {unit} belongs here, typed as a decimal.", 225
        ),
    }


def _cut(words: str, most: int) -> str:
    """Words of at most so many letters as the file counts them: a letter beyond the first 65,536 is
    two.
    """
    coded = words.encode("utf-16-le")
    return (
        words
        if len(coded) <= 2 * most
        else f"{coded[: 2 * most - 2].decode('utf-16-le', 'ignore')}…"
    )
