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
    bool, typer.Option("--replace", help="Write over a file that is there already.")
]


def hold_free(target: Path, replace: bool) -> None:
    """Raise ExpectedError where a file would be lost that nobody said may be replaced."""
    if target.exists() and not replace:
        stop(
            f"{target} is there already; name another file with --out, or add --replace to write "
            f"over it."
        )


def write_book(
    layout: Layout, target: Path, typed: Mapping[str, float | str], *, pen: bool = False
) -> None:
    """Write a workbook with these readings in it, or for the pen its forms; ExpectedError where the
    system refuses.
    """
    from datumbook.writer import write

    with written(target):
        write(layout, target, typed, pen=pen)


def write_text(target: Path, text: str) -> None:
    """Write a text; ExpectedError where the system refuses or the name is that of a workbook."""
    from datumbook.files import BOOKS, write_whole

    if target.suffix.lower() in BOOKS:
        stop(f"{target} is the name of a workbook; name a file for the text.")
    with written(target):
        write_whole(target, text.encode("utf-8"))
