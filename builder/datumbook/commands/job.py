"""`datumbook job`: what one block is here for, in a file of its own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import OptionValue, asked, told
from datumbook.commands.inputs import SpecFile, spec_in
from datumbook.commands.outputs import write_text
from datumbook.commands.printing import say
from datumbook.commands.statuses import FAULTY

if TYPE_CHECKING:
    from datumbook.job import Job, Scope

JobFile = Annotated[Path, typer.Argument(help="Job file.")]

job = typer.Typer(
    no_args_is_help=True, help="Begin a job file, check it against its engine, print its schema."
)


@job.command()
def new(
    spec: SpecFile,
    out: Annotated[Path, typer.Option("--out", "-o", help="Job file to write.")],
    block: Annotated[str | None, typer.Option(help="What the job is called.")] = None,
    owner: Annotated[str | None, typer.Option(help="Who brought the block.")] = None,
    work: Annotated[str | None, typer.Option(help="measure, recondition or full.")] = None,
    also: Annotated[
        str | None, typer.Option("--with", help="Stations and operations beside it.")
    ] = None,
) -> None:
    """Begin a job file by a few questions."""
    from datumbook.api.targets import hold_free
    from datumbook.job import job_of, scope_of
    from datumbook.job.new import JobBegun, write_new_job

    engine = spec_in(spec)
    hold_free(out, replace=False)

    def held(**given: object) -> Job:
        made = job_of({"block": "unnamed", **given})
        scope_of(engine, made)
        return made

    called = _asked(block, "Name of the job", "", lambda text: held(block=text).block)
    brought_by = _asked(owner, "Owner", "", lambda text: held(owner=text).owner)
    kind = _asked(work, "Work: measure, recondition or full", "recondition", _one_work(held))
    beside = _asked(
        also,
        "Stations beside it, as walls, tunnels",
        "",
        lambda text: held(work=kind, **_with(text)).also,
    )
    write_text(out, write_new_job(engine, JobBegun(called, brought_by, kind, beside)), False)
    say(f"{out}: datumbook generate {spec} --job {out}")


def _one_work(held: Callable[..., Job]) -> Callable[[str], str]:
    def read(text: str) -> str:
        (word,) = held(work=text).work or ("",)
        return word

    return read


def _with(text: str) -> dict[str, object]:
    return {"with": text} if text.strip() else {}


def _asked(
    given: str | None, question: str, usual: str, read: Callable[[str], OptionValue]
) -> OptionValue:
    """An answer from its option, or from a person."""
    return asked(question, usual, read) if given is None else read(given)


@job.command()
def check(spec: SpecFile, job: JobFile) -> None:
    """Say what is wrong with a job, every fault at once, and what comes along with its work."""
    from datumbook.api import laid_out

    engine = spec_in(spec)
    with told(FAULTY, by=say):
        layout = laid_out(engine, job)
    say(*brought(layout.scope))
    say(
        f"{job}: no fault found. {len(layout.plans)} sheets, {len(layout.wanted())} readings, "
        f"{len(layout.checks)} checks."
    )


def brought(scope: Scope) -> list[str]:
    """What came along with the work without being asked for, a line for each that needs it."""
    from datumbook.grouping import grouped
    from datumbook.job.scope import words_of

    needed = grouped((one.by, words_of(one.name)) for one in scope.brought)
    return [f"Needed for {words_of(by)}: {'; '.join(names)}." for by, names in needed.items()]


@job.command()
def schema() -> None:
    """Print the JSON Schema of a job file, for editors."""
    import json

    from datumbook.job import job_schema

    say(json.dumps(job_schema(), indent=2, ensure_ascii=False))
