"""`datumbook validate`: filled workbooks judged, one by one or a shop's whole register."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from datumbook.commands.errors import option, stop
from datumbook.commands.inputs import open_elsewhere, shop_specs
from datumbook.commands.outputs import Json, Replace, write_text
from datumbook.commands.printing import followed, say, say_styled, terminal_width, warn

if TYPE_CHECKING:
    from datumbook.register import HowJudged, RegisterLine


def validate(
    books: Annotated[list[Path], typer.Argument(help="Workbooks, or folders of them.")],
    json: Json = False,
    report: Annotated[
        Path | None, typer.Option(help="Write a report page for one workbook.")
    ] = None,
    replace: Replace = False,
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
    spec: Annotated[
        list[Path] | None,
        typer.Option(
            help="The shop's own spec file, or a folder of them: tells where a book is held to "
            "other limits. May be repeated."
        ),
    ] = None,
    processes: Annotated[
        int | None, typer.Option(min=1, help="Books judged at once; as many as there are cores.")
    ] = None,
    fresh: Annotated[
        bool,
        typer.Option(
            "--fresh", help="Judge every book of several anew, those too that did not change."
        ),
    ] = False,
) -> None:
    """Read filled workbooks again, work everything out anew and say whether the block may go.

    Of several workbooks, or a folder of them, a register is printed: one line for each.
    """
    from datumbook.api import stage_named
    from datumbook.api import validate as judged
    from datumbook.files import books_in

    paths = [path for given in books for path in books_in(given)]
    if not paths:
        stop(f"There is no workbook (.xlsx, .xlsm or .ods) in {', '.join(map(str, books))}.")
    if report is not None and (report.suffix.lower() not in (".html", ".htm") or report in paths):
        stop(f"--report {report}: the report is a page, name it with .html.")
    several = csv or len(paths) > 1 or (paths != books and not json and report is None)
    if report is not None and several:
        stop("--report writes one page for one workbook; validate them one by one, without --csv.")
    reached, day = option("--stage", stage, stage_named), _day(today)
    if json and csv:
        stop("--json and --csv: ask for one of them.")
    warn(*(line for path in paths for line in open_elsewhere(path)))
    shop = shop_specs(spec or [])
    if several:
        from datumbook.register import HowJudged

        _register(paths, HowJudged(reached, day, json, shop), csv, processes, fresh)
    made = judged(paths[0], stage=reached, shop=shop)
    if report is not None:  # before anything is told, as whoever listens may leave early
        from datumbook.report.page import report_html

        write_text(report, report_html(made), replace)
    if json:
        from datumbook.register import told_whole
        from datumbook.report.document import whole_document

        say(*whole_document([told_whole(made, day)]))
    else:
        from datumbook.report import told

        say_styled(told(made))
    raise typer.Exit(made.exit_status)


def _day(today: str) -> date | None:
    """The day named with --today."""
    if not today:
        return None
    from datumbook.register import day_asked

    return option("--today", today, day_asked)


def _register(
    paths: list[Path], asked: HowJudged, csv: bool, processes: int | None, fresh: bool
) -> NoReturn:
    """Judge the books of a shop side by side and print their register."""
    from datumbook.register import register, remembering
    from datumbook.register.words import as_csv, noticed, told
    from datumbook.report.document import whole_document
    from datumbook.validator import worst_exit

    blocks: list[RegisterLine] = []

    def entries() -> Iterator[str]:
        with nullcontext() if fresh else remembering() as memory:
            answers = register(paths, asked, processes, memory)
            for block, document in followed(answers, len(paths)):
                blocks.append(block)
                yield document
        if memory and memory.recollections:
            warn(
                f"{memory.recollections} of {len(paths)} books are as they were when last judged; "
                f"--fresh judges them anew."
            )

    for piece in whole_document(entries()):
        if asked.whole:
            say(piece)
    day = asked.today.isoformat() if asked.today else ""
    if asked.whole or csv:
        if csv:
            say(as_csv(blocks), nl=False)
        warn(*noticed(blocks, day))
    else:
        say_styled(told(blocks, day, terminal_width()))
    raise typer.Exit(worst_exit([block.exit_status for block in blocks]))
