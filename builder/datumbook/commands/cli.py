"""The command line: prints and sets exit codes, nothing else."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable, Iterator
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from datumbook import VERSION

if TYPE_CHECKING:
    from datumbook.register import Answer, Asked, Block
    from datumbook.validator import Validation
    from datumbook.workbook.layout import Layout

app = typer.Typer(
    add_completion=True,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="One self-checking workbook for each engine block on its way through the machine shop.",
)
spec_app = typer.Typer(
    no_args_is_help=True, help="Check a spec file, print its schema, begin a new one."
)
app.add_typer(spec_app, name="spec")

WRONG_USE = 2
BOOKS = (".xlsx", ".xlsm", ".ods")
STYLES = {
    "title": "bold",
    "good": "bold green",
    "bad": "red",
    "warn": "dark_orange3",
    "soft": "dim",
    "plain": "",
}

SpecFile = Annotated[Path, typer.Argument(help="Engine spec file, or the name of a shipped one.")]
BookFile = Annotated[Path, typer.Argument(help="Workbook.")]


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
        typer.echo(f"datumbook {VERSION}")
        raise typer.Exit


@app.callback()
def _common(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Options of every command."""


@app.command()
def demo(
    out: Annotated[Path, typer.Option(help="Folder for the files.")] = Path("datumbook-demo"),
) -> None:
    """Run the whole job on a shipped spec: generate, fill, validate, show where the files are."""
    from datumbook.commands.demo import (
        run_demo,
    )  # every command loads what it needs, so that --help is quick
    from datumbook.report.page import report_html

    try:
        made = run_demo(out)
        report = out / "report.html"
        report.write_text(report_html(made.validation), "utf-8")
    except OSError as refusal:
        _stop(f"{out}: {refusal.strerror}; name another folder with --out.")
    from datumbook.plan import plan as planned
    from datumbook.plan import plan_lines

    _tell(made.validation)
    typer.echo("\nWhat may be cut")
    _echo_all(f"  {line}" for line in plan_lines(planned(made.validation)))
    typer.echo("\nThe files")
    for path, what in (
        (made.spec, "the spec"),
        (made.empty, "the empty workbook"),
        (made.filled, "the filled workbook"),
        (report, "the report"),
    ):
        typer.echo(f"  {path}  {what}")


@app.command()
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
    replace: Annotated[
        bool, typer.Option("--replace", help="Write over a file that is there already.")
    ] = False,
) -> None:
    """Write the workbook of a spec for one block."""
    from datumbook.cells.basis import Job

    layout = _layout(spec, Job(_block_name(block), _unit_choices(units or [])))
    target = out or Path(f"{layout.spec.path.stem}_{_file_name(block)}.xlsx")
    _is_free(target, replace)
    typed: dict[str, float | str] = {}
    if readings is not None:
        from datumbook.readings import CarryError, carry

        try:
            carried = carry(layout, readings)
        except CarryError as refusal:
            _stop(str(refusal))
        typed = carried.typed
        typer.echo(f"{len(typed)} readings carried over.")
        _echo_all(f"Not carried over: {line}" for line in (*carried.homeless, *carried.unread))
    _write(layout, target, typed)
    typer.echo(f"{target} ({len(layout.wanted())} readings wanted, {len(layout.checks)} checks)")


