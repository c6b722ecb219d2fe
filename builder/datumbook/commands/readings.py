"""`datumbook readings` and `datumbook fill`: out of a workbook as CSV, and back into one."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from datumbook.commands.errors import written
from datumbook.commands.inputs import BookFile, readable
from datumbook.commands.outputs import Replace, say_kept, write_text
from datumbook.commands.printing import say, warn


def readings(
    book: BookFile,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="CSV to write.")] = None,
    replace: Replace = False,
) -> None:
    """Print every reading of a workbook as CSV."""
    from datumbook.carrying import readings_csv

    made = readable(book)
    if made.verdict == "untrusted":
        warn(
            f"{book} is damaged; `datumbook validate` says how. Check each reading before you "
            f"rely on it."
        )
    text = readings_csv(made)
    say(text, nl=False) if out is None else write_text(out, text, replace)


def fill(
    book: BookFile,
    csv: Annotated[
        Path,
        typer.Argument(help="CSV with a key and a value column, and a unit column if need be."),
    ],
    out: Annotated[Path, typer.Option("--out", "-o", help="Workbook to write.")],
    replace: Replace = False,
) -> None:
    """Put the readings of a CSV into a workbook; what the workbook holds already is kept, the CSV
    wins.
    """
    from datumbook.api import fill as filled

    with written(out):
        made = filled(book, csv, out, replace=replace)
    say_kept(made)
    say(f"{out} ({len(made.carried.typed)} readings from {csv})")
    say(*(f"Left out: {line}" for line in made.carried.unread))
