"""What commands are given: engine specs and workbooks."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import stop, told
from datumbook.commands.printing import say, warn
from datumbook.commands.statuses import FAULTY

if TYPE_CHECKING:
    from datumbook.spec import Spec
    from datumbook.validator import Validation

SpecFile = Annotated[
    Path,
    typer.Argument(
        help="Engine spec file, or the name of a shipped one.",
        autocompletion=lambda incomplete: shipped(incomplete),
    ),
]
BookFile = Annotated[Path, typer.Argument(help="Workbook.")]


def spec_in(given: Path) -> Spec:
    """Return the spec of a file or of a shipped name; its faults are printed as the answer, with an
    exit status of their own.
    """
    from datumbook.spec import find_spec, load_spec

    path = find_spec(given)
    with told(FAULTY, by=say):
        return load_spec(path)


def readable(book: Path) -> Validation:
    """Return a book validated; ExpectedError with what was found where it is none of ours."""
    from datumbook.validator import validate

    warn(*open_elsewhere(book))
    made = validate(book)
    if made.layout is None:
        stop("\n".join(one.message for one in made.findings))
    return made


def open_elsewhere(book: Path) -> Iterator[str]:
    """Yield a warning where a spreadsheet program has the book open."""
    from datumbook.files import lock_of

    if lock := lock_of(book):
        yield (
            f"{book} is open in a spreadsheet program ({lock.name} is there): what is not saved in "
            f"it is not read here."
        )


def shop_specs(given: list[Path]) -> tuple[Spec, ...]:
    """Return the specs of files and of folders, one for each text; a fault of any is told and ends
    the command.
    """
    folders = [sorted(path.glob("*.toml")) if path.is_dir() else [path] for path in given]
    paths = [path for found in folders for path in found]
    if given and not paths:
        stop(f"There is no spec file (.toml) in {', '.join(map(str, given))}.")
    return tuple(spec_in(path) for path in paths)


def shipped(typed: str) -> list[str]:
    """The shipped engines whose names begin so, for a shell that completes them."""
    from datumbook.spec import shipped_specs

    return [name for name in shipped_specs() if name.startswith(typed)]