@app.command()
def validate(
    books: Annotated[list[Path], typer.Argument(help="Workbooks, or folders of them.")],
    json: Annotated[bool, typer.Option("--json", help="Print one JSON document.")] = False,
    report: Annotated[
        Path | None, typer.Option(help="Write a report page for one workbook.")
    ] = None,
    stage: Annotated[
        str, typer.Option(help="Judge the block as received, as planned, or as finished.")
    ] = "finished",
    csv: Annotated[
        bool, typer.Option("--csv", help="Print the register of several workbooks as CSV.")
    ] = False,
    today: Annotated[
        str,
        typer.Option(help="Day to which open days count, as 2026-05-31; else each file's date."),
    ] = "",
    processes: Annotated[
        int | None, typer.Option(min=1, help="Books judged at once; as many as there are cores.")
    ] = None,
) -> None:
    """Read filled workbooks again, work everything out anew and say whether the block may go.

    Of several workbooks, or a folder of them, a register is printed: one line for each.
    """
    from datumbook.cells.tables import STAGES
    from datumbook.register import Asked
    from datumbook.report import as_json, document
    from datumbook.validator import validate as validate_book

    paths = [path for given in books for path in _books_in(given)]
    if not paths:
        _stop(f"There is no workbook (.xlsx, .xlsm or .ods) in {', '.join(map(str, books))}.")
    if report is not None and (report.suffix.lower() not in (".html", ".htm") or report in paths):
        _stop(f"--report {report}: the report is a page, name it with .html.")
    several = csv or len(paths) > 1 or (books[0].is_dir() and not json and report is None)
    if report is not None and several:
        _stop("--report writes one page for one workbook; validate them one by one, without --csv.")
    if stage not in STAGES:
        _stop(f"--stage {stage}: write one of {', '.join(STAGES)}.")
    if json and csv:
        _stop("--json and --csv: ask for one of them.")
    if several:
        _register(paths, Asked(stage, _today(today), whole=json), csv, processes)
    made = validate_book(paths[0], stage)
    if report is not None:  # before anything is told, as whoever listens may leave early
        from datumbook.report.page import report_html

        _save(report, report_html(made))
    typer.echo(as_json([document(made)])) if json else _tell(made)
    raise typer.Exit(made.exit_status)


def _today(given: str) -> date | None:
    try:
        return date.fromisoformat(given) if given else None
    except ValueError:
        _stop(f"--today {given}: write the day as year-month-day, like 2026-05-31.")


def _register(paths: list[Path], asked: Asked, csv: bool, processes: int | None) -> NoReturn:
    """Judge the books of a shop side by side and print their register."""
    from datumbook.register import RegisterError, register
    from datumbook.register.words import as_csv, noticed, told
    from datumbook.validator import worst_exit

    blocks: list[Block] = []
    try:
        for block, document in _followed(register(paths, asked, processes), len(paths)):
            if asked.whole:
                typer.echo(("," if blocks else "[") + "\n" + document)
            blocks.append(block)
    except RegisterError as refusal:
        _stop(str(refusal))
    day = asked.today.isoformat() if asked.today else ""
    if asked.whole or csv:
        typer.echo("]" if asked.whole else as_csv(blocks), nl=asked.whole)
        for line in noticed(blocks, day):
            _warn(line)
    else:
        _print(told(blocks, day))
    raise typer.Exit(worst_exit([block.exit_status for block in blocks]))


def _followed(answers: Iterator[Answer], count: int) -> Iterator[Answer]:
    """The answers as they come, with a bar that says how far it is where somebody sits at a
    terminal.
    """
    if not sys.stderr.isatty():
        yield from answers
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(answers, "Validating", count, console=Console(stderr=True), transient=True)


@app.command()
def readings(
    book: BookFile,
    out: Annotated[Path | None, typer.Option("--out", "-o", help="CSV to write.")] = None,
) -> None:
    """Print every reading of a workbook as CSV."""
    from datumbook.readings import readings_csv
    from datumbook.validator import validate as validate_book

    made = validate_book(book)
    if made.layout is None:
        _stop("\n".join(one.message for one in made.findings))
    if made.verdict == "untrusted":
        _warn(
            f"{book} is damaged; `datumbook validate` says how. Check each reading before you "
            f"rely on it."
        )
    text = readings_csv(made)
    if out is None:
        typer.echo(text, nl=False)
    else:
        _save(out, text)


@app.command()
def fill(
    book: BookFile,
    csv: Annotated[
        Path,
        typer.Argument(help="CSV with a key and a value column, and a unit column if need be."),
    ],
    out: Annotated[Path, typer.Option("--out", "-o", help="Workbook to write.")],
    replace: Annotated[
        bool, typer.Option("--replace", help="Write over a file that is there already.")
    ] = False,
) -> None:
    """Put the readings of a CSV into a workbook; what the workbook holds already is kept, the CSV
    wins.
    """
    from datumbook.readings import CarryError, from_csv, merged, sound

    _is_free(out, replace)
    try:
        made = sound(book)
        assert made.layout is not None
        carried = from_csv(made.layout, csv, made)
    except CarryError as refusal:
        _stop(str(refusal))
    if carried.homeless:
        _stop(
            "\n".join(carried.homeless)
            + "\nNothing was written; correct the keys (`datumbook readings` lists them)."
        )
    _write(made.layout, out, merged(made.typed, carried.typed))
    typer.echo(f"{out} ({len(carried.typed)} readings from {csv})")
    _echo_all(f"Left out: {line}" for line in carried.unread)


