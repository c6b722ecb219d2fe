"""What a person sees of the command line: the one module that prints, and does nothing else."""

from __future__ import annotations

import io
import os
import shutil
import sys
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeVar

import typer

Answered = TypeVar("Answered")
TERMINAL_STYLES = {
    "title": "bold",
    "good": "bold green",
    "bad": "red",
    "warn": "dark_orange3",
    "soft": "dim",
    "plain": "",
}


def say(*lines: str, nl: bool = True, err: bool = False) -> None:
    """Print what was asked for; without `nl` a text ends as it is, with `err` it stands beside."""
    for line in lines:
        typer.echo(line, nl=nl, err=err)


def say_json(document: Mapping[str, Any]) -> None:
    """Print a document for programs."""
    import json

    say(json.dumps(document, indent=2, ensure_ascii=False))


def warn(*lines: str) -> None:
    """Print, beside what was asked for, what somebody should know."""
    say(*lines, err=True)


def say_styled(lines: Iterable[tuple[str, str]]) -> None:
    """Print lines, each in its style where somebody sits at a terminal."""
    if not sys.stdout.isatty():
        say(*(line for _, line in lines))
        return
    from rich.console import Console
    from rich.text import Text

    console = Console()
    for style, line in lines:
        console.print(Text(line, style=TERMINAL_STYLES[style]), soft_wrap=True)


def speak_utf8() -> None:
    """Give a program that reads along UTF-8, whatever the system's own code page is; a terminal
    keeps its own, and what that lacks is shown as a mark.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            if stream.isatty():
                stream.reconfigure(errors="replace")
            else:
                stream.reconfigure(encoding="utf-8")


def all_said() -> None:
    """Hand on what is still held back. Raises OSError."""
    sys.stdout.flush()
    sys.stderr.flush()


def say_to_nobody() -> None:
    """Drop what is left to be said, where nobody listens any more."""
    with open(os.devnull, "w") as nowhere:
        os.dup2(nowhere.fileno(), sys.stdout.fileno())


def terminal_width() -> int | None:
    """How many characters a line of the terminal holds; None where nobody sits at one."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else None


def followed(answers: Iterator[Answered], count: int) -> Iterator[Answered]:
    """Yield answers as they come, with a bar that says how far they are where somebody sits at a
    terminal.
    """
    if not sys.stderr.isatty():
        yield from answers
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(answers, "Validating", count, console=Console(stderr=True), transient=True)
