"""`datumbook upgrade`: a book of an older version, carried over into this one's."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from datumbook.commands.errors import stop, told, written
from datumbook.commands.inputs import BookFile, open_elsewhere, spec_in
from datumbook.commands.outputs import Replace, say_kept, say_left_out
from datumbook.commands.printing import say, warn
from datumbook.commands.statuses import FAULTY


def upgrade(
    book: BookFile,
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="Workbook to write; else NAME_upgraded.xlsx.")
    ] = None,
    spec: Annotated[
        Path | None,
        typer.Option(help="Engine file to go by, where this version refuses that of the book."),
    ] = None,
    replace: Replace = False,
) -> None:
    """Carry a book of an older version over: its engine file, its job and every reading. What was
    decided and signed there is decided anew.
    """
    from datumbook.api import laid_out, validate, write_out
    from datumbook.api.targets import hold_free
    from datumbook.spec import recorded_spec

    warn(*open_elsewhere(book))
    made = validate(book)
    record = made.record
    if record is None:
        stop("\n".join(one.message for one in made.findings))
    if made.layout is not None:
        say(f"{book}: this version reads it as it is; nothing is to be done.")
        return
    target = out or book.with_name(f"{book.stem}_upgraded.xlsx")
    hold_free(target, replace, book=True)
    with told(FAULTY):
        engine = spec_in(spec) if spec else recorded_spec(*record.spec)
        layout = laid_out(engine, record.job)
    with written(target):
        new = write_out(layout, target, readings=book, protected=record.protected, replace=replace)
    say_kept(new)
    say_left_out(new)
    count = len(new.carried.typed)
    say(f"{target} ({count} readings carried over from version {record.version})")
