"""Spreadsheet programs at work on one book: it is opened, typed into, worked out anew, saved and
printed.

``Program.fill(book, typed, out)`` opens a book, types each (sheet, cell, what) into it, lets the
program reckon, saves as ``out`` where the program can, and returns what every cell stored in the
book shows then. Nothing that the book carried as a result is trusted: the books given carry wrong
ones. Where a person's typing cannot be had, the book is given filled and nothing is typed.
"""

from __future__ import annotations

import base64
import json
import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

import formualizer as formualizer_library
import ironcalc as ironcalc_library
import pytest
from openpyxl.utils.cell import coordinate_to_tuple

from bench_typing import type_into
from browser import browser
from datumbook.readers import open_book
from datumbook.readers.number_formats import number_format
from engines import EngineError, Results, Value, asked_of_each_cell, held_to, once, stored, value
from engines import libreoffice as recalculated
from foreign_saves import library
from programs import need, office, run, surroundings
from stored_books import StoredXlsx, store
from xlsx_parts import MAIN, Parts

Typed = Sequence[tuple[str, str, float | str]]
Fill = Callable[[Path, Typed, Path], Results]
FOREIGN = Path(__file__).with_name("foreign")


@dataclass(frozen=True)
class Program:
    """One program: what it is called, its version, and what it can be made to do without a
    window.
    """

    name: str
    version: Callable[[], str]
    fill: Fill
    print: Callable[[Path, Path], None] | None = None
    opens: str = "yes"
    types: bool = True
    saves: str = ".xlsx"  # "" where it writes no file
    trusts: bool = False  # keeps a wrong result it finds: its books carry none
    slow: bool = False  # takes minutes for a large book


def written(what: float | str) -> str:
    """What is typed, as a person types it."""
    return what if isinstance(what, str) else f"{Decimal(f'{what:.10g}'):f}"


def said_by(command: Sequence[str], pattern: str) -> str:
    """Return the first group of a pattern in what a program says of itself."""
    said = subprocess.run(command, capture_output=True, text=True, check=True, env=surroundings())
    found = re.search(pattern, said.stdout + said.stderr)
    return found[1] if found else "?"


def from_zero(cell: str) -> tuple[int, int]:
    """Return row and column of an address, counted from 0."""
    row, column = coordinate_to_tuple(cell)
    return row - 1, column - 1


def shown(found: Any) -> Value:
    """Return a value that came as JSON."""
    return EngineError(str(found["error"])) if isinstance(found, dict) else found


# --- programs of a desktop


def libreoffice(book: Path, typed: Typed, out: Path) -> Results:
    """Typed by its own recogniser of numbers, saved, then opened to be reckoned hard and saved."""
    half = out.with_name(f"typed-{out.name}")
    type_into(book, half, [(sheet, cell, written(what)) for sheet, cell, what in typed])
    found = recalculated(half)
    shutil.copyfile(once("libreoffice", half), out)
    return found


def gnumeric(book: Path, _typed: Typed, out: Path) -> Results:
    """Reckoned and saved by its converter, which types into the first sheet only."""
    run([need("gnumeric"), "--recalc", book, out])
    return held_to(book, stored(out))


def calligra(book: Path, _typed: Typed, out: Path) -> Results:
    """Opened and saved as .ods by its converter; there is no typing without its window."""
    command = shutil.which("calligraconverter")
    if not command:
        pytest.skip("calligraconverter is not on this machine: .ci/run --all installs it")
    quiet = ["env", "QT_QPA_PLATFORM=offscreen", "QT_LOGGING_RULES=*=false"]
    run([*quiet, command, "--batch", book, out])
    cells = {name: sheet.cells for name, sheet in open_book(out).sheets.items()}

    def holds(sheet: str, row: int, column: int) -> Value:
        found = cells[sheet].get((row, column))
        if found is None:
            return None
        return EngineError(found.error) if found.error else found.value

    return asked_of_each_cell(book, holds)


# --- libraries


def ironcalc(book: Path, typed: Typed, out: Path) -> Results:
    """Typed as its user would, one text after another; a day, which it keeps as a number, is what
    its cell shows.
    """
    model = ironcalc_library.load_from_xlsx(str(book), "en", "UTC", "en")
    numbers = {one["name"]: at for at, one in enumerate(model.get_worksheets_properties())}
    for sheet, cell, what in typed:
        model.set_user_input(numbers[sheet], *coordinate_to_tuple(cell), written(what))
    model.evaluate()
    model.save_to_xlsx(str(out))

    def holds(sheet: str, row: int, column: int) -> Value:
        place = numbers[sheet], row, column
        found = model.get_cell_value(*place)
        if model.get_cell_type(*place) == ironcalc_library.CellType.ErrorValue:
            return EngineError(str(found))
        day = (
            isinstance(found, float)
            and number_format(model.get_cell_style(*place)["num_fmt"]).is_date
        )
        return model.get_formatted_cell_value(*place) if day else found

    return asked_of_each_cell(book, holds)


def formualizer(book: Path, typed: Typed, out: Path) -> Results:
    """Given as values, numbers and words."""
    model = formualizer_library.load_workbook(str(book))
    model.set_temporal_egress("serial")
    for sheet, cell, what in typed:
        model.set_value(sheet, *coordinate_to_tuple(cell), what)
    model.evaluate_all()
    out.write_bytes(model.to_xlsx_bytes())

    def holds(sheet: str, row: int, column: int) -> Value:
        found = model.get_value(sheet, row, column)
        return EngineError(str(found["kind"])) if isinstance(found, dict) else found

    return asked_of_each_cell(book, holds)


