"""Where a workbook or a text may be written, and that none is lost by it."""

from __future__ import annotations

from collections.abc import Mapping
from os.path import exists
from pathlib import Path

from datumbook.files import BOOKS, lock_of, set_aside
from datumbook.messages import ExpectedError
from datumbook.workbook.layout import Layout
from datumbook.writer import write


def hold_free(target: Path, replace: bool, book: bool = False) -> None:
    """Raise ExpectedError where a file would be lost that nobody said may be replaced, where a
    program has it open, or where its name is of another kind than what is written.
    """
    ending = target.suffix.lower()
    if book and ending != ".xlsx":
        raise ExpectedError(
            f"{target}: a workbook is written as .xlsx; name it so. A spreadsheet program saves it "
            f"in another form, and validate reads .xlsx, .xlsm and .ods."
        )
    if not book and ending in BOOKS:
        raise ExpectedError(f"{target} is the name of a workbook; name a file for the text.")
    if lock := lock_of(target):
        raise ExpectedError(
            f"{target} is open in a spreadsheet program ({lock.name} is there); close it there, or "
            f"name another file with --out."
        )
    if exists(target) and not replace:
        raise ExpectedError(
            f"{target} is there already; name another file with --out, or add --replace to write "
            f"over it."
        )


def write_book(
    layout: Layout,
    target: Path,
    typed: Mapping[str, float | str],
    *,
    pen: bool = False,
    protected: bool = True,
) -> Path | None:
    """Write a workbook with these readings in it, or for the pen its forms, and return where the
    one that was there is kept. Raises OSError.
    """
    kept = set_aside(target)
    write(layout, target, typed, pen=pen, protected=protected)
    return kept
