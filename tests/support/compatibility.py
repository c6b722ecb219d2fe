"""What each spreadsheet program does with a shipped book: opened without any result of ours, typed
into, reckoned, saved and validated, printed.

Measured by tests/scripts/programs_bench.py into compatibility.json; compatibility_page makes a page
of the manual of it, and tests/programs/test_compatibility.py measures the same again. What is known
not to hold stands in compatibility.toml.
"""

from __future__ import annotations

import subprocess
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from compatibility_page import Measured
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import same
from programs import made_once, need
from readings_made import plausible
from spreadsheet_programs import Program
from stored_books import StoredXlsx
from xlsx_parts import MAIN

WRONG = "-777"


@cache
def layout_of(name: str) -> Layout:
    """The book of a shipped spec, every operation and station in it."""
    return lay_out(load_spec(shipped_specs()[name]), Job("SQ-17"))


@cache
def readings_of(name: str) -> Mapping[str, float | str]:
    """Every reading that the book asks for, and those that say how it was read."""
    found = plausible(layout_of(name)).items()
    return {key: one for key, one in found if isinstance(one, float | int | str)}


def without_results(path: Path, *, removed: bool) -> None:
    """Take every result out of a book, or put a wrong one in its place."""
    book = StoredXlsx(path)
    for _, cell in book.parts.cells():
        if cell.find(f"{MAIN}f") is None:
            continue
        cell.attrib.pop("t", None)
        for held in cell.findall(f"{MAIN}v"):
            if removed:
                cell.remove(held)
            else:
                held.text = WRONG
    book.save(path)


def given(name: str, *, filled: bool, removed: bool) -> Path:
    """A book without one right result, empty or filled; read-only to you."""

    def make(path: Path) -> None:
        write(layout_of(name), path, readings_of(name) if filled else {})
        without_results(path, removed=removed)

    said = f"{'filled' if filled else 'empty'}-{'removed' if removed else 'poisoned'}"
    return made_once(f"given-{name}-{said}.xlsx", make)


@cache
def computed(name: str) -> Mapping[str, object]:
    """What the filled book shows by the tool's own reckoning."""
    return reckon(layout_of(name), readings_of(name))


def measure(program: Program, name: str, folder: Path) -> Measured:
    """Take a book through a program; RuntimeError with the program's words where it does not
    open.
    """
    layout, readings = layout_of(name), readings_of(name)
    typed = [
        (place.at.sheet, place.at.cell, what)
        for place, what in ((layout.place(key), what) for key, what in readings.items())
    ]
    book = given(name, filled=not program.types, removed=program.trusts)
    out = folder / f"{name}{program.saves or '.none'}"
    shows = program.fill(book, typed if program.types else [], out)
    results = [
        same(shows[place.at.sheet, place.at.cell], computed(name)[key])
        for key, place in layout.places.items()
        if layout.has_formula(key)
    ]
    kept, accused = judged(out, readings) if program.saves else (0, None)
    paper = None
    if program.print:
        filled = given(name, filled=True, removed=program.trusts)
        program.print(filled, folder / f"{name}.pdf")
        paper = pages(folder / f"{name}.pdf")
    arrived = (kept, len(readings)) if program.types and program.saves else None
    return Measured((sum(results), len(results)), arrived, accused, paper)


def judged(out: Path, readings: Mapping[str, float | str]) -> tuple[int, tuple[str, ...]]:
    """Return how many readings the validator finds as they were typed, and the damage of which it
    accuses the file.
    """
    made = validate(out)
    kept = sum(
        same(found, float(what) if isinstance(what, int) else what)
        for found, what in ((made.typed.get(key), what) for key, what in readings.items())
    )
    return kept, tuple(sorted({one.code for one in made.findings if one.severity == "damage"}))


def pages(printed: Path) -> tuple[int, int]:
    """Return the pages of a PDF, and on how many of them nothing is written."""
    said = subprocess.run([need("poppler"), printed, "-"], capture_output=True, check=True).stdout
    each = said.decode("utf-8", "replace").split("\f")[:-1]
    return len(each), sum(not one.strip() for one in each)
