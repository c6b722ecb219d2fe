"""Both roads of some equations side by side: worked with numbers in Python, and as formulas over
cells by a spreadsheet engine, in mm, in inches and in both at once.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from case_book import CaseBook, Entry, Question
from datumbook.formulas.kinds import kinds_of
from datumbook.formulas.tracing import called
from datumbook.numbers.units import from_coherent, to_coherent
from engines import Results

Given = float | str | None | list[float | None]
Work = tuple[Callable[..., Any], Mapping[str, Given]]  # in the coherent set: mm, rad
UNITS = {"": "", "[angle]": "deg", "[count]": "count", "words": None}


def differences(
    engine: Callable[[Path], Results], path: Path, works: Sequence[Work]
) -> list[tuple[str, str, object, object]]:
    """Return equation, formula, what the engine found and what Python gives, where they differ."""
    questions = [
        _question(equation, given, *units)
        for equation, given in works
        for units in (("mm", "mm"), ("in", "in"), ("mm", "in"), ("in", "mm"))
    ]
    book = CaseBook(questions)
    found = book.answers(engine(book.write(path)))
    wanted = [_plain(question) for question in questions]
    return [
        (question.equation.__name__, formula, shown, value)
        for question, formula, shown, value in zip(
            questions, book.formulas, found, wanted, strict=True
        )
        if shown != (value if isinstance(value, str) else pytest.approx(value, rel=1e-9, abs=1e-9))
    ]


def _question(
    equation: Callable[..., Any], given: Mapping[str, Given], one: str, other: str
) -> Question:
    """The equation over cells of these two units in turn, its result in the first."""
    kinds, turn = kinds_of(equation), itertools.cycle((one, other))

    def entry(value: float | str | None, unit: str | None) -> Entry:
        measured = isinstance(value, float) and unit  # words and counts stand as they are
        return Entry(from_coherent(value, unit) if measured else value, unit)

    entries: dict[str, Entry | list[Entry]] = {}
    for name, value in given.items():
        unit = UNITS[kinds[name]] if kinds[name] in UNITS else next(turn)  # a group has one
        entries[name] = (
            [entry(each, unit) for each in value] if isinstance(value, list) else entry(value, unit)
        )
    return Question(equation, entries, UNITS.get(kinds["return"], one))


def _plain(question: Question) -> float | str:
    """What the plain function gives, in the unit of the question; "" for blank."""

    def value(entry: Entry) -> float | str:
        if entry.unit is None:
            return str(entry.value or "")
        return math.nan if entry.value is None else to_coherent(float(entry.value), entry.unit)

    given = {
        name: value(one) if isinstance(one, Entry) else [value(each) for each in one]
        for name, one in question.given.items()
    }
    if any(map(_is_missing, _flat(given.values()))) and not hasattr(
        question.equation, "takes_blanks"
    ):
        return ""
    worked = called(question.equation, given)
    if worked is None or _is_missing(worked):
        return ""
    return from_coherent(worked, question.gives) if question.gives is not None else str(worked)


def _flat(values: Any) -> Iterator[Any]:
    for value in values:
        yield from value if isinstance(value, list) else [value]


def _is_missing(value: object) -> bool:
    return isinstance(value, float) and math.isnan(value)
