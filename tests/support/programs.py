"""The spreadsheet programs that tests start: found or missed in plain words, each run in folders of
this process's own.

Every program is a process group of its own, ended by its id when it takes too long.
"""

from __future__ import annotations

import atexit
import fcntl
import os
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path

REQUIRED = "DATUMBOOK_REQUIRE_PROGRAMS"
SHARED = "DATUMBOOK_SHARED_BY_TESTS"
COMMANDS = {
    "libreoffice": "soffice",
    "gnumeric": "ssconvert",
    "poppler": "pdftotext",
    "gnu_units": "units",
    "chromium": "chromium",
}
AS_XLSX = "xlsx:Calc MS Excel 2007 XML"
AS_ODS = "ods:calc8"
SECONDS_ALLOWED = 300

RECALCULATE = "".join(
    '<item oor:path="/org.openoffice.Office.Calc/Formula/Load">'
    f'<prop oor:name="{name}" oor:op="fuse"><value>0</value></prop></item>'
    for name in ("OOXMLRecalcMode", "ODFRecalcMode")
)
LANGUAGE = (
    '<item oor:path="/org.openoffice.Setup/L10N">'
    '<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop></item>'
)
SETTINGS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<oor:items '
    'xmlns:oor="http://openoffice.org/2001/registry" '
    'xmlns:xs="http://www.w3.org/2001/XMLSchema" '
    'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">{items}'
    "</oor:items>\n"
)


def need(program: str) -> str:
    """Return the command of a program; without it skip the test, or fail it when
    DATUMBOOK_REQUIRE_PROGRAMS is set.
    """
    found = shutil.which(COMMANDS[program])
    if not found:
        absent(
            f"{program} is not on this machine: there is no command {COMMANDS[program]!r}. "
            f".ci/run installs it"
        )
    return str(found)


def absent(message: str) -> None:
    """Skip the test with the message, or fail it when DATUMBOOK_REQUIRE_PROGRAMS is set."""
    # here, so that the benchmark stays small: a child's peak memory counts what its parent held
    import pytest

    if os.environ.get(REQUIRED):
        pytest.fail(f"{message}, and {REQUIRED} is set", pytrace=False)
    pytest.skip(message)


@cache
def workshop() -> Path:
    """Return this process's own temporary folder, removed when the process ends."""
    folder = Path(tempfile.mkdtemp(prefix="datumbook-engines-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def made_once(name: str, make: Callable[[Path], object]) -> Path:
    """Return a file or folder that `make` makes the same each time, once for all processes of a
    test run; read-only to you.

    A second process waits while the first makes it.
    """
    kept = Path(os.environ.get(SHARED) or workshop()) / name
    with kept.with_name(f"{name}.turn").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not kept.exists():
            half = kept.with_name(f"half-{name}")
            make(half)
            half.rename(kept)
    return kept


@cache
def profile(name: str, settings: str) -> Path:
    """Return a LibreOffice profile folder of this process's own: two processes on one profile
    fail.
    """
    folder = workshop() / "profiles" / name
    (folder / "user").mkdir(parents=True)
    (folder / "user" / "registrymodifications.xcu").write_text(
        SETTINGS.format(items=settings), encoding="utf-8"
    )
    return folder


def surroundings() -> dict[str, str]:
    """Return the environment of a program: a home folder of our own, and texts in UTF-8."""
    return os.environ | {"HOME": str(workshop()), "LC_ALL": "C.UTF-8"}


def run(command: Sequence[str | Path]) -> None:
    """Run a program in a process group of its own; RuntimeError with its words when it fails or
    takes too long.
    """
    process = subprocess.Popen(
        [str(part) for part in command],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=surroundings(),
        start_new_session=True,
    )
    try:
        said, _ = process.communicate(timeout=SECONDS_ALLOWED)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        said, _ = process.communicate()
    if process.returncode:
        raise RuntimeError(
            f"{command[0]} ended with {process.returncode}: {said.decode(errors='replace')[-2000:]}"
        )


def office(paths: Sequence[Path], target: str, folder: Path, *, recalculate: bool) -> list[Path]:
    """Convert files by one LibreOffice process into a folder; their stems must differ."""
    name, settings = ("recalculating", RECALCULATE) if recalculate else ("plain", "")
    home = profile(name, settings + LANGUAGE.format(locale="en-US"))
    options = ["--headless", "--norestore", f"-env:UserInstallation={home.as_uri()}"]
    run([need("libreoffice"), *options, "--convert-to", target, "--outdir", folder, *paths])
    made = [folder / f"{path.stem}.{target.split(':')[0]}" for path in paths]
    for path in made:
        if not path.exists():  # its exit status is 0 on most failures
            raise RuntimeError(
                f"LibreOffice did not write {path.name}: it could not read the workbook"
            )
    return made
