"""One cause, one finding: a block pasted over formulas and figures, a formula dragged over many
cells.
"""

from __future__ import annotations

from dataclasses import replace

from datumbook.messages.findings import Finding, catalogue, finding
from datumbook.readers import address_of, place_of
from datumbook.validator.locate.location import Located
from datumbook.validator.locate.moved_lines import RowColumn
from datumbook.workbook.layout import Layout

OVERWRITTEN = {"formula-replaced", "verdict-overwritten", "given-changed"}
SWALLOWED = OVERWRITTEN | {"unit-changed", "label-changed", "label-garbled"}
BY_PROGRAM = {
    "formula-placeholder",
    "formula-broken",
    "formula-array",
    "verdict-disguised",
    "cell-unseen",
}
"""What a program does to a whole sheet, or a deletion to all that read what was deleted: one cause
wherever it shows.
"""
HAND_EDITS = {"formula-dragged", "formula-as-text", "formula-function", "formula-volatile"}
"""What a hand does to cells side by side: apart from each other they are causes of their own,
unless there are many.
"""
REWRITTEN = 40  # formulas changed by hand are fewer; more are a program's work
FORMULA_SHOWN = 80  # letters of a formula in a sentence
SHEET_BY_SHEET = {
    "block-pasted",
    "cell-unseen",
    "colours-changed",
    "duplicate-name",
    "entry-rule-changed",
    "verdict-disguised",
}
"""What is told once a sheet, and once in all where one cause runs through the book."""

MANY = 12  # findings of one kind that anybody reads one by one
SCATTERED = 3  # so many cells or acts apart may be as many causes; more have one


def gathered(layout: Layout, located: Located, found: list[Finding]) -> list[Finding]:
    """Return findings with those of one block as one, and those of one kind on one sheet as one."""
    found = _rewritten(layout, found)
    for sheet in dict.fromkeys(one.sheet for one in found if one.code in OVERWRITTEN):
        here = {
            place_of(one.cell): one
            for one in found
            if one.sheet == sheet and one.code in OVERWRITTEN
        }
        locked = {
            spot[1:]
            for key, spot in located.spots.items()
            if spot[0] == sheet and layout.has_formula(key)
        }
        for block in _blocks(set(here), locked):
            if len(block) > 1:
                found = _as_one(found, sheet, block, here)
    return repeated(found)


def _rewritten(layout: Layout, found: list[Finding]) -> list[Finding]:
    """Findings with the formulas that a program wrote anew all over the book as one."""
    anew = [one for one in found if one.code.startswith("formula-") and one.severity == "damage"]
    anew = [one for one in anew if one.code not in OVERWRITTEN]
    if len(anew) <= REWRITTEN:
        return found
    first, sheets = anew[0], list(dict.fromkeys(one.sheet for one in anew))
    one = finding(
        "rewritten",
        sheet=first.sheet,
        cell=first.cell,
        key=first.key,
        label=first.label,
        count=len(anew),
        found=first.found[:FORMULA_SHOWN],
        places=_places(anew),
        sheets=", ".join(sheets),
        expected=layout.formula(first.key)[:FORMULA_SHOWN],
    )
    gone = {id(other) for other in anew}
    return [one, *(other for other in found if id(other) not in gone)]


def in_few(found: list[Finding]) -> list[Finding]:
    """Findings of one kind as one where there are more than anybody reads, with the first places;
    what was typed and what is judged is told cell by cell.
    """
    kept: dict[str, list[Finding]] = {}
    for one in found:
        kept.setdefault(one.code, []).append(one)
    many = {
        code
        for code, ones in kept.items()
        if len(ones) > (SCATTERED if code in SHEET_BY_SHEET else MANY)
        and catalogue()[code]["group"] not in ("readings", "checks")
    }
    return [
        _with_more(kept[one.code]) if one.code in many else one
        for one in found
        if one.code not in many or one is kept[one.code][0]
    ]


