"""Rows, columns and sheets moved by a program that carries neither names nor formulas along.

A spreadsheet program that inserts a row rewrites every formula and name that leads past it; many a
script does not. Then the names all stand where they were, and only the printed words and the
formulas themselves tell what was moved.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from datumbook.readers import Cell, SheetFound
from datumbook.workbook.layout import Layout, SheetPlan

At = tuple[int, int]
Lines = dict[int, int | None]
STEPS = (0, 1, -1, 2, -2, 3, -3)  # how far a line is looked for
# share of a sheet's fixed cells that says that nothing was moved, or that the moving explains it
IN_PLACE = 0.9
ALIKE = 0.6  # share that makes a sheet of another name the same sheet


def plain(words: object) -> str:
    """Printed words with every run of blanks as one, "" for nothing."""
    return " ".join(str(words if words is not None else "").split())


def fixed_cells(layout: Layout, plan: SheetPlan) -> dict[At, str]:
    """What nobody types in: the printed words of a sheet, and its formulas, by their cells."""
    found = _printed(plan)
    for place in layout.by_sheet[plan.sheet.name]:
        if layout.has_formula(place.key):
            found[place.at.row, place.at.column] = f"={layout.formula(place.key)}"
    return found


def _printed(plan: SheetPlan) -> dict[At, str]:
    return {(text.at.row, text.at.column): plain(text.words) for text in plan.texts if text.words}


def same_words(plan: SheetPlan, sheet: SheetFound) -> bool:
    """Say whether a sheet bears most of the words printed on another, in their places."""
    return _share(_printed(plan), sheet, {}, {}) > ALIKE


def lines_moved(layout: Layout, plan: SheetPlan, sheet: SheetFound) -> tuple[Lines, Lines] | None:
    """Return where the rows and columns of a sheet went, where their moving explains what stands
    there now; else None.
    """
    if _share(_printed(plan), sheet, {}, {}) == 1.0:
        return None
    fixed = fixed_cells(layout, plan)
    if not fixed or _share(fixed, sheet, {}, {}) >= IN_PLACE:
        return None
    ways: tuple[tuple[Lines, Lines], ...] = (
        (_lines(fixed, sheet, 0), {}),
        ({}, _lines(fixed, sheet, 1)),
    )
    shifted = [
        moved
        for moved in ways
        if any(new not in (None, old) for lines in moved for old, new in lines.items())
    ]
    return next((moved for moved in shifted if _share(fixed, sheet, *moved) >= IN_PLACE), None)


def _lines(fixed: Mapping[At, str], sheet: SheetFound, axis: int) -> Lines:
    """For each row (axis 0) or column (axis 1) the line that now holds most of its fixed cells, in
    rising order.
    """
    steps: dict[int, Counter[int]] = {}
    cells = Counter(at[axis] for at in fixed)
    for at, words in fixed.items():
        held = steps.setdefault(at[axis], Counter())
        held.update(
            step
            for step in STEPS
            if _holds(sheet, (at[0] + step * (axis == 0), at[1] + step * (axis == 1)), words)
        )
    found: Lines = {}
    last = 0
    for line in sorted(steps):
        rising = [
            (step, count)
            for step, count in steps[line].items()
            if line + step > last and count > cells[line] / 2
        ]
        step = max(rising, key=lambda one: one[1])[0] if rising else None
        found[line] = None if step is None else line + step
        last = found[line] or last
    return found


def _share(fixed: Mapping[At, str], sheet: SheetFound, rows: Lines, columns: Lines) -> float:
    """The share of the fixed cells that stand where the lines went; those of deleted lines have
    gone with them.
    """
    there = [
        (rows.get(row, row), columns.get(column, column), words)
        for (row, column), words in fixed.items()
    ]
    kept = [
        ((row, column), words)
        for row, column, words in there
        if row is not None and column is not None
    ]
    return (
        sum(_holds(sheet, at, words) for at, words in kept) / len(kept)
        if len(kept) > len(fixed) / 2
        else 0.0
    )


def _holds(sheet: SheetFound, at: At, words: str) -> bool:
    cell: Cell | None = sheet.cells.get(at)
    if cell is None:
        return False
    return plain(cell.value) == words if cell.formula is None else f"={cell.formula}" == words
