"""What the book as a whole shows: sheets added, copied, hidden, cells merged, words typed beside
the tables, settings.

Most of it is only for information; what hides a reading or a verdict from the person at the bench
is not.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from contextlib import suppress

from datumbook.effort import spend
from datumbook.grouping import grouped
from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, SheetFound, address_of, place_of
from datumbook.readers.rules import Within
from datumbook.validator.compare.page_heads import heads_changed
from datumbook.validator.compare.rules import rules_changed
from datumbook.validator.locate.location import Located, Spot, plain
from datumbook.validator.locate.moved_lines import line_at, same_words
from datumbook.validator.recognise.recognition import begins_record
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place, PrintedText, SheetPlan
from datumbook.workbook.record import PROPERTY, SHEET

LOCKED = ("formula-", "verdict-overwritten", "given-changed", "block-pasted")


def survey(
    layout: Layout, located: Located, altered: Sequence[Finding], protected: bool
) -> list[Finding]:
    """Return what is to be said of the book and its sheets; `altered` is what was found altered in
    single cells, `protected` whether its sheets were when it was made.
    """
    book = located.book
    found = [
        *_property(layout, book),
        *_settings(book),
        *_order(layout, located),
        *_strangers(layout, located),
        *heads_changed(layout, located),
    ]
    kept_in = grouped((spot[0], (layout.places[key], spot)) for key, spot in located.spots.items())
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is not None:
            sheet, kept = book.sheets[now], kept_in.get(now, [])
            found += _hidden(located, plan, sheet, kept)
            found += _unprinted(located, plan, sheet, kept)
            if name not in located.unfollowed:  # else merged ranges stayed behind too
                found += _merged(sheet, kept)
            if protected:
                found += _unprotected(located, sheet, altered)
            found += _links(plan, sheet, kept)
            found += _covered(sheet, [one for one in kept if located.is_shown(one[0])])
            if located.in_place(name):
                found += _beside(layout, plan, sheet, kept)
    return found + rules_changed(layout, located)


def _property(layout: Layout, book: Book) -> Iterator[Finding]:
    found = book.properties.get(PROPERTY)
    if found not in (None, layout.identity):
        yield finding("property-differs", found=found, expected=layout.identity)


def _settings(book: Book) -> Iterator[Finding]:
    switched = {
        "precision-as-shown": not book.full_precision,
        "dates-1904": book.date_1904,
        "manual-calculation": book.manual,
    }
    yield from (finding(code) for code, on in switched.items() if on)


# --- sheets


def _order(layout: Layout, located: Located) -> Iterator[Finding]:
    """The sheet whose moving alone explains the order; only the order is told where none does."""
    wanted = [now for name in layout.plans if (now := located.sheets[name]) is not None]
    found = [name for name in located.book.sheets if name in wanted]
    if found != wanted:
        alone = (
            one
            for one in wanted
            if [x for x in wanted if x != one] == [x for x in found if x != one]
        )
        yield finding("sheet-moved", sheet=next(alone, found[0]), found=", ".join(found))


def _strangers(layout: Layout, located: Located) -> Iterator[Finding]:
    ours = {name for name in located.sheets.values() if name is not None}
    for name, sheet in located.book.sheets.items():
        if sheet.cells and name not in {*ours, SHEET} and not begins_record(sheet):
            origin = next((plan for plan in layout.plans.values() if same_words(plan, sheet)), None)
            yield (
                finding("sheet-added", sheet=name)
                if origin is None
                else _copy(layout, located, origin, sheet)
            )


def _copy(layout: Layout, located: Located, plan: SheetPlan, sheet: SheetFound) -> Finding:
    name = located.sheets[plan.sheet.name] or plan.sheet.name
    typed = (
        (place, sheet.value(layout.homes[place.key][1:]), located.cell(place.key))
        for place in layout.by_sheet[plan.sheet.name]
        if place.role == "reading"
    )
    other = [
        (place, theirs)
        for place, theirs, cell in typed
        if theirs != (None if cell is None else cell.value)
    ]
    if not other:
        return finding("sheet-copy-alike", sheet=sheet.name, expected=name)
    first, theirs = other[0]
    return finding(
        "sheet-copied",
        sheet=sheet.name,
        cell=first.at.cell,
        label=first.label,
        count=len(other),
        found="nothing" if theirs is None else theirs,
        expected=name,
    )


# --- one sheet


def _hidden(
    located: Located, plan: SheetPlan, sheet: SheetFound, kept: list[tuple[Place, Spot]]
) -> Iterator[Finding]:
    """What is hidden of what the book as generated shows."""
    spots = [spot[1:] for place, spot in kept if located.is_shown(place)]
    words = [text for text in plan.texts if text.words and located.is_shown(text)]
    spots += [(text.at.row, text.at.column) for text in words]
    form = located.forms.get(plan.sheet.name)
    if sheet.hidden and not (form and form.is_blank):
        yield finding("sheet-hidden", sheet=sheet.name)
    for kind, hidden in (
        ("row", {row for row, _ in spots} & sheet.hidden_rows),
        ("column", {column for _, column in spots} & sheet.hidden_columns),
    ):
        if hidden:
            cell, name = line_at(kind, min(hidden))
            yield finding(
                f"{kind}-hidden", sheet=sheet.name, cell=cell, count=len(hidden), found=name
            )


def _unprinted(
    located: Located, plan: SheetPlan, sheet: SheetFound, kept: list[tuple[Place, Spot]]
) -> Iterator[Finding]:
    """What the sheet was given to print and its print area leaves out."""
    last = plan.printed_columns - len(plan.sheet.behind)

    def is_printed(one: Place | PrintedText) -> bool:
        here = one.at.row <= plan.printed_rows and one.at.column <= last
        return here and located.is_shown(one)

    # by rows: a form for the pen leaves out columns, and words run over the edge
    spots = {(spot[1], 1) for place, spot in kept if is_printed(place)}
    if located.in_place(plan.sheet.name):
        words = (text for text in plan.texts if text.words and is_printed(text))
        spots |= {(text.at.row, 1) for text in words}
    outside = sorted(spots - set(Within(sorted(spots)).of(sheet.printed)))
    if sheet.printed and outside:
        yield finding(
            "print-area-short", sheet=sheet.name, cell=address_of(*outside[0]), count=len(outside)
        )


def _merged(sheet: SheetFound, kept: list[tuple[Place, Spot]]) -> Iterator[Finding]:
    rows = sorted((spot[1], at) for at, (_, spot) in enumerate(kept))
    for written in sheet.merged:
        with suppress(ValueError):  # it is no range
            (top, left), (bottom, right) = map(place_of, written.split(":"))
            between = rows[bisect_left(rows, (top, 0)) : bisect_left(rows, (bottom + 1, 0))]
            spend(4 + len(between) // 4, "merged cells")
            near = [kept[at] for at in sorted(at for _, at in between)]
            inside = [
                place
                for place, (_, row, column) in near
                if top <= row <= bottom and left <= column <= right
            ]
            if inside:
                spend(40, "merged cells")
                yield finding(
                    "cells-merged",
                    sheet=sheet.name,
                    cell=address_of(top, left),
                    key=inside[0].key,
                    label=inside[0].label,
                    count=len(inside),
                    found=written,
                )


def _links(plan: SheetPlan, sheet: SheetFound, kept: list[tuple[Place, Spot]]) -> Iterator[Finding]:
    """The links that lead out of the workbook from what it printed or works out."""
    locked = {spot[1:] for place, spot in kept if place.role != "reading"}
    locked |= {(text.at.row, text.at.column) for text in plan.texts if text.words}
    for at in sorted(locked & {at for at, target in sheet.links.items() if not target}):
        yield finding("link-changed", sheet=sheet.name, cell=address_of(*at))


def _covered(sheet: SheetFound, kept: list[tuple[Place, Spot]]) -> Iterator[Finding]:
    """The cells that are read, worked out or judged and lie under a picture or a box."""
    within = Within([spot[1:] for _, spot in kept])
    labels = {spot[1:]: place for place, spot in kept}
    for area, thing in sheet.laid_over:
        under = sorted(within.of([area]))
        if under:
            place = labels[under[0]]
            yield finding(
                "laid-over",
                sheet=sheet.name,
                cell=address_of(*under[0]),
                key=place.key,
                label=place.label,
                found=thing,
            )


def _unprotected(
    located: Located, sheet: SheetFound, altered: Sequence[Finding]
) -> Iterator[Finding]:
    """Programs drop the protection of all sheets; a person lifts that of one, or alters cells that
    it locked.
    """
    ours = [located.book.sheets[name] for name in located.sheets.values() if name is not None]
    touched = any(one.sheet == sheet.name and one.code.startswith(LOCKED) for one in altered)
    if not sheet.protected and (touched or any(one.protected for one in ours)):
        yield finding("protection-lifted", sheet=sheet.name)


def _beside(
    layout: Layout, plan: SheetPlan, sheet: SheetFound, kept: list[tuple[Place, Spot]]
) -> Iterator[Finding]:
    """What stands where the book has nothing, on a sheet where nothing was moved."""
    own = {spot[1:] for _, spot in kept} | {(text.at.row, text.at.column) for text in plan.texts}
    own |= {layout.homes[place.key][1:] for place in layout.by_sheet[plan.sheet.name]}
    typed = sorted(
        at
        for at, cell in sheet.cells.items()
        if at not in own and plain(cell.value or cell.formula)
    )
    if typed:
        first = sheet.cells[typed[0]]
        yield finding(
            "typed-beside",
            sheet=sheet.name,
            cell=address_of(*typed[0]),
            count=len(typed),
            found=plain(first.value or first.formula)[:60],
        )
