"""Filled workbooks that never were a file: what the reader would have found, made from readings
alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from datumbook.readers import Book, FoundCell, SheetFound
from datumbook.validator.locate.location import Located
from datumbook.workbook.layout import Layout


def located(layout: Layout, readings: Mapping[str, object]) -> Located:
    """A book that holds these readings and nothing else, each in its own cell; a Cell stands for
    itself.
    """
    book = Book(Path("memory.xlsx"), "xlsx", {name: SheetFound(name) for name in layout.plans})
    found = Located(book)
    for place in layout.readings():
        found.spots[place.key] = (place.at.sheet, place.at.row, place.at.column)
        value = readings.get(place.key)
        if value is not None:
            cell = value if isinstance(value, FoundCell) else FoundCell(value)  # type: ignore[arg-type]
            book.sheets[place.at.sheet].cells[place.at.row, place.at.column] = cell
    return found
