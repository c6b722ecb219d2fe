"""The only place that opens a workbook: the gate first, then one careful pass over what is stored."""

from __future__ import annotations

from pathlib import Path

from builder.reader.addresses import address_of, place_of, target
from builder.reader.book import Book, Cell, Refused, SheetFound
from builder.reader.gate import LIMITS, Limits, inspect

__all__ = [
    "Book", "Cell", "Limits", "Refused", "SheetFound", "address_of", "inspect",
    "open_book", "place_of", "target",
]  # fmt: skip


def open_book(path: str | Path, limits: Limits = LIMITS) -> Book:
    """Return a workbook as found, .xlsx or .ods told by content; Refused (code, message, part) if it cannot be read."""
    contents = inspect(path, limits)
    if contents.kind == "ods":
        from builder.reader.ods import read_ods

        return read_ods(contents, limits)
    from builder.reader.xlsx import read_xlsx

    return read_xlsx(contents)
