"""What commands are given: engine specs and workbooks."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from datumbook.commands.errors import FAULTY_SPEC, stop, told
from datumbook.commands.printing import say

if TYPE_CHECKING:
    from datumbook.spec import Spec
    from datumbook.validator import Validation

SpecFile = Annotated[Path, typer.Argument(help="Engine spec file, or the name of a shipped one.")]
BookFile = Annotated[Path, typer.Argument(help="Workbook.")]


def spec_in(given: Path) -> Spec:
    """Return the spec of a file or of a shipped name; its faults are printed as the answer, with an
    exit status of their own.
    """
    from datumbook.spec import find_spec, load_spec

    with told(FAULTY_SPEC):
        path = find_spec(given)
    with told(FAULTY_SPEC, by=say):
        return load_spec(path)


def readable(book: Path) -> Validation:
    """Return a book validated; ExpectedError with what was found where it is none of ours."""
    from datumbook.validator import validate

    made = validate(book)
    if made.layout is None:
        stop("\n".join(one.message for one in made.findings))
    return made
