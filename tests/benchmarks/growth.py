"""How the commands grow: with the engine, from one cylinder to sixteen, and with the number of
workbooks.

    python tests/benchmarks/growth.py [BOOKS]     from the project's folder; up to 100 books where
    left out, 1000 by argument

The engines are the shipped one with another number of cylinders and without its holes, whose number
hangs on the engine and not on the cylinders. Each command is a whole process; time is the best of
three. What a process costs before it does anything is that of `--version` and is taken off before
it is told for a thousand cells. Memory is the largest resident size. A folder is judged, and then
once more as the register remembers it.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
import tempfile
import zipfile
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "benchmarks"),
]

from benchmark import PYTHON, compiled_in, run_once  # noqa: E402

from project import full_form  # noqa: E402

ENGINE = "orrindale_qp4"
CYLINDERS = (1, 2, 4, 8, 16)
BOOKS = (1, 10, 100, 1000)
DIFFERENT = 100  # of more books, the others are copies of these
ROUNDS = 3
FIRST, PITCH = 56.0, 96.0  # mm: from the end face to the first bore, and from bore to bore
AS_SHIPPED = {
    "cylinders = 4": "cylinders = {count}",
    'centres = ["56.00 mm", "148.00 mm", "246.00 mm", "338.00 mm"]': "centres = [{centres}]",
    'deck_length = "394.00 mm"': 'deck_length = "{deck:.2f} mm"',
}


def engine(count: int) -> str:
    """The text of the shipped spec with so many cylinders and without its holes."""
    text = full_form(ENGINE)
    text = text[: text.index("[[holes]]")]
    centres = ", ".join(f'"{FIRST + PITCH * place:.2f} mm"' for place in range(count))
    for old, new in AS_SHIPPED.items():
        if old not in text:
            sys.exit(
                f"{ENGINE} has no line {old!r} any more: mend AS_SHIPPED in {Path(__file__).name}."
            )
        text = text.replace(
            old, new.format(count=count, centres=centres, deck=2 * FIRST + PITCH * (count - 1))
        )
    return text


def cells(book: Path) -> int:
    """The cells that the sheets of a workbook store."""
    with zipfile.ZipFile(book) as archive:
        sheets = [
            archive.read(name)
            for name in archive.namelist()
            if name.startswith("xl/worksheets/sheet")
        ]
    return sum(len(re.findall(b"<c ", sheet)) for sheet in sheets)


def best(command: list[str]) -> tuple[float, float]:
    """The least wall time of the rounds in seconds, and the most memory in MB; a book on hold is an
    answer.
    """
    found = [run_once(command, (0, 1)) for _ in range(ROUNDS)]
    return min(taken for taken, _ in found), max(held for _, held in found)


def with_cylinders(folder: Path) -> None:
    """Print what generate and validate cost for each number of cylinders."""
    start, _ = best([*PYTHON, "--version"])
    print(f"a process that does nothing: {start:.2f} s\n")
    for count in CYLINDERS:
        spec, book = folder / f"of_{count}.toml", folder / f"of_{count}.xlsx"
        spec.write_text(engine(count), "utf-8")
        costs = {
            "generate": best([*PYTHON, "generate", str(spec), "--replace", "-o", str(book)]),
            "validate": best([*PYTHON, "validate", str(book)]),
        }
        number = cells(book)
        said = [
            f"{what} {taken:.2f} s, {(taken - start) / number * 1000:.3f} s a thousand cells, "
            f"{held:.0f} MB"
            for what, (taken, held) in costs.items()
        ]
        print(f"{count} cylinders, {number} cells: {'; '.join(said)}", flush=True)


def with_books(folder: Path, most: int) -> None:
    """Print what validating more and more workbooks of one engine costs."""
    from many import (
        COMMAND,
        books,
        cost,
    )  # after the engines: a child's memory counts what its parent held, so hold little

    made = [str(path) for path in books(folder, min(most, DIFFERENT))]
    for number in range(len(made), most):
        made.append(shutil.copy(made[number % DIFFERENT], folder / f"copy-{number:04}.xlsx"))
    for count in (count for count in BOOKS if count <= most):
        remembered = [word for word in COMMAND if word != "--fresh"]
        os.environ["XDG_CACHE_HOME"] = str(folder / f"remembered-{count}")
        one, again = (cost([*remembered, *made[:count]]) for _ in range(2))
        each, processor = one.wall / count, one.processor / count
        print(
            f"{count} books: {one.wall:.2f} s, {each:.3f} s and {processor:.3f} s of processor "
            f"each, {one.megabytes:.0f} MB; the same again {again.wall:.2f} s, "
            f"{again.processor:.2f} s of processor, {again.megabytes:.0f} MB",
            flush=True,
        )


def main() -> None:
    """Measure and print."""
    most = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as name:
        compiled_in(Path(name))
        with_cylinders(Path(name))
        print()
        with_books(Path(name), most)


if __name__ == "__main__":
    main()
