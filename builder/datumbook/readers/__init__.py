"""The only place that opens a workbook: the gate first, then one careful pass over what is
stored.
"""

from __future__ import annotations

from pathlib import Path

from datumbook.readers.addresses import address_of, place_of, target
from datumbook.readers.book import Book, FoundCell, Refused, SheetFound
from datumbook.readers.gate import FILE_LIMITS, FileLimits, inspect

__all__ = [
    "Book",
    "FileLimits",
    "FoundCell",
    "Refused",
    "SheetFound",
    "address_of",
    "inspect",
    "open_book",
    "place_of",
    "target",
]


def open_book(path: str | Path, limits: FileLimits = FILE_LIMITS) -> Book:
    """Return a workbook as found, .xlsx or .ods told by content; Refused (finding, part) if
    it cannot be read.
    """
    contents = inspect(path, limits)
    if contents.kind == "ods":
        from datumbook.readers.ods import read_ods

        return read_ods(contents, limits)
    from datumbook.readers.xlsx import read_xlsx

    return read_xlsx(contents)
