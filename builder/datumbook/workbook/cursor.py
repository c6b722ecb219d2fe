"""Cursor: how far down a sheet is filled, and what is put there: words, cells, checks."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Any

from datumbook.cells.columns import Column, Given, Reading, Result, Sensitivity, per
from datumbook.cells.handles import DeclarationError, Key
from datumbook.cells.tables import Form, Sheet, Table
from datumbook.effort import spend
from datumbook.formulas.spelling import Address
from datumbook.numbers.quantities import Quantity
from datumbook.workbook.inputs import inputs_of, resolved
from datumbook.workbook.layout import LAID_OUT, Layout
from datumbook.workbook.placed import HEAD_ROWS, CheckPlan, Place, PrintedText, Role, SheetPlan


class Cursor:
    """The next free row of a sheet, and how many columns stand to its left."""

    def __init__(self, layout: Layout, sheet: Sheet) -> None:
        self.layout = layout
        self.plan = SheetPlan(sheet)
        self.section = sheet
        self.row, self.left = HEAD_ROWS + 1, 0

    def text(self, column: int, words: str, style: str, across: int = 1, row: int = 0) -> None:
        """Put printed words."""
        at = Address(self.plan.sheet.name, row or self.row, self.left + column)
        self.plan.texts.append(PrintedText(at, words, style, across))
        self.reach(column)

    def reach(self, column: int) -> None:
        """The sheet has at least so many columns here."""
        self.plan.columns = max(self.plan.columns, self.left + column)

    def cell(self, part: Table | Form, column: Column, at: int, row: str, label: str) -> None:
        """Put the cell of a declared column in one row, "" for a line of a form."""
        key, unit = part.cell(row, column.name), per(column.unit, row)
        decimals = per(column.decimals, row)
        if isinstance(column, Given):
            self.given(key, at, per(column.value, row), unit, decimals, label, column)
        elif isinstance(column, Result):
            place = Place(key, self.address(at), "result", label, unit, decimals, column, row)
            place.equation, place.asking = column.equation, partial(inputs_of, column, part, row)
            self.put(place)
        else:
            role: Role = "reading" if isinstance(column, Reading) else "result"
            place = Place(key, self.address(at), role, label, unit, decimals, column, row)
            if isinstance(column, Sensitivity):
                of, to = (resolved(per(one, row), row) for one in (column.of, column.to))
                self.layout.sensitivities.setdefault(of, {})[to] = key
                place.inputs = {"of": of, "to": to}
            self.put(place)

    def given(
        self,
        key: Key,
        at: int,
        value: Any,
        unit: str | None,
        decimals: int,
        label: str,
        column: Column | None = None,
    ) -> None:
        """Put a figure or words that are printed and locked; nothing where there is no value."""
        if value is None:
            return
        plain = value.to(unit or "") if isinstance(value, Quantity) else value
        place = Place(key, self.address(at), "given", label, unit, decimals, column, value=plain)
        place.figure_guessed = isinstance(value, Quantity) and value.guessed
        self.put(place)

    def check(self, plan: CheckPlan, at: int, answered: Iterable[Key]) -> None:
        """Put a check; its verdict is worked out once the whole book is placed."""
        self.layout.checks.append(plan)
        for one in answered:
            self.layout.answered[one] = (*self.layout.answered.get(one, ()), plan.verdict)
        if not plan.judged:
            label = f"{plan.words} · verdict"
            self.put(Place(plan.verdict, self.address(at), "verdict", label, None, 0))

    def address(self, column: int) -> Address:
        """The cell of a column in this row."""
        self.reach(column)
        return Address(self.plan.sheet.name, self.row, self.left + column)

    def put(self, place: Place) -> None:
        """Give a key its cell."""
        spend(40, LAID_OUT)
        if place.key in self.layout.places:
            raise DeclarationError(f"two cells are called {place.key}")
        self.layout.places[place.key] = place
