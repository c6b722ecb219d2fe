"""A shop's folder of workbooks: how many a second, and whether memory grows with their number,
beside LibreOffice.

    python tests/benchmarks/many.py [BOOKS]     from the project's folder; 40 where left out, 500
    for a whole year

Each book is another job of one engine, filled with another block's honest readings. The register is
made by one command on two processes; LibreOffice converts the same files in one process, in the
same run. Memory is that of the command and all its processes together, looked at ten times a
second, for half the books and for all of them.
"""

from __future__ import annotations

import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "benchmarks"),
]

from validation import office  # noqa: E402

from datumbook.job import Job  # noqa: E402
from datumbook.spec import load_spec, shipped_specs  # noqa: E402
from datumbook.stations import lay_out  # noqa: E402
from datumbook.writer import write  # noqa: E402
from simulation.measuring import honest  # noqa: E402

ENGINE = "orrindale_qp4"
COMMAND = [sys.executable, "-m", "datumbook", "validate", "--fresh", "--processes", "2"]
PAGE = os.sysconf("SC_PAGE_SIZE")


def books(folder: Path, count: int) -> list[Path]:
    """So many jobs of one engine, each filled otherwise."""
    layout, made = lay_out(load_spec(shipped_specs()[ENGINE]), Job("pattern")), list[Path]()
    for number in range(count):
        made.append(folder / f"SQ-{number:04}.xlsx")
        readings = honest(layout, random.Random(number)) | {"job.received_on": "2026-05-04"}
        write(layout.for_job(Job(f"SQ-{number:04}")), made[-1], readings)
    return made


def memory(process: int) -> int:
    """The resident bytes of a process and of all it started; Linux lists them under /proc."""
    try:
        held = int(Path(f"/proc/{process}/statm").read_text("ascii").split()[1]) * PAGE
        children = [
            one
            for task in Path(f"/proc/{process}/task").glob("*/children")
            for one in task.read_text("ascii").split()
        ]
    except (OSError, IndexError):
        return 0  # it has ended meanwhile
    return held + sum(memory(int(child)) for child in children)


@dataclass(frozen=True)
class Cost:
    """What a command cost with all its processes: wall time and processor time in seconds, the most
    memory held in MB.
    """

    wall: float
    processor: float
    megabytes: float


def cost(command: list[str]) -> Cost:
    """Run a command and return its cost. Exit with its words if it fails."""
    before = sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2])
    begun, most = time.perf_counter(), 0
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen(
            command, cwd=PROJECT, stdin=subprocess.DEVNULL, stdout=said, stderr=said
        )
        while process.poll() is None:
            most = max(most, memory(process.pid))
            time.sleep(0.1)
        taken = time.perf_counter() - begun
        if process.returncode not in (0, 1):  # a book on hold is an answer
            said.seek(0)
            sys.exit(
                f"{command[0]} ended with {process.returncode}: "
                f"{said.read().decode(errors='replace')[-2000:]}"
            )
    return Cost(
        taken, sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2]) - before, most / (1 << 20)
    )


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        made = [str(path) for path in books(folder, count)]
        costs: dict[str, Cost] = {}
        for what, command, files in (
            ("register, half", COMMAND, made[: count // 2]),
            ("register", COMMAND, made),
            ("LibreOffice", office(folder), made),
        ):
            if command:
                one = costs[what] = cost([*command, *files])
                each, rate = one.processor / len(files), len(files) / one.wall
                print(
                    f"{what}: {len(files)} books in {one.wall:.1f} s, {rate:.2f} a second, "
                    f"{each:.2f} s of processor each, "
                    f"{one.megabytes:.0f} MB",
                    flush=True,
                )
        if "LibreOffice" in costs:
            ours, theirs = costs["register"], costs["LibreOffice"]
            print(
                f"{theirs.wall / ours.wall:.1f} times as many a second on two cores as one "
                f"process of LibreOffice; "
                f"{theirs.processor / ours.processor:.1f} times as many for the same processor time"
            )


if __name__ == "__main__":
    main()
