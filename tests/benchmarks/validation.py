"""What validating costs, beside unzipping and parsing the same XML, one plain load by a library,
and LibreOffice.

    python tests/benchmarks/validation.py [BOOKS]     from the project's folder; 50 books in the
    batch where left out

In one process: processor time, the median of five rounds after one that warms up. Cold: whole
processes, start and imports included. Batch: so many books validated by one command beside one
LibreOffice process that converts the same files.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path
from statistics import median

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

import openpyxl  # noqa: E402
from lxml import etree  # noqa: E402

from clean_readings import demo_book  # noqa: E402
from datumbook.validator import validate  # noqa: E402
from programs import AS_XLSX, LANGUAGE, RECALCULATE, SETTINGS  # noqa: E402

ROUNDS = 5
COMMAND = [sys.executable, "-m", "datumbook", "validate", "--fresh"]


def parsed(book: Path) -> None:
    """The floor: every part unzipped, every XML parsed."""
    with zipfile.ZipFile(book) as archive:
        for name in archive.namelist():
            if name.endswith((".xml", ".rels")):
                etree.fromstring(archive.read(name))


def loaded(book: Path) -> None:
    """One plain load by openpyxl."""
    openpyxl.load_workbook(book).close()


def seconds(work: Callable[[], object], rounds: int, clock: Callable[[], float]) -> float:
    """The median of some rounds after one that warms up."""
    taken = []
    for _ in range(rounds + 1):
        begun = clock()
        work()
        taken.append(clock() - begun)
    return median(taken[1:])


def process(command: list[str]) -> None:
    """Run a whole process; a book on hold is an answer."""
    ended = subprocess.run(
        command, cwd=PROJECT, stdin=subprocess.DEVNULL, capture_output=True, check=False
    )
    if ended.returncode not in (0, 1):
        sys.exit(
            f"{command[0]} ended with {ended.returncode}: {ended.stderr.decode(errors='replace')}"
        )


def office(folder: Path) -> list[str]:
    """The command with which LibreOffice recalculates and converts files; [] where it is not on
    this machine.
    """
    found = shutil.which("soffice")
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    settings = SETTINGS.format(items=RECALCULATE + LANGUAGE.format(locale="en-US"))
    (profile / "user" / "registrymodifications.xcu").write_text(settings, encoding="utf-8")
    options = [
        "--headless",
        "--norestore",
        f"-env:UserInstallation={profile.as_uri()}",
        "--convert-to",
        AS_XLSX,
    ]
    return [found, *options, "--outdir", str(folder / "made")] if found else []


def main() -> None:
    """Measure and print."""
    count, book = int(sys.argv[1]) if len(sys.argv) > 1 else 50, demo_book()
    within = {"unzip and parse": parsed, "openpyxl load": loaded, "validate": validate}
    times = {
        name: seconds(lambda work=work: work(book), ROUNDS, time.process_time)
        for name, work in within.items()
    }  # type: ignore[misc]
    print(
        "in one process, processor time: "
        + ", ".join(f"{name} {took:.3f} s" for name, took in times.items())
    )
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        books = [str(shutil.copy(book, folder / f"book-{number}.xlsx")) for number in range(count)]
        for what, command in {"validate": COMMAND, "LibreOffice": office(folder)}.items():
            if command:
                cold = seconds(
                    lambda command=command: process([*command, books[0]]), 3, time.perf_counter
                )  # type: ignore[misc]
                begun = time.perf_counter()
                process([*command, *books])
                batch = time.perf_counter() - begun
                print(
                    f"{what}: cold {cold:.2f} s, {count} books {batch:.1f} s ({count / batch:.2f} "
                    f"a second)",
                    flush=True,
                )


if __name__ == "__main__":
    main()
