"""Thousands of honest workbooks saved by every other program at hand: how many drew a finding they
should not.

    python tests/support/foreign/many.py [BOOKS] [FIRST_SEED]     from the project's folder; 100 and
    0 where left out

Set DATUMBOOK_FOREIGN to a folder in which `npm install` put what tests/support/foreign/package.json
names, or those routes are left out. Batches of 50, so that it can be ended and taken up again at a
later seed.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[3]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

import pytest  # noqa: E402

from clean_readings import told  # noqa: E402
from datumbook.validator import validate  # noqa: E402
from foreign_saves import ROUTES, honest_books, small_layout  # noqa: E402

BATCH = 50


def disturbed(books: list[Path], name: str, folder: Path) -> tuple[int, int]:
    """How many books a route saved, and of how many more or less is said afterwards."""
    folder.mkdir()
    try:
        saved = ROUTES[name](books, folder)
    except pytest.skip.Exception as reason:
        print(f"{name}: left out: {reason}")
        return 0, 0
    wrong = 0
    for book, other in zip(books, saved, strict=True):
        now = {one for one in told(validate(other).findings) if one[0] != "results-missing"}
        if now != set(told(validate(book).findings)):
            wrong += 1
            print(f"{name}: {book.name}: {sorted(now ^ set(told(validate(book).findings)))[:3]}")
    return len(saved), wrong


def main() -> None:
    """Save, validate, print."""
    count, first = (int(one) for one in (*sys.argv[1:3], *("100", "0")[len(sys.argv) - 1 :]))
    trips = wrong = 0
    for start in range(first, first + count, BATCH):
        with tempfile.TemporaryDirectory() as folder:
            books = honest_books(
                small_layout(),
                range(start, min(start + BATCH, first + count)),
                Path(folder) / "books",
            )
            for number, name in enumerate(ROUTES):
                saved, bad = disturbed(books, name, Path(folder) / str(number))
                trips, wrong = trips + saved, wrong + bad
        print(
            f"seeds {start} to {min(start + BATCH, first + count) - 1}: {trips} round trips, "
            f"{wrong} disturbed",
            flush=True,
        )


if __name__ == "__main__":
    main()
