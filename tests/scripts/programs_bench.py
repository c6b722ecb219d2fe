"""Take every shipped book through every spreadsheet program, and write what they did.

    python tests/scripts/programs_bench.py [PROGRAM…]     all where none is named; minutes in all

Writes tests/support/compatibility.json, then the manual's page of it. A program that is not on this
machine keeps what was measured before. DATUMBOOK_FOREIGN names the folder in which .ci/run --all
installs the libraries of tests/support/foreign.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

import pytest  # noqa: E402

from compatibility import measure  # noqa: E402
from compatibility_page import MEASURED, Measured, keep, page, row  # noqa: E402
from datumbook.spec import shipped_specs  # noqa: E402
from make_manual import MANUAL  # noqa: E402
from spreadsheet_programs import Program, programs  # noqa: E402

SHORTEST = "brackwater_s1"


def through(program: Program, folder: Path) -> dict[str, Measured]:
    """Take the books through one program, the shortest alone where it is slow."""
    books = [SHORTEST] if program.slow else sorted(shipped_specs())
    found = {}
    for name in books:
        found[name] = measure(program, name, folder)
        print(f"{program.name}: {name}: {found[name]}", flush=True)
    return found


def main() -> None:
    """Measure, keep, print."""
    known = json.loads(MEASURED.read_text("utf-8")) if MEASURED.exists() else {}
    chosen = sys.argv[1:] or list(programs())
    with tempfile.TemporaryDirectory() as folder:
        for name in chosen:
            place = Path(folder) / name.replace(" ", "_")
            place.mkdir()
            try:
                version = programs()[name].version()
                known[name] = row(version, programs()[name].opens, through(programs()[name], place))
            except (pytest.skip.Exception, pytest.fail.Exception) as reason:
                print(f"{name}: left as it was: {reason}")
            keep({one: known[one] for one in programs() if one in known})
    (MANUAL / "spreadsheets.md").write_text(page(), "utf-8")


if __name__ == "__main__":
    main()
