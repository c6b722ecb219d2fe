"""`datumbook spec`: a spec file checked, its schema, a new one."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from datumbook.commands.errors import told
from datumbook.commands.inputs import SpecFile, spec_in
from datumbook.commands.outputs import write_text
from datumbook.commands.printing import say
from datumbook.commands.statuses import FAULTY

spec = typer.Typer(
    no_args_is_help=True, help="Check a spec file, print its schema, begin a new one."
)


@spec.command()
def check(spec: SpecFile) -> None:
    """Say what is wrong with a spec file, every fault at once."""
    from datumbook.stations import lay_out

    layout = lay_out(spec_in(spec))
    say(f"{spec}: no fault found. {len(layout.wanted())} readings, {len(layout.checks)} checks.")


@spec.command()
def schema() -> None:
    """Print the JSON Schema of a spec file, for editors."""
    import json

    from datumbook.spec import spec_schema

    say(json.dumps(spec_schema(), indent=2, ensure_ascii=False))


@spec.command()
def new(
    out: Annotated[Path, typer.Option("--out", "-o", help="Spec file to write.")],
    name: Annotated[str, typer.Option(prompt="Name of the engine")],
    cylinders: Annotated[int, typer.Option(prompt="Cylinders in line")],
    bore: Annotated[str, typer.Option(prompt="Standard bore, with its unit")],
    stroke: Annotated[str, typer.Option(prompt="Stroke, with its unit")],
    unit: Annotated[str, typer.Option(prompt="Unit the readings are taken in, mm or in")] = "mm",
) -> None:
    """Begin a new spec file by a few questions."""
    from datumbook.spec.new import Answers, write_new_spec

    with told(FAULTY):
        text = write_new_spec(Answers(name, cylinders, bore, stroke, unit))
    write_text(out, text, replace=False)
    say(f"{out}: every figure marked in it is a guess from the bore; put in the maker's own.")
