"""The program: every command by its name, and how it begins and ends."""

from __future__ import annotations

import gc
import os
from typing import Annotated

import typer

from datumbook import VERSION
from datumbook.commands.calculator import explain, thread, work
from datumbook.commands.compare import compare
from datumbook.commands.demo import demo
from datumbook.commands.errors import Commands, crashed, refused_by_system
from datumbook.commands.generate import generate
from datumbook.commands.job import job
from datumbook.commands.manual import manual
from datumbook.commands.plan import plan
from datumbook.commands.printing import all_said, say, speak_utf8
from datumbook.commands.readings import fill, readings
from datumbook.commands.spec import spec, specs
from datumbook.commands.statuses import FULFILLED, NO_ROOM, STATUSES
from datumbook.commands.upgrade import upgrade
from datumbook.commands.validate import validate

app = typer.Typer(
    cls=Commands,
    add_completion=True,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="One self-checking workbook for each engine block on its way through the machine shop.",
    epilog="How a command ends: "
    + "; ".join(f"{status} {words}" for status, words in STATUSES.items())
    + ".",
)
SHOP = (demo, generate, validate, readings, fill, plan, compare, upgrade)
BENCH = (thread, explain, work, manual)
for command in (*SHOP, *BENCH):
    app.command()(command)
app.command()(specs)
app.add_typer(spec, name="spec")
app.add_typer(job, name="job")


def main() -> None:
    """Run the command line. What it holds in memory is left to the system, which is quicker than
    taking it apart.
    """
    gc.disable()  # a command ends before there is anything worth collecting
    speak_utf8()
    try:
        app()
        status = FULFILLED
    except SystemExit as ended:
        if not isinstance(ended.code, int):
            raise
        status = ended.code
    except Exception as failure:  # a mistake of ours
        status = crashed(failure)
    try:
        all_said()
    except OSError as refusal:
        refused_by_system(refusal)
        status = NO_ROOM
    os._exit(status)


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
