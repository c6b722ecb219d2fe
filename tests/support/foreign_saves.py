"""Books opened and saved by other programs, many at a time: one start of a program for all of them.

A route takes books with different stems and a folder and returns the saved books in the same order.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Sequence
from functools import cache, partial
from pathlib import Path

import ironcalc
import openpyxl
import pytest

from clean_readings import ENGINE, Readings, clean_readings
from datumbook.job import Job
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from programs import AS_ODS, AS_XLSX, LANGUAGE, need, profile, run
from project import full_form
from simulation.measuring import honest

LOCALES = {"en": "en-US", "de": "de-DE", "fr": "fr-FR"}
SAVING = Path(__file__).with_name("foreign") / "save.mjs"
PLACE = "DATUMBOOK_FOREIGN"
"""The folder in which .ci/run installed what tests/support/foreign/package.json names."""

Route = Callable[[Sequence[Path], Path], list[Path]]
FEWER = {
    "cylinders = 4": "cylinders = 1",
    'centres = ["56.00 mm", "148.00 mm", "246.00 mm", "338.00 mm"]': 'centres = ["56.00 mm"]',
    'deck_length = "394.00 mm"': 'deck_length = "112.00 mm"',
}


@cache
def small_layout() -> Layout:
    """The shipped engine with one cylinder and no holes: a book of a third of the size."""
    text = full_form(ENGINE)
    text = text[: text.index("[[holes]]")]
    for old, new in FEWER.items():
        assert old in text
        text = text.replace(old, new)
    return lay_out(read_spec(text, "small.toml"), Job("SM-1"))


def honest_readings(layout: Layout, seed: int) -> Readings:
    """The readings of an honest workbook: sizes as measured, words as in the book that may be
    released.
    """
    measured = honest(layout, random.Random(seed))
    return {
        key: value
        for key, value in {**clean_readings(layout), **measured}.items()
        if key in layout.places
    }


def honest_books(layout: Layout, seeds: range, folder: Path) -> list[Path]:
    """Workbooks filled honestly, one for each seed."""
    folder.mkdir(parents=True, exist_ok=True)
    books = [folder / f"honest-{seed}.xlsx" for seed in seeds]
    for seed, book in zip(seeds, books, strict=True):
        write(layout, book, honest_readings(layout, seed))
    return books


def by_libreoffice(locale: str, target: str, books: Sequence[Path], folder: Path) -> list[Path]:
    """Saved by one LibreOffice process whose person speaks another language."""
    home = profile(f"saving-{locale}", LANGUAGE.format(locale=locale))
    options = [
        "--headless",
        "--norestore",
        f"-env:UserInstallation={home.as_uri()}",
        "--convert-to",
        target,
        "--outdir",
        folder,
    ]
    run([need("libreoffice"), *options, *books])
    return [folder / f"{book.stem}.{target.partition(':')[0]}" for book in books]


def by_gnumeric(suffix: str, books: Sequence[Path], folder: Path) -> list[Path]:
    """Saved by Gnumeric's converter in a format."""
    saved = [folder / f"{book.stem}{suffix}" for book in books]
    return [
        _made(one, partial(run, [need("gnumeric"), book, one]))
        for book, one in zip(books, saved, strict=True)
    ]


def by_ironcalc(language: str, books: Sequence[Path], folder: Path) -> list[Path]:
    """Saved by the library IronCalc in a language."""

    def save(book: Path, saved: Path) -> None:
        model = ironcalc.load_from_xlsx(str(book), language, "UTC", language)
        model.evaluate()
        model.save_to_xlsx(str(saved))

    return [_made(folder / book.name, partial(save, book, folder / book.name)) for book in books]


def by_openpyxl(books: Sequence[Path], folder: Path) -> list[Path]:
    """Saved by the library openpyxl, which drops every result."""
    return [
        _made(folder / book.name, partial(openpyxl.load_workbook(book).save, folder / book.name))
        for book in books
    ]


def library(name: str) -> Path:
    """Where a JavaScript library, or a file of it, is installed; skips the test in plain words
    where it is not.
    """
    if not os.environ.get(PLACE):
        pytest.skip(
            f"{PLACE} names no folder with the libraries of tests/support/foreign/package.json: "
            f".ci/run installs them"
        )
    return Path(os.environ[PLACE]) / "node_modules" / name


def by_library(name: str, books: Sequence[Path], folder: Path) -> list[Path]:
    """Saved by a JavaScript library."""
    library(name)
    saved = [folder / book.name for book in books]
    run(["node", SAVING, name, *(path for pair in zip(books, saved, strict=True) for path in pair)])
    return saved


def _made(saved: Path, save: Callable[[], None]) -> Path:
    save()
    return saved


ROUTES: dict[str, Route] = {
    **{
        f"LibreOffice, {name}": partial(by_libreoffice, locale, AS_XLSX)
        for name, locale in LOCALES.items()
    },
    **{
        f"LibreOffice as .ods, {name}": partial(by_libreoffice, locale, AS_ODS)
        for name, locale in LOCALES.items()
    },
    "Gnumeric": partial(by_gnumeric, ".xlsx"),
    "Gnumeric as .ods": partial(by_gnumeric, ".ods"),
    **{f"IronCalc, {name}": partial(by_ironcalc, name) for name in LOCALES},
    "openpyxl": by_openpyxl,
    "SheetJS": partial(by_library, "xlsx"),
    "exceljs": partial(by_library, "exceljs"),
}


def written(value: float | str, locale: str) -> str:
    """A reading as a person at a computer in this language types it."""
    text = value if isinstance(value, str) else f"{value:.10g}"
    return text if locale == "en-US" or isinstance(value, str) else text.replace(".", ",")
