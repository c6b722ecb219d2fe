"""`datumbook manual`: the documents that travel with the tool."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Annotated

import typer

from datumbook.commands.errors import stop
from datumbook.commands.printing import say
from datumbook.files import PACKAGE

MANUAL_FOLDER = PACKAGE / "manual"


def pages() -> list[str]:
    """The names of the documents."""
    return sorted(path.name for path in MANUAL_FOLDER.iterdir() if path.suffix in (".md", ".json"))


def _begun(typed: str) -> list[str]:
    return [name for name in pages() if name.startswith(typed)]


def manual(
    page: Annotated[
        str | None,
        typer.Argument(
            help="A document, as guide; all of them are listed if left out.",
            autocompletion=lambda incomplete: _begun(incomplete),
        ),
    ] = None,
) -> None:
    """Print a document of the manual, or list them."""
    if page is None:
        for name in pages():
            title = (
                MANUAL_FOLDER.joinpath(name).read_text("utf-8").splitlines()[0].removeprefix("# ")
            )
            say(f"{name:<24}{'' if title == '{' else title}".rstrip())
        say(f"They stand in {MANUAL_FOLDER}.")
        return
    named = [name for name in pages() if page in (name, name.rpartition(".")[0])]
    if not named:
        near = get_close_matches(page, pages(), 1, 0.4)
        meant = f" Is {near[0]} meant?" if near else ""
        stop(f"There is no document {page}.{meant} There are: {', '.join(pages())}.")
    say(MANUAL_FOLDER.joinpath(named[0]).read_text("utf-8"), nl=False)
