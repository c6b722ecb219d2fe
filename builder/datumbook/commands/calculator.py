"""`datumbook thread`, `explain` and `work`: one thread, equation or fit at the bench."""

from __future__ import annotations

from typing import Annotated

import typer

from datumbook.commands.printing import say


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

    say(thread_card(designation, asked(engagement, drills, share)))


def explain(
    name: Annotated[
        str | None,
        typer.Argument(help="An equation, or a fit as 85 H7/s6; all equations if left out."),
    ] = None,
) -> None:
    """Print every equation, or one: words, arguments, source, where shown, limited, tested."""
    from datumbook.calculator import explain as explained

    say(explained(name))


def work(
    name: Annotated[
        str,
        typer.Argument(
            help="An equation, as `datumbook explain` lists them, or a fit as 85 H7/s6."
        ),
    ],
    arguments: Annotated[
        list[str] | None,
        typer.Argument(
            help="arg=value with its unit, as major=5/16in. With NAME=result one is left out, and "
            "worked out."
        ),
    ] = None,
) -> None:
    """Work one equation at the bench, or backwards from its result."""
    from datumbook.calculator import work as worked

    say(worked(name, arguments or []))