@app.command()
def plan(book: BookFile) -> None:
    """Say what may be cut: the least metal under all limits, or which limit forbids it; and which
    part goes where.
    """
    from datumbook.plan import plan as planned
    from datumbook.plan import plan_lines
    from datumbook.plan.pairing import pairing_lines

    made = _readable(book)
    _echo_all([*plan_lines(planned(made)), *pairing_lines(made)])


@app.command()
def compare(first: BookFile, second: BookFile) -> None:
    """Compare the same block at two dates, against the instruments' uncertainty."""
    from datumbook.comparison import compare as compared
    from datumbook.comparison import comparison_lines

    try:
        _echo_all(comparison_lines(compared(_readable(first), _readable(second))))
    except ValueError as refusal:
        _stop(str(refusal))


@app.command()
def thread(
    designation: Annotated[str, typer.Argument(help='As people write it: "5/16-24 UNF", M8x1.25.')],
    engagement: Annotated[
        str, typer.Option(help="Thread engaged, 0.5in: the hole ASME B1.1 recommends for it.")
    ] = "",
    drills: Annotated[
        str, typer.Option(help="Series the shop owns: fraction,number,letter,metric.")
    ] = "",
    share: Annotated[
        str, typer.Option(help="Per cent of thread wanted, by the drill charts: 70.")
    ] = "",
) -> None:
    """Print one thread: sizes, limits, drills ranked, look-alikes."""
    from datumbook.calculator import asked, thread_card

    _answer(lambda: thread_card(designation, asked(engagement, drills, share)))


@app.command()
def explain(
    name: Annotated[
        str | None,
        typer.Argument(help="An equation, or a fit as 85 H7/s6; all equations if left out."),
    ] = None,
) -> None:
    """Print every equation, or one: words, arguments, source, where shown, limited, tested."""
    from datumbook.calculator import explain as explained

    _answer(lambda: explained(name))


@app.command()
def work(
    name: Annotated[
        str,
        typer.Argument(
            help="An equation, as `datumbook explain` lists them, or a fit as 85 H7/s6."
        ),
    ],
    arguments: Annotated[
        list[str] | None, typer.Argument(help="arg=value with its unit, as major=5/16in.")
    ] = None,
) -> None:
    """Work one equation at the bench."""
    from datumbook.calculator import work as worked

    _answer(lambda: worked(name, arguments or []))


@spec_app.command("check")
def spec_check(spec: SpecFile) -> None:
    """Say what is wrong with a spec file, every fault at once."""
    layout = _layout(spec)
    typer.echo(
        f"{spec}: no fault found. {len(layout.wanted())} readings, {len(layout.checks)} checks."
    )


@spec_app.command("schema")
def spec_schema() -> None:
    """Print the JSON Schema of a spec file, for editors."""
    import json

    from datumbook.spec import spec_schema as schema

    typer.echo(json.dumps(schema(), indent=2, ensure_ascii=False))


@spec_app.command("new")
def spec_new(
    out: Annotated[Path, typer.Option("--out", "-o", help="Spec file to write.")],
    name: Annotated[str, typer.Option(prompt="Name of the engine")],
    cylinders: Annotated[int, typer.Option(prompt="Cylinders in line")],
    bore: Annotated[str, typer.Option(prompt="Standard bore, with its unit")],
    stroke: Annotated[str, typer.Option(prompt="Stroke, with its unit")],
    unit: Annotated[str, typer.Option(prompt="Unit the readings are taken in, mm or in")] = "mm",
) -> None:
    """Begin a new spec file by a few questions."""
    from datumbook.numbers.quantities import QuantityFault, read_quantity
    from datumbook.spec import SpecFaults
    from datumbook.spec.new import Answers, write_new_spec

    try:
        sizes = [read_quantity(text, "[length]").text for text in (bore, stroke)]
        text = write_new_spec(Answers(name, cylinders, sizes[0], sizes[1], unit))
    except (SpecFaults, QuantityFault, ValueError) as refusal:
        _stop(str(refusal), 1)
    if out.exists():
        _stop(f"{out} is there already; name another file with --out.")
    _save(out, text)
    typer.echo(
        f"{out}: every figure marked in it is a guess from the bore; put in the maker's own."
    )


