"""What the validator says of a book that never was a file: of entries, days, names and checks."""

from __future__ import annotations

import random
from collections.abc import Mapping
from functools import cache

from clean_readings import clean_readings, expected, shipped_layout
from datumbook.cells.tables import Stage
from datumbook.messages.findings import Finding
from datumbook.validator.judge.judgement import judge
from datumbook.validator.readings.entries import read_entries
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from memory_books import located
from simulation.measuring import honest

ANSWER = "decision.read_again"


@cache
def sound_readings() -> Mapping[str, float | str]:
    """The book that may be released, its bores and tunnels as read of a block that has run; nothing
    of it is doubted.
    """
    layout = shipped_layout()
    read = {
        key: value
        for key, value in honest(layout, random.Random(5)).items()
        if key.startswith(("bores.", "bore.", "finished_bores."))
    }
    read |= {
        place.key: round(near + (0.003 if number % 2 else 0.001), 4)
        for number, place in enumerate(layout.readings())
        if place.key.startswith("finished_tunnel") and isinstance(near := expected(place), float)
    }
    sound = {**clean_readings(layout), **read, "decision.decision": "released"}
    return {key: value for key, value in sound.items() if key != ANSWER}


def said_of(
    typed: Mapping[str, float | str], layout: Layout | None = None, stage: Stage = "finished"
) -> list[Finding]:
    """Every finding about what is typed into a book and about its checks."""
    layout = layout or shipped_layout()
    book = located(layout, typed)
    entries = read_entries(layout, book)
    values = reckon(layout, entries.typed)
    return [*entries.findings, *judge(layout, book, entries, values, stage)]


@cache
def codes_of_sound() -> frozenset[str]:
    """What is said of the sound readings: of their sizes, and of nothing else."""
    return frozenset(one.code for one in said_of(sound_readings()))


def news_of(changed: Mapping[str, float | str | None]) -> list[Finding]:
    """What is said more once some of the sound readings are changed, None taking one away."""
    typed = {**sound_readings(), **changed}
    left = {key: value for key, value in typed.items() if value is not None}
    return [one for one in said_of(left) if one.code not in codes_of_sound()]
