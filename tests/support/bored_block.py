"""The smallest job that a shop does on the shipped engine: its cylinders bored, lands read in
inches. A book of an eighth of the cells of the whole job's, for what is said of any book.

The book is written once in a test run: treat the returned path as read-only.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from clean_readings import clean_readings
from datumbook.commands.demo import BLOCK, ENGINE
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from programs import made_once

JOB = Job.model_validate({"block": BLOCK, "work": ["bore"], "units": {"lands": "in"}})


def laid_out(job: Job) -> Layout:
    """The layout of that job, or of another one, on the shipped engine."""
    return lay_out(load_spec(shipped_specs()[ENGINE]), job)


@cache
def bored_layout() -> Layout:
    """The layout of that job."""
    return laid_out(JOB)


@cache
def bored_book() -> Path:
    """The book that may be released."""
    layout = bored_layout()
    return made_once("bored.xlsx", lambda path: write(layout, path, clean_readings(layout)))


def at(key: str) -> tuple[str, str]:
    """Sheet and cell of a key of the layout."""
    place = bored_layout().place(key)
    return place.at.sheet, place.at.cell
