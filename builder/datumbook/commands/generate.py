"""`datumbook generate`: a spec's workbook for one block."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from datumbook.commands.errors import option, stop
from datumbook.commands.inputs import SpecFile, laid_out
from datumbook.commands.outputs import Replace, hold_free, write_book
from datumbook.commands.printing import say


def generate(
    spec: SpecFile,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Workbook to write.")] = None,
    block: Annotated[
        str, typer.Option(help="What the job is called; printed on every sheet.")
    ] = "unnamed",
    units: Annotated[
        list[str] | None,
        typer.Option(help="Read a group in another unit, as bores=in; may be repeated."),
    ] = None,
    readings: Annotated[
        Path | None, typer.Option(help="CSV or older workbook whose readings are carried over.")
    ] = None,
    replace: Replace = False,
) -> None:
    """Write the workbook of a spec for one block."""
    from datumbook.cells.basis import Job
    from datumbook.files import as_file_name
    from datumbook.spec.groups import group_unit

    chosen = (option("--units", given, group_unit) for given in units or ())
    layout = laid_out(spec, Job(_job_name(block), dict(chosen)))
    target = out or Path(f"{layout.spec.path.stem}_{as_file_name(block)}.xlsx")
    hold_free(target, replace)
    typed: dict[str, float | str] = {}
    if readings is not None:
        from datumbook.readings import carry

        carried = carry(layout, readings)
        typed = carried.typed
        say(f"{len(typed)} readings carried over.")
        say(*(f"Not carried over: {line}" for line in (*carried.homeless, *carried.unread)))
    write_book(layout, target, typed)
    say(f"{target} ({len(layout.wanted())} readings wanted, {len(layout.checks)} checks)")


def _job_name(block: str) -> str:
    plain = " ".join(block.split())
    if not plain or len(plain) > 40 or not plain.isprintable():
        stop(f"--block {block!r}: give the job a name of 1 to 40 printable characters.")
    return plain
