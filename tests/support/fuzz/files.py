"""Mutated files of a small workbook: whatever the bytes, the validator answers with findings, soon
and in little memory.

    python tests/support/fuzz/files.py FIRST LAST     seeds FIRST to LAST - 1, from the project's
    folder; the same seed is the same file

Prints every 500 seeds how far it is, the slowest answer and the peak memory, so a run can be ended
and taken up again. A traceback ends it with the seed that caused it.
"""

from __future__ import annotations

import io
import random
import re
import resource
import sys
import tempfile
import time
import zipfile
from collections import Counter
from functools import cache
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[3]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

from datumbook.validator import validate  # noqa: E402
from datumbook.writer import workbook_bytes  # noqa: E402
from foreign_saves import honest_readings, small_layout  # noqa: E402

SECONDS, MEGABYTES = (
    10.0,
    300,
)  # no answer is slower (on a machine shared with others), none takes more memory
Parts = dict[str, bytes]
VALUES = (
    b"",
    b"0",
    b"-1",
    b"1e999",
    b"nan",
    b"\xff",
    b"A0",
    b"XFE1048577",
    b"true",
    b"#REF!",
    b"99999999999999999999",
    b"&#x1F;",
    b"'",
)


@cache
def sound() -> bytes:
    """The small workbook, filled honestly."""
    return workbook_bytes(small_layout(), honest_readings(small_layout(), 1))


@cache
def sound_parts() -> Parts:
    """Its parts by name."""
    with zipfile.ZipFile(io.BytesIO(sound())) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def mutated(seed: int) -> bytes:
    """The file of a seed: bytes scratched, cut or doubled, or parts spoiled and packed again
    without fault.
    """
    chance = random.Random(seed)
    if chance.random() < 0.3:
        return scratched(sound(), chance)
    parts = dict(sound_parts())
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        spoil(parts, chance)
    buffer = io.BytesIO()
    with zipfile.ZipFile(
        buffer, "w", chance.choice((zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED)), compresslevel=1
    ) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return buffer.getvalue()


def spoil(parts: Parts, chance: random.Random) -> None:
    """Do one thing to the parts of a workbook: one lost, renamed, exchanged with another, or its
    text changed.
    """
    name = chance.choice(sorted(parts))
    kind = chance.randrange(10)
    if kind == 0:
        del parts[name]
    elif kind == 1:
        parts[
            chance.choice(
                ("xl/vbaProject.bin", "[Content_Types].xml", name.upper() + "x", "../" + name)
            )
        ] = parts.pop(name)
    elif kind == 2:
        other = chance.choice(sorted(parts))
        parts[name], parts[other] = parts[other], parts[name]
    elif kind == 3:
        parts[name] = scratched(parts[name], chance)
    else:
        parts[name] = rewritten(parts[name], chance)


def scratched(data: bytes, chance: random.Random) -> bytes:
    """Some bytes changed, a stretch cut out, doubled or the rest cut off."""
    at, length = chance.randrange(len(data) + 1), chance.choice((1, 4, 64, 4096))
    kind = chance.randrange(5)
    if kind == 0:
        return data[:at]
    if kind == 1:
        return data[:at] + data[at + length :]
    if kind == 2:
        return data[:at] + data[at : at + length] * chance.randrange(2, 9) + data[at + length :]
    spoiled = bytearray(data)
    for _ in range(chance.choice((1, 2, 16))):
        if spoiled:
            spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
    return bytes(spoiled)


def rewritten(data: bytes, chance: random.Random) -> bytes:
    """One tag, attribute or text of the XML changed, dropped or doubled, so that it mostly stays
    XML.
    """
    found = list(
        re.finditer(
            chance.choice(
                (
                    rb'="[^"]*"',
                    rb">[^<>]+<",
                    rb"<[a-zA-Z:]+[^<>]*/>",
                    rb"<([a-z]+)[^<>/]*>[^<>]*</\1>",
                )
            ),
            data,
        )
    )
    if not found:
        return scratched(data, chance)
    one, other = chance.choice(found), chance.choice(found)
    text = one.group()
    if text[:2] == b'="':
        new = b'="' + chance.choice((*VALUES, other.group()[2:-1])) + b'"'
    elif text[:1] == b">":
        new = b">" + chance.choice((*VALUES, other.group()[1:-1])) + b"<"
    else:
        new = chance.choice((b"", text * 2, other.group()))
    return data[: one.start()] + new + data[one.end() :]


def memory() -> float:
    """The largest resident size of this process so far, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024  # Linux counts in kB


def judged(seeds: range, folder: Path) -> tuple[Counter[str], float]:
    """Validate the file of every seed; return the verdicts and the slowest answer in seconds."""
    verdicts, slowest, path = Counter[str](), 0.0, folder / "book.xlsx"
    for seed in seeds:
        path.write_bytes(mutated(seed))
        begun = time.process_time()
        try:
            verdicts[validate(path).verdict] += 1
        except Exception as fault:
            raise AssertionError(f"seed {seed}: {type(fault).__name__}: {fault}") from fault
        slowest = max(slowest, time.process_time() - begun)
    return verdicts, slowest


def main() -> None:
    """Run the seeds and print."""
    first, last = int(sys.argv[1]), int(sys.argv[2])
    verdicts, slowest = Counter[str](), 0.0
    with tempfile.TemporaryDirectory() as folder:
        for start in range(first, last, 500):
            more, slow = judged(range(start, min(start + 500, last)), Path(folder))
            verdicts, slowest = verdicts + more, max(slowest, slow)
            done = min(start + 500, last)
            print(
                f"to {done}: {dict(verdicts)}, slowest {slowest:.2f} s, peak {memory():.0f} MB",
                flush=True,
            )


if __name__ == "__main__":
    main()
