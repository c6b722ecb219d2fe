"""Inputs: what an equation of a declared column is called with, as keys of cells and quantities.

A column asks for a column (of the same row; of a form its line), for one cell, or for a quantity;
what it asks in vain is told with the name of who asked.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Any

from datumbook.cells.columns import Equation, Result, per
from datumbook.cells.handles import DeclarationError, Handle, Key
from datumbook.cells.tables import UNFIT, Form, Table
from datumbook.equations import assembly, verdicts
from datumbook.formulas.tracing import parameters
from datumbook.numbers.quantities import Quantity
from datumbook.workbook.placed import CheckPlan, Resolved


def inputs_of(result: Result, part: Table | Form, row: str) -> dict[str, Resolved]:
    """What a result is called with in one row; a parameter without an input is the column of that
    name in the same row. DeclarationError naming the asking cell.
    """
    before, group, after = parameters(result.equation)
    found: dict[str, Resolved] = {}
    for name in (*before, *((group,) if group else ()), *after):
        try:
            given = per(result.inputs.get(name), row)
            found[name] = own_cell(part, name, row) if given is None else resolved(given, row)
        except DeclarationError as refusal:
            asker = f"{part.cell(row, result.name)} asks for `{name}` of {result.equation.__name__}"
            raise DeclarationError(f"{asker}: {refusal}") from refusal
    return found


def own_cell(part: Table | Form, name: str, row: str) -> Key:
    """The cell of a part's own column in one row."""
    column = part.column(name)
    return column[row] if row else column.key


def resolved(given: Any, row: str) -> Any:
    """What a declared input stands for in one row: the key of a cell, a quantity, or a list."""
    if isinstance(given, Handle):
        return given.key if isinstance(given.home, Form) else given[row]
    if isinstance(given, str | Quantity):
        return given
    return [resolved(one, row) for one in given]


def judged_by(
    check: CheckPlan, guard: Callable[[CheckPlan], Key]
) -> tuple[Equation, dict[str, Resolved]]:
    """The equation of a check's verdict, and what it is called with."""
    if check.says is not None:
        return verdicts.verdict_of_tick, {"tick": check.key}
    inputs: dict[str, Resolved] = {"value": check.key}
    ends: dict[str, Resolved] = {
        name: end for name, end in (("low", check.low), ("high", check.high)) if end
    }
    if not ends:
        raise DeclarationError(f"the check of {check.key} has no limit")
    if check.if_stated:
        return verdicts.stated_at_most, inputs | ends
    inputs["uncertainty"] = guard(check)
    shape = "between" if len(ends) == 2 else "at_least" if check.low else "at_most"
    if check.asked:
        inputs["asked"] = check.asked
    equation = verdict_of(shape, check.freshness, spot=check.spot, asked=bool(check.asked))
    return equation, {**inputs, **ends, **check.freshness}


def verdict_of(
    shape: str, freshness: Collection[str], *, spot: bool = False, asked: bool = False
) -> Equation:
    """The equation of a verdict: between, at_most or at_least, by what it counts only without."""
    if asked:
        return getattr(verdicts, f"asked_{shape}")  # type: ignore[no-any-return]
    if UNFIT in freshness:
        return getattr(assembly, f"in_state_{shape}")  # type: ignore[no-any-return]
    kinds = ("spot", "fresh") if freshness else ("read", "verdict")
    return getattr(verdicts, f"{kinds[not spot]}_{shape}")  # type: ignore[no-any-return]
