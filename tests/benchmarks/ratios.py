"""What validating and generating cost, as multiples of what others take for the same file, in one
run.

    python tests/benchmarks/ratios.py [BOOKS]     from the project's folder; a folder of 12 books
    where left out

Processor time throughout, as the machine may have other work: medians of three rounds that
alternate, after one that warms up. A folder is judged by two processes beside one LibreOffice: its
rate on two cores is what half its processor time allows.
"""

from __future__ import annotations

import gc
import sys
import tempfile
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from statistics import median

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "benchmarks"),
]

import xlsxwriter  # noqa: E402
from benchmark import compiled_in  # noqa: E402
from many import COMMAND, ENGINE, books, cost  # noqa: E402
from validation import loaded, office  # noqa: E402

from clean_readings import demo_book, empty_book  # noqa: E402
from datumbook.job import Job  # noqa: E402
from datumbook.readers import Book, open_book  # noqa: E402
from datumbook.spec import load_spec, shipped_specs  # noqa: E402
from datumbook.stations import lay_out  # noqa: E402
from datumbook.validator import validate  # noqa: E402
from datumbook.writer import workbook_bytes  # noqa: E402

ROUNDS = 3
WANTED = {
    "validate, cold / LibreOffice": 0.25,
    "validate, of a spec known / openpyxl load": 1.0,
    "generate / xlsxwriter, the same cells": 1.5,
}
FOLDER = 12.0  # times as many books a second on two cores as LibreOffice


def plainly_written(book: Book) -> None:
    """The cells of a book, values and formulas, written by xlsxwriter and by nothing else."""
    with xlsxwriter.Workbook(BytesIO()) as made:
        for name, sheet in book.sheets.items():
            page = made.add_worksheet(name)
            for (row, column), cell in sheet.cells.items():
                if cell.formula:
                    page.write_formula(row - 1, column - 1, f"={cell.formula}", None, cell.value)
                else:
                    page.write(row - 1, column - 1, cell.value)


def generated() -> None:
    """The whole of generating: spec, layout, workbook."""
    workbook_bytes(lay_out(load_spec(shipped_specs()[ENGINE]), Job("SQ-1")), {})


def rounds(works: dict[str, Callable[[], object]]) -> dict[str, float]:
    """The median processor time of each work, the works in turn."""
    taken: dict[str, list[float]] = {name: [] for name in works}
    for number in range(ROUNDS + 1):
        for name, work in works.items():
            gc.collect()
            gc.freeze()  # nobody searches what another one holds
            begun = time.process_time()
            told = work()
            spent = told if isinstance(told, float) else time.process_time() - begun
            if number:
                taken[name].append(spent)
    return {name: median(each) for name, each in taken.items()}


def ratios(folder: Path) -> dict[str, float]:
    """What one book costs, as multiples of what others take."""
    book, empty = demo_book(), open_book(empty_book())
    works: dict[str, Callable[[], object]] = {
        "openpyxl": lambda: loaded(book),
        "validate": lambda: validate(book) and None,
        "xlsxwriter": lambda: plainly_written(empty),
        "generate": generated,
        "cold": lambda: cost([*COMMAND, str(book)]).processor,
        "LibreOffice": lambda: cost([*office(folder), str(book)]).processor,
    }
    took = rounds(works)
    print(", ".join(f"{name} {each:.2f} s" for name, each in took.items()), flush=True)
    return dict(
        zip(
            WANTED,
            (
                took["cold"] / took["LibreOffice"],
                took["validate"] / took["openpyxl"],
                took["generate"] / took["xlsxwriter"],
            ),
            strict=True,
        )
    )


def main() -> None:
    """Measure and print."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        compiled_in(folder)
        if not office(folder):
            sys.exit("LibreOffice is not on this machine: there is nothing to hold it beside.")
        for what, ratio in ratios(folder).items():
            print(f"{what}: {ratio:.2f}, wanted at most {WANTED[what]:.2f}", flush=True)
        made = [str(path) for path in books(folder, count)]
        ours, theirs = cost([*COMMAND, *made]), cost([*office(folder), *made])
        print(
            f"{count} books: {ours.processor / count:.2f} s each, LibreOffice "
            f"{theirs.processor / count:.2f} s each; on two cores "
            f"{2 * theirs.processor / ours.processor:.1f} times as many a second, wanted at least "
            f"{FOLDER:.0f}"
        )


if __name__ == "__main__":
    main()
