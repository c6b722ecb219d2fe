"""What commands make: workbooks and texts, never over a file by mistake."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import written
from datumbook.commands.printing import say

if TYPE_CHECKING:
    from datumbook.api import BookWritten

Replace = Annotated[
    bool,
    typer.Option(
        "--replace",
        help="Write over a file that is there already; a workbook is kept beside it as .bak.",
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON document.")]


def say_kept(made: BookWritten) -> None:
    """Say where the workbook is kept that stood where one was written."""
    if made.kept is not None:
        say(f"The workbook that was there is kept as {made.kept}.")


def say_left_out(made: BookWritten) -> None:
    """Say which readings found no cell, or are none."""
    carried = made.carried
    say(*(f"Not carried over: {line}" for line in (*carried.homeless, *carried.unread)))


def write_text(target: Path, text: str, replace: bool) -> None:
    """Write a text where none is lost by it."""
    from datumbook.api.targets import hold_free
    from datumbook.files import write_whole

    hold_free(target, replace)
    with written(target):
        write_whole(target, text.encode("utf-8"))
