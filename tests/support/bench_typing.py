"""Types into a workbook as a person at the bench would, through LibreOffice; the program side is
typing_client.py.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
from collections.abc import Mapping, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

from programs import LANGUAGE, absent, need, profile, surroundings

CLIENT = Path(__file__).with_name("typing_client.py")
SYSTEM_PYTHON = "/usr/bin/python3"
SECONDS_ALLOWED = 300

Typed = Sequence[tuple[str, str, str]]
Actions = Sequence[Mapping[str, Any]]


def type_into(
    book: Path, out: Path, typed: Typed, actions: Actions = (), *, locale: str = "en-US"
) -> None:
    """Type (sheet, cell, text) one after another, then do the actions, and save as ``out`` (.xlsx
    or .ods).

    ``locale`` is the language of the person's computer: `81,02` is a number where it is "de-DE".
    What the actions are, `typing_client.ACTIONS` says. ValueError with the program's sentence for
    what a person could not do either.

        type_into(book, out, [("Bores", "C7", "81.02")], [{"do": "insert_rows", "sheet": "Bores",
        "row": 6}])
    """
    type_many([job(book, out, typed, actions)], locale=locale)


def job(book: Path, out: Path, typed: Typed, actions: Actions = ()) -> dict[str, Any]:
    """Return one piece of work for `type_many`."""
    places = [list(entry) for entry in typed]
    return {
        "book": str(book.resolve()),
        "out": str(out.resolve()),
        "typed": places,
        "actions": list(actions),
    }


def type_many(jobs: Sequence[Mapping[str, Any]], *, locale: str = "en-US") -> None:
    """Do several jobs in one program process, which costs one start."""
    need("libreoffice")
    need_bridge()
    home = profile(f"typing-{locale}", LANGUAGE.format(locale=locale))
    client = subprocess.Popen(
        [SYSTEM_PYTHON, "-I", str(CLIENT), str(home)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=surroundings(),
        text=True,
    )
    try:
        said, _ = client.communicate(json.dumps(list(jobs)), timeout=SECONDS_ALLOWED)
    except subprocess.TimeoutExpired:
        stop(client, home)
        raise
    if client.returncode:
        raise ValueError(said.strip() or f"the typing client ended with {client.returncode}")


def stop(client: subprocess.Popen[str], home: Path) -> None:
    """End a client that hangs, and the program that it started."""
    client.kill()
    client.communicate()
    with suppress(ProcessLookupError):
        os.killpg(int((home / "process").read_text(encoding="ascii")), signal.SIGKILL)


@cache
def bridge() -> bool:
    """Return whether the system's Python can talk to the program."""
    try:
        return not subprocess.run(
            [SYSTEM_PYTHON, "-c", "import uno"], capture_output=True, check=False
        ).returncode
    except FileNotFoundError:
        return False


def need_bridge() -> None:
    """Skip the test, or fail it where programs are required, without the system's Python and its
    bridge.
    """
    if not bridge():
        absent(f"{SYSTEM_PYTHON} has no module uno (package python3-uno). .ci/run installs it")
