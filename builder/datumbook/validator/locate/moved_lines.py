"""Where the rows and columns of a sheet stand now, by what nobody types in: the printed words, the
figures of the book, and the shapes of its formulas.

Only readings bear names. A line that holds one is known by it; every other is found here, between
its neighbours, so that as much as can be stands where it should and as few lines as can be were
inserted or deleted.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from datumbook.formulas.spelling import column_letters
from datumbook.grouping import grouped
from datumbook.readers import FoundCell, SheetFound, address_of
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import SheetPlan

RowColumn = tuple[int, int]
Lines = dict[int, int | None]
Known = tuple[Lines, dict[int, int]]  # lines in their order, and those moved out of it
Held = dict[int, set[Any]]  # line -> what it holds
Ways = dict[int, tuple[float, int, int]]  # step -> how well it fits, the line before, its step

IN_PLACE = 0.9  # share of a sheet's fixed cells that must stand where its lines are said to be
SAME_SHEET = 0.6  # share that makes a sheet of another name the same sheet
DELETED, SHIFTED = 0.3, 0.6  # what it takes to believe in a line gone, in others moved by it
WAYS_TRIED = 8  # ways of moving that are tried: those most cells speak for
OFTEN = 8  # what stands in more lines than these says nothing about where one of them went
_REFERENCE = re.compile(
    r"#REF!|(?:(?:'[^']*'|(?<!\w)\w++)!)?\$?[A-Z]{1,3}\$?\d+(?::\$?[A-Z]{1,3}\$?\d+)?"
)


def plain(words: object) -> str:
    """Printed words with every run of blanks as one, "" for nothing."""
    return " ".join(str(words if words is not None else "").split())


def shape(formula: str) -> str:
    """A formula without its references, which a program rewrites when it moves cells."""
    return "=" + _REFERENCE.sub("#", formula.replace(" ", ""))


def line_at(kind: str, number: int) -> tuple[str, str]:
    """The first cell of a row or column, and its name."""
    if kind == "row":
        return f"A{number}", str(number)
    return address_of(1, number), column_letters(number)


def same_words(plan: SheetPlan, sheet: SheetFound) -> bool:
    """Say whether a sheet bears most of the words printed on another, in their places."""
    return _share(_printed(plan), sheet, {}, {}) > SAME_SHEET


def words_in_place(plan: SheetPlan, sheet: SheetFound) -> bool:
    """Say whether all words printed on a sheet stand in their places."""
    printed = _printed(plan)
    return not printed or _share(printed, sheet, {}, {}) == 1.0


def explained(
    layout: Layout, plan: SheetPlan, sheet: SheetFound, rows: Lines, columns: Lines
) -> bool:
    """Say whether words and formulas stand letter by letter where the lines went."""
    fixed = _printed(plan)
    for place in layout.by_sheet[plan.sheet.name]:
        if layout.has_formula(place.key):
            fixed[place.at.row, place.at.column] = f"={layout.formula(place.key)}"
    return _share(fixed, sheet, rows, columns) >= IN_PLACE


def found_lines(
    layout: Layout, plan: SheetPlan, sheet: SheetFound, rows: Known, columns: Known
) -> tuple[Lines, Lines]:
    """Return the rows and the columns of a sheet, those given as known and all others found; what
    moved out of order is added to what is known to have.
    """
    old = dict(_fixed(layout, plan))
    new = {at: said for at, cell in sheet.cells.items() if (said := _said(cell))}
    down = _ordered(
        _by_line((at[0], said) for at, said in old.items()),
        _by_line((at[0], said) for at, said in new.items()),
        rows,
    )
    there = (((down.get(at[0], at[0]), said), at[1]) for at, said in old.items())
    across = _ordered(
        _by_line((column, said) for said, column in there),
        _by_line((at[1], (at[0], said)) for at, said in new.items()),
        columns,
    )
    return down, across


def _ordered(old: Held, new: Held, known: Known) -> Lines:
    """All lines, first those that keep their order; then those gone from it that stand elsewhere
    as they were.
    """
    lines, moves = known
    taken = {*moves.values()}
    found = aligned(
        {line: held for line, held in old.items() if line not in moves},
        {line: held for line, held in new.items() if line not in taken},
        lines,
    )
    free = {line: held for line, held in new.items() if line not in {*taken, *found.values()}}
    for line in [line for line, there in found.items() if there is None and old.get(line)]:
        there = next((one for one, held in free.items() if old[line] <= held), None)
        if there is not None:
            moves[line] = there
            del free[there]
    return found | moves


def aligned(old: Held, new: Held, known: Lines) -> Lines:
    """Return for each line where it stands now, None where it was deleted: the way that most of
    what the lines hold speaks for.
    """
    lines, steps = sorted({*old, *known}), _steps(old, new, known)
    ways: list[Ways] = []  # of each line: by how much it moved -> how well all fits up to it
    for at, line in enumerate(lines):
        sure = known.get(line)
        tried = steps if sure is None else [sure - line]
        ways.append({})
        for step in tried:
            fit = 1.0 if sure is not None else _fit(old[line], new.get(line + step, set()))
            reached = [
                (
                    way[0] + fit - SHIFTED * (step != before) - DELETED * (at - 1 - last),
                    last,
                    before,
                )
                for before in steps
                if line + step > 0
                and (last := _last_kept(lines, ways, known, at, before, step)) is not None
                and (way := ways[last][before] if last >= 0 else (0.0, -1, 0))
            ]
            if reached:
                ways[at][step] = max(reached, key=lambda one: one[0])
    return dict(sorted(_without_tail(_traced(lines, ways), old, new, known).items()))


def _last_kept(
    lines: list[int], ways: list[Ways], known: Lines, at: int, before: int, step: int
) -> int | None:
    """The last line before one that is not in its way, where it moved by so much before and the
    one by so much; -1 where there is none, None where it cannot be.
    """
    for last in range(at - 1, -1, -1):
        if before in ways[last] and lines[last] + before < lines[at] + step:
            return last
        if lines[last] in known:
            return None
    return None if before else -1


def _traced(lines: list[int], ways: list[Ways]) -> Lines:
    """The lines of the best way, from its end."""
    found: Lines = dict.fromkeys(lines)
    at = max((at for at, way in enumerate(ways) if way), default=-1)
    step = max(ways[at], key=lambda one: ways[at][one][0]) if at >= 0 else 0
    while at >= 0:
        found[lines[at]] = lines[at] + step
        _, at, step = ways[at][step]
    return found


def _without_tail(found: Lines, old: Held, new: Held, known: Lines) -> Lines:
    """The last lines are gone where nothing stands any more."""
    end = max(new, default=0)
    gone = {
        line
        for line, there in found.items()
        if there is not None and there > end and line not in known and old.get(line)
    }
    return found | dict.fromkeys(gone)


def _steps(old: Held, new: Held, known: Lines) -> list[int]:
    """By how much lines may have moved: as known ones did, and as what they hold says."""
    where = grouped((said, line) for line, held in new.items() for said in held)
    votes = Counter(
        there - line
        for line, held in old.items()
        for said in held
        if len(where.get(said, ())) <= OFTEN
        for there in where.get(said, ())
    )
    sure = {there - line for line, there in known.items() if there is not None}
    return sorted({0, *sure, *(step for step, _ in votes.most_common(WAYS_TRIED))}, key=abs)


def _fit(old: set[Any], new: set[Any]) -> float:
    return len(old & new) / len(old) if old else 0.0


def _fixed(layout: Layout, plan: SheetPlan) -> Iterator[tuple[RowColumn, str]]:
    """What nobody types in, by its cells; nothing for a reading, so that its line is there."""
    for place in layout.by_sheet[plan.sheet.name]:
        said = shape(layout.formula(place.key)) if layout.has_formula(place.key) else ""
        yield (place.at.row, place.at.column), said or _figure(place.value)
    yield from _printed(plan).items()


def _said(cell: FoundCell) -> str:
    return _figure(cell.value) if cell.formula is None else shape(cell.formula)


def _figure(value: object) -> str:
    return f"{value:.12g}" if isinstance(value, float) else plain(value)


def _by_line(cells: Iterable[tuple[int, Any]]) -> Held:
    found: Held = {}
    for line, said in cells:
        held = found.setdefault(line, set())
        if said and said[-1]:
            held.add(said)
    return found


def _printed(plan: SheetPlan) -> dict[RowColumn, str]:
    return {(text.at.row, text.at.column): plain(text.words) for text in plan.texts if text.words}


def _share(fixed: Mapping[RowColumn, str], sheet: SheetFound, rows: Lines, columns: Lines) -> float:
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


def _holds(sheet: SheetFound, at: RowColumn, words: str) -> bool:
    cell: FoundCell | None = sheet.cells.get(at)
    if cell is None:
        return False
    return plain(cell.value) == words if cell.formula is None else f"={cell.formula}" == words
