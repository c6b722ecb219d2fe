"""`datumbook spec`: spec files looked over, their schema, a new one; `datumbook specs`: those that
are shipped.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import OptionValue, asked, option, stop, told
from datumbook.commands.outputs import Json, Replace, write_text
from datumbook.commands.printing import say, say_json
from datumbook.commands.statuses import FAULTY

if TYPE_CHECKING:
    from datumbook.messages.refusals import Fault
    from datumbook.spec import Spec
    from datumbook.spec.review import Reviewed

spec = typer.Typer(
    no_args_is_help=True, help="Look spec files over, print their schema, begin a new one."
)


@spec.command()
def check(
    specs: Annotated[list[Path], typer.Argument(help="Spec files, or names of shipped ones.")],
    json: Json = False,
) -> None:
    """Say what is wrong with spec files and what is likely a mistake: file:line: code message.

    Ends with 0 where there is nothing to say, 1 with warnings, 4 where a file is refused.
    """
    from datumbook.spec.review import EXIT_REVIEWED

    reviews = [_reviewed(given) for given in specs]
    if json:
        from datumbook.report.review_document import review_document

        say_json(review_document(reviews))
    else:
        for one in reviews:
            say(*one.lines, _summary(one))
    worst = max((one.verdict for one in reviews), key=["clean", "warned", "refused"].index)
    raise typer.Exit(EXIT_REVIEWED[worst])


def _reviewed(given: Path) -> Reviewed:
    from datumbook.spec import find_spec
    from datumbook.spec.review import reviewed_file

    return reviewed_file(find_spec(given), _when_empty)


def _when_empty(spec: Spec) -> list[Fault]:
    """What the empty book of a spec says."""
    from datumbook.stations import lay_out
    from datumbook.stations.empty_book import out_when_empty

    return list(out_when_empty(lay_out(spec)))


def _summary(reviewed: Reviewed) -> str:
    count = len(reviewed.faults)
    counted = f"{count} {'thing' if count == 1 else 'things'}"
    return {
        "clean": f"{reviewed.file}: no fault found, nothing to warn of.",
        "warned": f"{reviewed.file}: no fault found; {counted} to look at.",
        "refused": f"{reviewed.file}: refused; {counted} to put right.",
    }[reviewed.verdict]


@spec.command()
def schema() -> None:
    """Print the JSON Schema of a spec file, for editors."""
    say(_schema_text(), nl=False)


def _schema_text() -> str:
    import json

    from datumbook.spec import spec_schema

    return json.dumps(spec_schema(), indent=2, ensure_ascii=False) + "\n"


@spec.command()
def new(
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="Spec file to write; the engine's name.toml.")
    ] = None,
    begun_with: Annotated[
        Path | None, typer.Option("--from", help="Shipped or own spec whose figures stand in.")
    ] = None,
    name: Annotated[str | None, typer.Option(help="Name of the engine.")] = None,
    arrangement: Annotated[
        str | None, typer.Option(help="How the cylinders stand: in line, vee, flat or single.")
    ] = None,
    cylinders: Annotated[str | None, typer.Option(help="How many there are.")] = None,
    bore: Annotated[str | None, typer.Option(help="Standard bore, with its unit.")] = None,
    stroke: Annotated[str | None, typer.Option(help="Stroke, with its unit.")] = None,
    unit: Annotated[
        str | None, typer.Option(help="Unit the readings are taken in: mm, in or thou.")
    ] = None,
) -> None:
    """Begin a new spec file by a few questions; what they do not tell is marked as a guess."""
    from datumbook.api.targets import hold_free
    from datumbook.files import as_file_name
    from datumbook.spec import new as begun

    called = _answer("--name", name, "Name of the engine", "", begun.name_answered)
    target = out or Path(f"{as_file_name(called)}.toml")
    hold_free(target, replace=False)
    if begun_with is not None:
        text = _from_other(begun_with, called)
    else:
        count = _answer("--cylinders", cylinders, "Cylinders", "", begun.cylinders_answered)
        wide = _answer("--bore", bore, "Standard bore, as 82 mm", "", begun.bore_answered)
        long = _answer(
            "--stroke",
            stroke,
            "Stroke, as 3 1/2 in",
            "",
            lambda text: begun.stroke_answered(text, wide),
        )
        usual = "in" if wide.endswith("in") else "mm"
        read = _answer("--unit", unit, "Readings in mm, in or thou", usual, begun.unit_answered)
        stands = _answer(
            "--arrangement",
            "single" if count == 1 and arrangement is None else arrangement,
            "Cylinders in line, vee or flat",
            "in line",
            lambda text: begun.arrangement_answered(text, count),
        )
        text = begun.write_new_spec(begun.Answers(called, count, wide, long, read, stands))
    write_text(target, text, replace=False)
    beside = target.with_name(begun.SCHEMA_FILE)
    if not beside.exists():
        write_text(beside, _schema_text(), replace=False)
    say(
        f"{target}: what is marked guessed holds the release; put in the maker's own figures.",
        f"datumbook spec check {target}",
        f"datumbook generate {target}",
    )


def _from_other(given: Path, name: str) -> str:
    from datumbook.spec import find_spec
    from datumbook.spec.documents import text_of
    from datumbook.spec.new import begun_from

    with told(FAULTY):
        return begun_from(text_of(find_spec(given)), name)


def _answer(
    flag: str, given: str | None, question: str, usual: str, read: Callable[[str], OptionValue]
) -> OptionValue:
    """An answer from its option, or from a person, who is asked again."""
    return asked(question, usual, read) if given is None else option(flag, given, read)


def specs(
    name: Annotated[str | None, typer.Argument(help="A shipped spec; all if left out.")] = None,
    out: Annotated[
        Path | None, typer.Option("--out", "-o", help="File to copy the spec to.")
    ] = None,
    replace: Replace = False,
) -> None:
    """List the shipped engine specs, show one, or copy it to a file of your own."""
    from datumbook.spec import find_spec, load_spec, shipped_specs

    shipped = shipped_specs()
    if name is None:
        if out is not None:
            stop(f"--out copies one spec; name it: {', '.join(shipped)}.")
        for key, path in shipped.items():
            engine = load_spec(path).engine
            say(f"{key}  {engine.name}: {engine.story}")
        return
    with told():
        path = shipped[name] if name in shipped else find_spec(Path(name))
    if name not in shipped:
        stop(f"{name} is not shipped; there are {', '.join(shipped)}.")
    text = path.read_text("utf-8")
    if out is None:
        say(text, nl=False)
        return
    write_text(out, text, replace)
    say(f"{out}: a copy of {name}.")
