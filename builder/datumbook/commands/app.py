"""The program: every command by its name, and how it begins and ends."""

from __future__ import annotations

import gc
import os
import sys
from typing import Annotated

import typer

from datumbook import VERSION
from datumbook.commands.calculator import explain, thread, work
from datumbook.commands.compare import compare
from datumbook.commands.demo import demo
from datumbook.commands.errors import Commands
from datumbook.commands.generate import generate
from datumbook.commands.job import job
from datumbook.commands.plan import plan
from datumbook.commands.printing import say
from datumbook.commands.readings import fill, readings
from datumbook.commands.spec import spec, specs
from datumbook.commands.validate import validate

app = typer.Typer(
    cls=Commands,
    add_completion=True,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="One self-checking workbook for each engine block on its way through the machine shop.",
)
for command in (demo, generate, validate, readings, fill, plan, compare, thread, explain, work):
    app.command()(command)
app.command()(specs)
app.add_typer(spec, name="spec")
app.add_typer(job, name="job")


def main() -> None:
    """Run the command line. What it holds in memory is left to the system, which is quicker than
    taking it apart.
    """
    gc.disable()  # a command ends before there is anything worth collecting
    try:
        app()
    except SystemExit as ended:
        if not isinstance(ended.code, int):
            raise
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(ended.code)


def _version(asked: bool) -> None:
    if asked:
        say(f"datumbook {VERSION}")
        raise typer.Exit


@app.callback()
def _common(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Options of every command."""
