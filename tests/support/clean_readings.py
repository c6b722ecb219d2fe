"""A complete set of readings for a layout under which every check is OK or conceded, and books
filled with it.

The books are written once in a test run: treat every returned path as read-only.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

from datumbook.cells.columns import Reading, per
from datumbook.commands.demo import BLOCK, ENGINE, run_demo
from datumbook.job import Job
from datumbook.messages.findings import Finding
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import Validation, validate
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.writer import write
from programs import made_once
from readings_made import in_turn

CONCEDED = "threads.front_cover.hole"
"""The one check of the shipped spec that no reading can help: its drill makes a hole larger than
the class of the thread allows.
"""

CONCESSION = {
    f"release.{CONCEDED}.conceded_value": 0.2696,
    f"release.{CONCEDED}.reason": "cover bolts only; gauge plug holds",
    f"release.{CONCEDED}.conceded_by": "A. N.",
    f"release.{CONCEDED}.conceded_on": "2026-05-11",
}
INTENDED = {
    "line_bore.line_bored": "no",
    "bottom_cut.parallel_to": "not cut",
    "deck_cut.parallel_to": "not cut",
}
NOT_BORED = {f"bore_plan.{number}.typed_bore": 82.0 for number in range(1, 5)}
SIGNED = {
    "decision.measured_by": "A. N.",
    "decision.read_again": "a block without wear, read twice, and alike each time",
    "decision.released_by": "B. M.",
    "decision.released_on": "2026-05-12",
}
ABOVE = {
    "holes_head_studs.thread": 0.02,
    "holes_front_cover.thread": 0.02,
    "holes_sump_rail.thread": 0.4,
    "holes_rear_housing.thread": 0.02,
}

Readings = dict[str, float | str]
Told = Counter[tuple[str, str, str]]


def clean_readings(layout: Layout) -> Readings:
    """Every wanted reading where it should be, threads a little deeper than least, every operation
    done in its turn, the one concession written, every gauge said to be off by nothing.
    """
    gauges = layout.stations.instruments.gauges
    sure: Readings = {gauges.uncertainty[row.key]: 0.0 for row in gauges.rows}
    said = in_turn(layout) | INTENDED | NOT_BORED | CONCESSION | SIGNED | sure
    return {place.key: expected(place) for place in layout.wanted()} | {
        key: value for key, value in said.items() if key in layout.places
    }


def expected(place: Place) -> float | str:
    """What a reading should be: the first of its choices, or the size as drawn."""
    assert isinstance(place.column, Reading)
    if place.column.day:
        return "2026-05-12"
    if place.unit is None:
        return str((per(place.column.choices, place.row) or ("P 1",))[0])  # else a name
    near, table, column = (
        per(place.column.near, place.row),
        place.key.split(".")[0],
        place.column.name,
    )
    return (
        round(near.to(place.unit) + ABOVE.get(f"{table}.{column}", 0.0), 12)
        if near is not None
        else 0.0
    )


@cache
def shipped_layout() -> Layout:
    """The layout of the demonstration's block."""
    return lay_out(load_spec(shipped_specs()[ENGINE]), Job(BLOCK))


@cache
def demo_books() -> Path:
    """The folder of the demonstration."""
    return made_once("demo", run_demo)


def empty_book() -> Path:
    """The shipped spec's book as generated."""
    return demo_books() / f"{ENGINE}_empty.xlsx"


def demo_book() -> Path:
    """The book of the demonstration's story."""
    return demo_books() / f"{ENGINE}_filled.xlsx"


@cache
def clean_book() -> Path:
    """The book that may be released."""
    readings = clean_readings(shipped_layout())
    return made_once("clean.xlsx", lambda path: write(shipped_layout(), path, readings))


BOOKS = {"empty": empty_book, "demo": demo_book, "clean": clean_book}


@cache
def validated(path: Path) -> Validation:
    """A book validated once."""
    return validate(path)


def told(findings: list[Finding]) -> Told:
    """Findings by code, sheet and cell, counted."""
    return Counter((one.code, one.sheet, one.cell) for one in findings)


def news(path: Path, sound: Path) -> tuple[Told, Told]:
    """What a book's validation says more, and what it says no more, than that of the sound book it
    was made from.
    """
    now, before = told(validate(path).findings), told(validated(sound).findings)
    return now - before, before - now


STALE = {"results-stale", "results-missing"}


def at(key: str) -> tuple[str, str]:
    """Sheet and cell of a key of the shipped layout."""
    place = shipped_layout().place(key)
    return place.at.sheet, place.at.cell


def found(book: Path) -> list[Finding]:
    """The findings of a book, those left out that only say that nothing recalculated it since."""
    return [one for one in validate(book).findings if one.code not in STALE]


def only(book: Path) -> Finding:
    """The one finding of a book."""
    (one,) = found(book)
    return one
