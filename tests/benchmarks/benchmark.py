"""What the commands cost, beside spreadsheet programs reading and writing the same workbook, in one
run on one machine.

    python tests/benchmarks/benchmark.py [SPEC]        from the project's folder; SPEC is
    specs/orrindale_qp4.toml

Each command is a whole process, start and imports included. Rounds alternate between the commands,
so that a slow moment of the machine falls on all of them. Time is the median wall time of five
rounds after one that warms up; memory is the largest resident size in those rounds, as the kernel
counts it for the process and what it waited for. It never counts less than this script holds
itself, some 15 MB: a process inherits that figure from the one that starts it. Modules are compiled
once, in the round that warms up, as pip compiles them when it installs the tool.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

from programs import AS_XLSX, LANGUAGE, RECALCULATE, SETTINGS  # noqa: E402

ROUNDS = 5
PYTHON = [sys.executable, "-m", "datumbook"]
SOUND = {
    "validate": (0, 1)
}  # a book nobody has filled is on hold, which is an answer and no failure


@dataclass
class Cost:
    """What the rounds of one command cost: seconds of each, and the largest memory in MB."""

    seconds: list[float] = field(default_factory=list)
    megabytes: float = 0.0

    @property
    def median(self) -> float:
        """The median of the seconds."""
        return sorted(self.seconds)[len(self.seconds) // 2]


def run_once(command: Sequence[str], allowed: Sequence[int]) -> tuple[float, float]:
    """Run a command; return its wall time in seconds and its peak memory in MB. Exit with its words
    when it fails.
    """
    with tempfile.TemporaryFile() as said:
        begun = time.perf_counter()
        process = subprocess.Popen(
            command, cwd=PROJECT, stdin=subprocess.DEVNULL, stdout=said, stderr=said
        )
        _, status, usage = os.wait4(process.pid, 0)
        taken = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in allowed:
            said.seek(0)
            sys.exit(
                f"{' '.join(command)}\nended with "
                f"{process.returncode}:\n{said.read().decode(errors='replace')}"
            )
    return taken, usage.ru_maxrss / 1024  # Linux counts in kB


def compiled_in(folder: Path) -> None:
    """Let every Python process started from here keep its compiled modules in a folder, whatever
    the surroundings say.
    """
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = str(folder / "compiled")


def commands(spec: Path, folder: Path) -> dict[str, list[str]]:
    """Return the commands to measure by name; programs that are not on this machine are left
    out.
    """
    book = folder / "book.xlsx"
    found = {
        "help": [*PYTHON, "--help"],
        "generate": [*PYTHON, "generate", str(spec), "--replace", "-o", str(book)],
        "validate": [*PYTHON, "validate", str(book)],
    }
    if office := shutil.which("soffice"):
        options = [
            "--headless",
            "--norestore",
            f"-env:UserInstallation={recalculating(folder).as_uri()}",
        ]
        found["LibreOffice"] = [
            office,
            *options,
            "--convert-to",
            AS_XLSX,
            "--outdir",
            str(folder / "made"),
            str(book),
        ]
    if converter := shutil.which("ssconvert"):
        found["Gnumeric"] = [converter, "--recalc", str(book), str(folder / "gnumeric.xlsx")]
    return found


def recalculating(folder: Path) -> Path:
    """Write a LibreOffice profile that recalculates every file on load and return it."""
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True)
    settings = SETTINGS.format(items=RECALCULATE + LANGUAGE.format(locale="en-US"))
    (profile / "user" / "registrymodifications.xcu").write_text(settings, encoding="utf-8")
    return profile


def measured(spec: Path, folder: Path) -> dict[str, Cost]:
    """Run every command once to warm up and then ROUNDS times, in turn."""
    wanted = commands(spec, folder)
    costs = {name: Cost() for name in wanted}
    for number in range(ROUNDS + 1):
        for name, command in wanted.items():
            taken, megabytes = run_once(command, SOUND.get(name, (0,)))
            if number:
                costs[name].seconds.append(taken)
                costs[name].megabytes = max(costs[name].megabytes, megabytes)
    return costs


def table(costs: dict[str, Cost]) -> str:
    """Return one line for each command, its time and memory also as multiples of each program's."""
    others = [name for name in ("LibreOffice", "Gnumeric") if name in costs]
    heads = ["", "s", "MB", *(f"{what} / {other}" for other in others for what in ("s", "MB"))]
    lines = ["".join(f"{head:>18}" for head in heads)]
    for name, cost in costs.items():
        cells = [f"{cost.median:.3f}", f"{cost.megabytes:.0f}"]
        for other in others:
            cells += [
                f"{cost.median / costs[other].median:.2f}",
                f"{cost.megabytes / costs[other].megabytes:.2f}",
            ]
        lines.append("".join(f"{cell:>18}" for cell in (name, *cells)))
    return "\n".join(lines)


def main() -> None:
    """Measure and print."""
    spec = Path(
        sys.argv[1] if len(sys.argv) > 1 else PROJECT / "specs" / "orrindale_qp4.toml"
    ).resolve()
    if not spec.is_file():
        sys.exit(
            f"There is no spec file {spec}. Give the path of one, or nothing for the shipped one."
        )
    with tempfile.TemporaryDirectory() as folder:
        compiled_in(Path(folder))
        costs = measured(spec, Path(folder))
    print(
        f"{spec.name}: median of {ROUNDS} whole processes, peak memory, {os.cpu_count()} "
        f"cores\n\n{table(costs)}"
    )


if __name__ == "__main__":
    main()