def _layout(spec: Path, job: object = None) -> Layout:
    """The layout of a spec file or a shipped spec's name; its faults printed, and exit status 1."""
    from datumbook.numbers.units import UnitError
    from datumbook.spec import SpecFaults, load_spec, shipped_specs
    from datumbook.stations import lay_out

    shipped = shipped_specs()
    path = spec if spec.exists() else shipped.get(str(spec), spec)
    if not path.exists() and not spec.suffix:
        near = ", ".join(get_close_matches(str(spec), shipped, n=1)) or ", ".join(shipped)
        _stop(
            f"{spec}: no such file, and no engine of that name is shipped; did you mean {near}?", 1
        )
    try:
        return lay_out(load_spec(path), job)  # type: ignore[arg-type]
    except SpecFaults as faults:
        _echo_all(str(fault) for fault in faults.faults)
        raise typer.Exit(1) from None
    except UnitError as fault:
        _stop(str(fault))


def _unit_choices(given: Iterable[str]) -> dict[str, str]:
    from datumbook.numbers.units import UnitError, unit
    from datumbook.spec.model import GROUPS

    chosen: dict[str, str] = {}
    for one in given:
        group, mark, word = one.partition("=")
        if not mark or group not in GROUPS:
            _stop(
                f"--units {one}: write a group and a unit, as bores=in; the groups are "
                f"{', '.join(GROUPS)}."
            )
        try:
            known = unit(word)
        except UnitError as refusal:
            _stop(f"--units {one}: {refusal}")
        if known.dimension != "[length]":
            _stop(f"--units {one}: {word} is no unit of length.")
        chosen[group] = known.word
    return chosen


def _block_name(block: str) -> str:
    plain = " ".join(block.split())
    if not plain or len(plain) > 40 or not plain.isprintable():
        _stop(f"--block {block!r}: give the job a name of 1 to 40 printable characters.")
    return plain


def _file_name(block: str) -> str:
    return "".join(letter if letter.isalnum() or letter in "-_" else "_" for letter in block)


def _books_in(given: Path) -> list[Path]:
    if not given.is_dir():
        return [given]
    return sorted(
        path
        for path in given.rglob("*")
        if path.suffix.lower() in BOOKS and not path.name.startswith(("~$", "."))
    )


def _readable(book: Path) -> Validation:
    from datumbook.validator import validate as validate_book

    made = validate_book(book)
    if made.layout is None:
        _stop("\n".join(one.message for one in made.findings))
    return made


def _write(layout: Layout, target: Path, typed: dict[str, float | str]) -> None:
    from datumbook.writer import write

    try:
        write(layout, target, typed)
    except OSError as refusal:
        _stop(f"{target}: {refusal.strerror}; name another file with --out.")


def _is_free(target: Path, replace: bool) -> None:
    if target.exists() and not replace:
        _stop(
            f"{target} is there already; name another file with --out, or add --replace to write "
            f"over it."
        )


def _save(target: Path, text: str) -> None:
    from datumbook.files import write_whole

    if target.suffix.lower() in BOOKS:
        _stop(f"{target} is the name of a workbook; name a file for the text.")
    try:
        write_whole(target, text.encode("utf-8"))
    except OSError as refusal:
        _stop(f"{target}: {refusal.strerror}; name another file with --out.")


def _answer(ask: object) -> None:
    try:
        typer.echo(ask())  # type: ignore[operator]
    except ValueError as refusal:
        _stop(str(refusal))


def _tell(made: Validation) -> None:
    from datumbook.report import told

    _print(told(made))


def _print(lines: Iterable[tuple[str, str]]) -> None:
    """Print lines, each in its style where somebody sits at a terminal."""
    if not sys.stdout.isatty():
        _echo_all(line for _, line in lines)
        return
    from rich.console import Console
    from rich.text import Text

    console = Console()
    for style, line in lines:
        console.print(Text(line, style=STYLES[style]), soft_wrap=True)


def _echo_all(lines: Iterable[str]) -> None:
    for line in lines:
        typer.echo(line)


def _warn(sentence: str) -> None:
    typer.echo(sentence, err=True)


def _stop(sentence: str, status: int = WRONG_USE) -> NoReturn:
    _warn(sentence)
    raise typer.Exit(status)
