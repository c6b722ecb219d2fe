"""How a command ends that cannot do what it was asked: the one place that catches what the rooms
raise.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import typer
from typer.core import TyperGroup

from datumbook.commands.printing import warn
from datumbook.messages import ExpectedError

OptionValue = TypeVar("OptionValue")
WRONG_USE, FAULTY_SPEC = 2, 1


class Commands(TyperGroup):
    """Commands whose expected errors end in words and never in a traceback."""

    def invoke(self, ctx: Any) -> Any:
        """Run the command that was asked for."""
        with told():
            return super().invoke(ctx)


@contextmanager
def told(status: int = WRONG_USE, by: Callable[[str], None] = warn) -> Iterator[None]:
    """Tell an expected error in its own words and end with this status; a mistake of ours goes
    through.
    """
    try:
        yield
    except ExpectedError as error:
        by(str(error))
        raise typer.Exit(status) from None


@contextmanager
def written(target: Path, what: str = "file") -> Iterator[None]:
    """Raise ExpectedError naming what could not be written, where the system refuses it."""
    try:
        yield
    except OSError as error:
        stop(f"{target}: {error.strerror}; name another {what} with --out.")


def option(name: str, given: str, read: Callable[[str], OptionValue]) -> OptionValue:
    """Return what an option says, as the room reads it that knows; its ExpectedError names the
    option.
    """
    try:
        return read(given)
    except ExpectedError as error:
        stop(f"{name} {given}: {error}")


def asked(question: str, usual: str, read: Callable[[str], OptionValue]) -> OptionValue:
    """Return what a person answers, as the room reads it that knows; what it refuses is told and
    asked for again. Where nobody sits at a terminal, what is usual.
    """
    while True:
        try:
            return read(str(typer.prompt(question, default=usual, show_default=bool(usual))))
        except ExpectedError as error:
            warn(str(error))
        except typer.Abort:
            if typer.get_text_stream("stdin").isatty():
                raise
            return read(usual)


def stop(sentence: str) -> NoReturn:
    """Raise ExpectedError: the command was used wrongly, and this is what to write instead."""
    raise ExpectedError(sentence) from None
