"""Equations called with cells, laid in one workbook: a row each, so that one run of an engine
answers hundreds.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import xlsxwriter

from datumbook.formulas.spelling import Address, spell
from datumbook.formulas.tracing import trace
from datumbook.formulas.tree import Cell, Formula
from engines import Results, Value

SHEET = "Cases"


@dataclass(frozen=True)
class Entry:
    """What stands in one input cell: a number in a unit, words (unit None), or nothing."""

    value: float | str | None
    unit: str | None


@dataclass(frozen=True)
class Question:
    """One equation, what its cells hold, and the unit its result is wanted in."""

    equation: Callable[..., Any]
    given: Mapping[str, Entry | Sequence[Entry]]
    gives: str | None


class CaseBook:
    """The workbook of some questions: the formula of question n in A(n), its inputs to the right of
    it.
    """

    def __init__(self, questions: Sequence[Question]) -> None:
        self.addresses: dict[str, Address] = {}
        self.entries: dict[Address, Entry] = {}
        self.formulas = [self._laid(row, question) for row, question in enumerate(questions, 1)]

    def _laid(self, row: int, question: Question) -> str:
        columns = iter(range(2, 1000))

        def leaf(entry: Entry) -> Cell:
            at = Address(SHEET, row, next(columns))
            self.addresses[at.cell], self.entries[at] = at, entry
            return Cell(at.cell, entry.unit)

        arguments: dict[str, Formula | Sequence[Formula]] = {
            name: leaf(given) if isinstance(given, Entry) else [leaf(entry) for entry in given]
            for name, given in question.given.items()
        }
        return spell(
            trace(question.equation, arguments, question.gives), self.addresses.__getitem__, SHEET
        )

    def write(self, path: Path) -> Path:
        """Write the book; results are left to the engines."""
        with xlsxwriter.Workbook(path) as book:
            sheet = book.add_worksheet(SHEET)
            for at, entry in self.entries.items():
                if entry.value is not None:
                    sheet.write(at.row - 1, at.column - 1, entry.value)
            for row, formula in enumerate(self.formulas):
                sheet.write_formula(row, 0, f"={formula}", None, "")
        return path

    def answers(self, found: Results) -> list[Value]:
        """Return what an engine found for each question, in order."""
        return [found[SHEET, f"A{row}"] for row in range(1, len(self.formulas) + 1)]