def hyperformula(book: Path, typed: Typed, _out: Path) -> Results:
    """Reads no file: it is given every formula and constant as stored. Words begin with an
    apostrophe, as a person sees to it that they stay words.
    """
    library("hyperformula")
    parts = Parts(book)
    sheets: dict[str, list[list[Any]]] = {name: [] for name in parts.sheets}
    for sheet, cell in parts.cells():
        row, column = from_zero(cell.get("r", ""))
        formula, rows = cell.findtext(f"{MAIN}f"), sheets[sheet]
        rows.extend([] for _ in range(row + 1 - len(rows)))
        rows[row].extend([None] * (column + 1 - len(rows[row])))
        held = value(parts, cell)
        words = f"'{held}" if isinstance(held, str) else held
        rows[row][column] = f"={formula}" if formula else words
    entries = [
        [sheet, *from_zero(cell), f"'{what}" if isinstance(what, str) else written(what)]
        for sheet, cell, what in typed
    ]
    done = subprocess.run(
        ["node", str(FOREIGN / "hyperformula.mjs")],
        input=json.dumps({"sheets": sheets, "typed": entries}),
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
        env=os.environ,
    )
    if done.returncode:
        raise RuntimeError(f"HyperFormula: {done.stderr[-2000:]}")
    found = json.loads(done.stdout)

    def holds(sheet: str, row: int, column: int) -> Value:
        line = found[sheet][row - 1] if row <= len(found[sheet]) else []
        return shown(line[column - 1]) if column <= len(line) else None

    return asked_of_each_cell(book, holds)


# --- in a browser


def web(name: str) -> Path:
    """Where a spreadsheet of the web is installed; skips the test in plain words where it is
    not.
    """
    place = library("..") / "web" / "node_modules" / name
    if not place.exists():
        pytest.skip(f"{name} is not installed: .ci/run --all does it")
    return place


def unprotected(book: Path) -> dict[str, str]:
    """Return the parts of a book as texts, its sheets without protection: some programs of the web
    take it that nothing at all may be typed into a protected sheet. Pictures as data.
    """
    opened = StoredXlsx(book)
    for root in opened.parts.sheets.values():
        for lock in root.findall(f"{MAIN}sheetProtection"):
            root.remove(lock)
    with tempfile.TemporaryDirectory() as folder:
        files = Parts(opened.save(Path(folder) / "open.xlsx")).files
    return {
        name: data.decode()
        if name.endswith((".xml", ".rels"))
        else f"data:image/png;base64,{base64.b64encode(data).decode()}"
        for name, data in files.items()
    }


def o_spreadsheet(book: Path, typed: Typed, out: Path) -> Results:
    """Typed cell by cell as its own field for entries does, in Chromium."""
    scripts = [
        web("@odoo/owl") / "dist" / "owl.iife.js",
        web("@odoo/o-spreadsheet") / "dist" / "o_spreadsheet.iife.js",
        FOREIGN / "web" / "o_spreadsheet.js",
    ]
    cells = [(sheet, cell.get("r", "")) for sheet, cell in Parts(book).cells()]
    entries = [[sheet, *from_zero(cell), written(what)] for sheet, cell, what in typed]
    wanted = [[sheet, *from_zero(cell)] for sheet, cell in cells]
    with tempfile.TemporaryDirectory() as folder, browser() as tab:
        given = Path(folder) / "given.js"
        given.write_text(f"const given = {json.dumps([unprotected(book), entries, wanted])};")
        page = Path(folder) / "page.html"
        tags = "".join(f'<script src="{one.resolve().as_uri()}"></script>' for one in scripts)
        page.write_text(
            f'<!doctype html><meta charset="utf-8">{tags}<script src="given.js"></script>'
        )
        tab.open(page, 1200)
        done = tab.tell("work(...given)")
    store({path.lstrip("/"): content.encode() for path, content in done["saved"]}, out)
    return {cell: shown(found) for cell, found in zip(cells, done["values"], strict=True)}


# --- on paper


def printed_by_libreoffice(book: Path, out: Path) -> None:
    """Print to a PDF, which stands beside the book under its name."""
    (made,) = office([book], "pdf", out.parent, recalculate=True)
    made.rename(out)


def printed_by_gnumeric(book: Path, out: Path) -> None:
    """Print to a PDF by its converter."""
    run([need("gnumeric"), "--recalc", book, out])


def npm(name: str, of: Callable[[str], Path] = library) -> Callable[[], str]:
    """Return what asks an installed JavaScript library its version."""
    return lambda: str(json.loads((of(name) / "package.json").read_text("utf-8"))["version"])


@cache
def programs() -> dict[str, Program]:
    """Every program by its name."""
    listed = [
        Program(
            "LibreOffice",
            lambda: said_by([need("libreoffice"), "--version"], r"LibreOffice (\S+)"),
            libreoffice,
            printed_by_libreoffice,
        ),
        Program(
            "Gnumeric",
            lambda: said_by([need("gnumeric"), "--version"], r"version '([^']+)'"),
            gnumeric,
            printed_by_gnumeric,
            types=False,
        ),
        Program(
            "Calligra Sheets",
            lambda: said_by(
                ["dpkg-query", "-W", "-f", "${Version}", "calligrasheets"], r"(?:\d+:)?([\d.]+)"
            ),
            calligra,
            types=False,
            saves=".ods",
            trusts=True,
            slow=True,
        ),
        Program("IronCalc", lambda: version("ironcalc"), ironcalc),
        Program("formualizer", lambda: version("formualizer"), formualizer),
        Program("HyperFormula", npm("hyperformula"), hyperformula, opens="formulas only", saves=""),
        Program("o-spreadsheet", npm("@odoo/o-spreadsheet", web), o_spreadsheet),
    ]
    return {one.name: one for one in listed}
