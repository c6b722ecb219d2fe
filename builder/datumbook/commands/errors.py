"""How a command ends that cannot do what it was asked: the one place that catches what the rooms
raise.
"""

from __future__ import annotations

import errno
import os
import tempfile
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import typer
from typer.core import TyperGroup

from datumbook.commands.printing import say_to_nobody, warn
from datumbook.commands.statuses import INTERRUPTED, NO_ROOM, OUR_FAILURE, WRONG_USE
from datumbook.messages import ExpectedError

OptionValue = TypeVar("OptionValue")
NOBODY_LISTENS = {errno.EPIPE, *([errno.EINVAL] if os.name == "nt" else [])}


class Commands(TyperGroup):
    """Commands whose expected errors end in words and never in a traceback."""

    def make_context(self, *given: Any, **more: Any) -> Any:
        """Read what was asked for; the help is printed here."""
        with _ended():
            return super().make_context(*given, **more)

    def invoke(self, ctx: Any) -> Any:
        """Run the command that was asked for."""
        with _ended(), told():
            return super().invoke(ctx)


@contextmanager
def _ended() -> Iterator[None]:
    """End with a status of its own what a person stops, or what the system refuses."""
    try:
        yield
    except (KeyboardInterrupt, typer.Abort):
        warn("Stopped.")
        raise typer.Exit(INTERRUPTED) from None
    except OSError as refusal:
        refused_by_system(refusal)
        raise typer.Exit(NO_ROOM) from None
    except SystemExit:  # so ends the library that prints the help, where nobody listens
        raise typer.Exit(NO_ROOM) from None


def refused_by_system(refusal: OSError) -> None:
    """Tell what the system refused; where nobody listens any more, nothing."""
    if refusal.errno in NOBODY_LISTENS:
        say_to_nobody()
        return
    where = f"{refusal.filename}: " if refusal.filename else ""
    warn(f"{where}{refusal.strerror or refusal}; nothing more was written.")


def crashed(failure: BaseException) -> int:
    """Tell a mistake of ours in a sentence, keep its traceback in a file, and return the status."""
    story = "".join(traceback.format_exception(failure))
    try:
        handle, kept = tempfile.mkstemp(prefix="datumbook-failure-", suffix=".txt")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(story)
    except OSError:
        stands = f"What happened, as no file could be written:\n{story}\nIt"
    else:
        stands = f"What happened stands in {kept}; it"
    warn(
        f"datumbook itself failed ({type(failure).__name__}: {failure}). Nothing can be concluded "
        f"about the file; it is as it was. {stands} may tell of your files, so read it before you "
        f"send it to anybody."
    )
    return OUR_FAILURE


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
    """Tell what could not be written, where the system refuses it, and end with its status."""
    try:
        yield
    except OSError as error:
        warn(f"{target}: {error.strerror}; name another {what} with --out.")
        raise typer.Exit(NO_ROOM) from None


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
