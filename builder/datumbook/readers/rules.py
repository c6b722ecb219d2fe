"""What a sheet does by itself: colours put over cells by what they hold, and what may be typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from datumbook.readers.addresses import LAST_COLUMN, LAST_ROW, place_of
from datumbook.readers.looks import Look

CellArea = tuple[int, int, int, int]
"""First row and column, last row and column."""

NO_CELLS: CellArea = (1, 1, 0, 0)
"""A range that holds no cell."""

MOST_AREAS = 60_000
"""Ranges that the rules of one sheet may hold for, ten times those of the largest book; one over
many rows counts as many.
"""

_LONG, _WEIGHT = 64, 100  # rows of a range that is long, and what it counts

_WHOLE_LINES = re.compile(r"\$?([A-Z]{1,3}):\$?([A-Z]{1,3})|\$?(\d+):\$?(\d+)")
_EQUAL_TO_WORD = re.compile(r'="((?:[^"]|"")*)"')


class ColourRule(NamedTuple):
    """Cells, the test of what they hold (`="OK"`: that they hold a word), and the look they take
    then: its ink "", grounds () and number format "" leave the cell's own.
    """

    areas: tuple[CellArea, ...]
    test: str
    look: Look

    @property
    def word(self) -> str:
        """The word the cells are held against, "" for any other test."""
        found = _EQUAL_TO_WORD.fullmatch(self.test)
        return found[1].replace('""', '"') if found else ""


class EntryRule(NamedTuple):
    """What may be typed: its kind, its ends or choices as they are spelled, and what is said of
    it before and after.
    """

    kind: str
    ends: tuple[str, ...] = ()
    prompt: tuple[str, str] = ("", "")
    warning: tuple[str, str] = ("", "")

    @property
    def says_nothing(self) -> bool:
        """Whether it neither asks for anything nor tells anything."""
        return self.kind == "any" and not any(self.prompt)


def areas_of(references: str) -> tuple[CellArea, ...]:
    """Return the ranges of a list of references, those that cannot be read left out.

    >>> areas_of("B8 C9:D10 E:E")
    ((8, 2, 8, 2), (9, 3, 10, 4), (1, 5, 1048576, 5))
    """
    found = []
    for text in references.split():
        whole = _WHOLE_LINES.fullmatch(text)
        first, _, last = text.replace("$", "").partition(":")
        try:
            if whole and whole[1]:
                ends = (1, place_of(f"{whole[1]}1")[1], LAST_ROW, place_of(f"{whole[2]}1")[1])
            elif whole:
                ends = (int(whole[3]), 1, int(whole[4]), LAST_COLUMN)
            else:
                ends = (*place_of(first), *place_of(last or first))
        except ValueError:
            continue
        top, bottom = sorted(ends[::2])
        left, right = sorted(ends[1::2])
        found.append((top, left, bottom, right))
    return tuple(found)


def weight_of(rules: Iterable[Sequence[CellArea]]) -> int:
    """Return how many ranges rules hold for, the long ones counted as many."""
    return sum(
        _WEIGHT if bottom - top > _LONG else 1 for areas in rules for top, _, bottom, _ in areas
    )


class Within:
    """Which of the cells given lie in an area: asked once for each area of a sheet."""

    def __init__(self, cells: Sequence[tuple[int, int]]) -> None:
        self.by_row: dict[int, list[int]] = {}
        for row, column in cells:
            self.by_row.setdefault(row, []).append(column)
        self.rows = sorted(self.by_row)

    def of(self, areas: Sequence[CellArea]) -> Iterator[tuple[int, int]]:
        """Yield the cells that lie in any of these areas, each once for each."""
        for top, left, bottom, right in areas:
            few = range(top, bottom + 1) if bottom - top < len(self.rows) else self.rows
            for row in few:
                if top <= row <= bottom:
                    for column in self.by_row.get(row, ()):
                        if left <= column <= right:
                            yield row, column