def _places(ones: list[Finding]) -> str:
    """The first places of several findings, those on the sheet of the first by their cells."""
    sheet = ones[0].sheet
    said = [one.cell if one.sheet == sheet else f"{one.sheet} {one.cell}" for one in ones]
    named = [where.strip() or one.found for where, one in zip(said, ones, strict=True)]
    return ", ".join(named[1:6]) + (" …" if len(ones) > 6 else "")


def _blocks(spots: set[RowColumn], locked: set[RowColumn]) -> list[set[RowColumn]]:
    """The spots as blocks: many in one where every formula of their range is among them, else
    neighbours together.
    """
    span = _span(spots)
    within = {at for at in locked if _inside(at, span)}
    return [spots] if within <= spots and len(spots) > SCATTERED else _side_by_side(spots)


def _side_by_side(spots: set[RowColumn]) -> list[set[RowColumn]]:
    """The spots that touch each other together."""
    blocks, waiting = [], set(spots)
    while waiting:
        block, fresh = set[RowColumn](), [waiting.pop()]
        while fresh:
            row, column = fresh.pop()
            block.add((row, column))
            beside = {at for at in waiting if abs(at[0] - row) <= 1 and abs(at[1] - column) <= 1}
            waiting -= beside
            fresh += beside
        blocks.append(block)
    return blocks


def _span(spots: set[RowColumn]) -> tuple[range, range]:
    """The rows and the columns from the first to the last of these spots."""
    rows, columns = zip(*spots, strict=True)
    return range(min(rows), max(rows) + 1), range(min(columns), max(columns) + 1)


def _inside(at: RowColumn, span: tuple[range, range]) -> bool:
    return at[0] in span[0] and at[1] in span[1]


def _as_one(
    found: list[Finding], sheet: str, block: set[RowColumn], here: dict[RowColumn, Finding]
) -> list[Finding]:
    rows, columns = span = _span(block)
    first = here[min(block)]
    one = finding(
        "block-pasted",
        sheet=sheet,
        cell=first.cell,
        key=first.key,
        label=first.label,
        count=len(block),
        found=f"{address_of(rows[0], columns[0])}:{address_of(rows[-1], columns[-1])}",
    )
    at = next(
        number
        for number, other in enumerate(found)
        if other.sheet == sheet and other.code in OVERWRITTEN
    )
    kept = [
        other
        for other in found
        if other.sheet != sheet
        or other.code not in SWALLOWED
        or not _inside(place_of(other.cell), span)
    ]
    kept.insert(min(at, len(kept)), one)
    return kept


def repeated(found: list[Finding]) -> list[Finding]:
    """Findings of one kind on one sheet as one, where one cause makes many of them."""
    kept: dict[tuple[str, str] | int, list[Finding]] = {}
    for number, one in enumerate(found):
        kind = (one.code, one.sheet) if one.code in BY_PROGRAM | HAND_EDITS else number
        kept.setdefault(kind, []).append(one)
    return [_with_more(ones) for each in kept.values() for ones in _causes(each)]


def _causes(ones: list[Finding]) -> list[list[Finding]]:
    """Findings of one kind on one sheet by what caused them: those that touch, or that were found
    to be the same.
    """
    if ones[0].code not in HAND_EDITS:
        return [ones]
    at = {place_of(one.cell): one for one in ones}
    by_words: dict[str, list[Finding]] = {}
    for block in _side_by_side(set(at)):
        by_words.setdefault(at[min(block)].found, []).extend(at[spot] for spot in sorted(block))
    return list(by_words.values()) if len(by_words) <= SCATTERED else [ones]


def _with_more(ones: list[Finding]) -> Finding:
    first = ones[0]
    if len(ones) == 1:
        return first
    said = first.message.removesuffix(first.remedy).rstrip()
    where = f" of {first.sheet}" if all(one.sheet == first.sheet for one in ones) else ""
    more = f"So it is in {len(ones) - 1} more{where}: {_places(ones)}."
    return replace(first, message=f"{said} {more} {first.remedy}")
