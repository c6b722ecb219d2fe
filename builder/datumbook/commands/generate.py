"""`datumbook generate`: a spec's workbook for one block."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Literal

import typer

from datumbook.commands.errors import option, stop, told, written
from datumbook.commands.inputs import SpecFile, spec_in
from datumbook.commands.job import brought
from datumbook.commands.outputs import Replace, say_kept, say_left_out
from datumbook.commands.printing import say
from datumbook.commands.statuses import FAULTY, WRONG_USE


def generate(
    spec: SpecFile,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="Workbook to write.")] = None,
    job: Annotated[Path | None, typer.Option(help="Job file: what is done to this block.")] = None,
    block: Annotated[
        str | None, typer.Option(help="What the job is called; printed on every sheet.")
    ] = None,
    work: Annotated[
        str | None,
        typer.Option(help="measure, recondition or full; or operations, as deck,hole_work."),
    ] = None,
    also: Annotated[
        list[str] | None,
        typer.Option("--with", help="A station or operation beside the work; may be repeated."),
    ] = None,
    without: Annotated[
        list[str] | None,
        typer.Option(help="A station or operation of it that is not done; may be repeated."),
    ] = None,
    units: Annotated[
        list[str] | None,
        typer.Option(help="Read a group in another unit, as bores=in; may be repeated."),
    ] = None,
    readings: Annotated[
        Path | None, typer.Option(help="CSV or older workbook whose readings are carried over.")
    ] = None,
    print_for: Annotated[
        Literal["whole", "pen"],
        typer.Option(
            "--print",
            help="pen: printed it is forms to write on at the block, a page a station; rows, "
            "columns and sheets that are only worked out are hidden. It may be typed into too.",
        ),
    ] = "whole",
    unlocked: Annotated[
        bool,
        typer.Option(
            "--open",
            help="Without sheet protection, for a program that lets nobody type where there is "
            "any; whatever is altered, validate tells.",
        ),
    ] = False,
    replace: Replace = False,
) -> None:
    """Write the workbook of a spec for one block."""
    from datumbook.api import laid_out, usual_target, write_out

    engine = spec_in(spec)
    options = {"block": block, "work": work, "with": also, "without": without, "units": units}
    given = {name: value for name, value in options.items() if value}
    if job is not None and given:
        stop(f"--job says it all; leave out {', '.join(f'--{name}' for name in given)}, or --job.")
    with told(FAULTY if job else WRONG_USE):
        layout = laid_out(engine, job or _job(given))
    target, pen = out or usual_target(layout), print_for == "pen"
    with written(target):
        made = write_out(
            layout, target, readings=readings, pen=pen, protected=not unlocked, replace=replace
        )
    if readings is not None:
        say(f"{len(made.carried.typed)} readings carried over.")
        say(*(f"The book they are from is damaged: {line}" for line in made.carried.damage))
        say_left_out(made)
    say_kept(made)
    if pen:
        say(
            "Forms to print and write on. Type what is written on them into them or into the whole "
            "book, which alone shows what is worked out and its verdicts; either is judged alike."
        )
    say(*brought(layout.scope))
    say(
        f"{target} ({len(layout.plans)} sheets, {len(layout.wanted())} readings wanted, "
        f"{len(layout.checks)} checks)"
    )


def _job(given: dict[str, Any]) -> dict[str, Any]:
    """The keys of the job that the options say."""
    from datumbook.spec.groups import group_unit

    units = dict(option("--units", one, group_unit) for one in given.get("units", ()))
    listed = {
        name: [word.strip() for one in given.get(name, ()) for word in one.split(",")]
        for name in ("with", "without")
    }
    said = {name: given[name] for name in ("block", "work") if name in given}
    return said | listed | {"units": units}
