"""What commands make: workbooks and texts, never over a file by mistake."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import stop, written

if TYPE_CHECKING:
    from datumbook.workbook.layout import Layout

Replace = Annotated[
    bool,
    typer.Option(
        "--replace",
        help="Write over a file that is there already; a workbook is kept beside it as .bak.",
    ),
]


def hold_free(target: Path, replace: bool, book: bool = False) -> None:
    """Raise ExpectedError where a file would be lost that nobody said may be replaced, where a
    program has it open, or where its name is of another kind than what is written.
    """
    from datumbook.files import BOOKS, lock_of

    ending = target.suffix.lower()
    if book and ending != ".xlsx":
        stop(
            f"{target}: a workbook is written as .xlsx; name it so. A spreadsheet program saves it "
            f"in another form, and validate reads .xlsx, .xlsm and .ods."
        )
    if not book and ending in BOOKS:
        stop(f"{target} is the name of a workbook; name a file for the text.")
    if lock := lock_of(target):
        stop(
            f"{target} is open in a spreadsheet program ({lock.name} is there); close it there, or "
            f"name another file with --out."
        )
    if target.exists() and not replace:
        stop(
            f"{target} is there already; name another file with --out, or add --replace to write "
            f"over it."
        )


def write_book(
    layout: Layout, target: Path, typed: Mapping[str, float | str], *, pen: bool = False
) -> list[str]:
    """Write a workbook with these readings in it, or for the pen its forms, and say where the one
    that was there is kept.
    """
    from datumbook.files import set_aside
    from datumbook.writer import write

    with written(target):
        kept = set_aside(target)
        write(layout, target, typed, pen=pen)
    return [] if kept is None else [f"The workbook that was there is kept as {kept}."]


def write_text(target: Path, text: str, replace: bool) -> None:
    """Write a text where none is lost by it."""
    from datumbook.files import write_whole

    hold_free(target, replace)
    with written(target):
        write_whole(target, text.encode("utf-8"))
