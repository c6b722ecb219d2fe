"""Where every cell of a returned book stands now: a reading by its name, all else by the rows and
columns of its sheet; and what was moved, and how.

Whatever happened to a sheet is worked out once for the whole sheet: one inserted row is one
finding, however many cells it moved.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, SheetFound, target
from datumbook.validator.locate.moved_lines import (
    Lines,
    explained,
    found_lines,
    line_at,
    plain,
    same_words,
    words_in_place,
)
from datumbook.validator.locate.positions import Located, Spot, place_all
from datumbook.workbook.layout import Layout
from datumbook.workbook.pen import PenForm, pen_form
from datumbook.workbook.placed import Place, SheetPlan
from datumbook.workbook.record import SHEET

__all__ = ["Located", "Spot", "locate", "plain"]


@dataclass
class _Named:
    """What the names say: the spot of a key; keys whose name is broken; keys whose name stands for
    something else.
    """

    spots: dict[str, Spot] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    odd: dict[str, str] = field(default_factory=dict)


def locate(layout: Layout, book: Book, narrow: Sequence[str] | None = None) -> Located:
    """Find every key of a layout in a book; of one for the pen it is said which of its forms are
    narrow.
    """
    located, named = Located(book, _forms(layout, narrow)), _named(layout, book)
    _sheets(layout, located, named.spots)
    for sheet, now in located.sheets.items():
        if now is not None:
            _follow(layout, layout.plans[sheet], book.sheets[now], named, located)
    place_all(layout, located, named.spots, named.broken, named.odd)
    known = {*named.spots, *named.odd}
    lost = [
        place.key
        for place in layout.readings()
        if place.key in located.spots
        and place.key not in known
        and place.at.sheet not in located.unfollowed
    ]
    if lost:
        located.findings.append(finding("names-lost", count=len(lost)))
    return located


def _forms(layout: Layout, narrow: Sequence[str] | None) -> dict[str, PenForm]:
    if narrow is None:
        return {}
    plans = layout.plans.items()
    return {name: pen_form(layout, plan, narrow=name in narrow) for name, plan in plans}


def _named(layout: Layout, book: Book) -> _Named:
    if book.names == layout.names and layout.plans.keys() <= book.sheets.keys():
        return _Named({place.key: layout.homes[place.key] for place in layout.readings()})
    targets = {name.casefold(): text for name, text in book.names.items()}
    sheets = {name.casefold(): name for name in book.sheets}
    found = _Named()
    for place in layout.readings():
        key, text = place.key, targets.get(place.name.casefold())
        spot = target(text) if text else None
        if spot and spot[0].casefold() in sheets:
            found.spots[key] = (sheets[spot[0].casefold()], spot[1], spot[2])
        elif (text and "#REF!" in text.upper()) or spot:
            found.broken.add(key)
        elif text:
            found.odd[key] = text
    return found


def _sheets(layout: Layout, located: Located, by_name: Mapping[str, Spot]) -> None:
    sheets = {name.casefold(): name for name in located.book.sheets}
    for sheet, plan in layout.plans.items():
        now = sheets.get(sheet.casefold())
        if now is None:
            pointed = Counter(
                by_name[place.key][0] for place in layout.by_sheet[sheet] if place.key in by_name
            )
            now = max(pointed, key=pointed.__getitem__, default=None) or _by_words(
                plan, located.book, layout
            )
            if now is None:
                count = sum(place.role == "reading" for place in layout.by_sheet[sheet])
                told = finding("sheet-deleted", sheet=sheet, expected=sheet, count=count)
            else:
                told = finding("sheet-renamed", sheet=now, found=now, expected=sheet)
                if not pointed and not _referred_to(located.book, now):
                    located.unfollowed.add(sheet)
            located.findings.append(told)
        located.sheets[sheet] = now


def _by_words(plan: SheetPlan, book: Book, layout: Layout) -> str | None:
    """The one strange sheet that bears a plan's words: renamed by a program that left names and
    formulas behind.
    """
    ours = {name.casefold() for name in (*layout.plans, SHEET)}
    found = [
        name
        for name, sheet in book.sheets.items()
        if name.casefold() not in ours and same_words(plan, sheet)
    ]
    return found[0] if len(found) == 1 else None


def _referred_to(book: Book, sheet: str) -> bool:
    """Say whether any formula leads to a sheet of this name."""
    return any(
        cell.formula is not None and (f"{sheet}!" in cell.formula or f"{sheet}'!" in cell.formula)
        for one in book.sheets.values()
        for cell in one.cells.values()
    )


def _follow(
    layout: Layout, plan: SheetPlan, held: SheetFound, named: _Named, located: Located
) -> None:
    """Work out how a sheet's lines were moved, and leave its names where they did not follow."""
    sheet, places = plan.sheet.name, layout.by_sheet[plan.sheet.name]
    away = _away(places, named, held.name)
    still = not away and words_in_place(plan, held)
    if sheet in located.unfollowed or (
        not away and not still and _left_behind(layout, plan, held, located)
    ):
        located.unfollowed.add(sheet)
        for place in places:
            named.spots.pop(place.key, None)
            named.broken.discard(place.key)
    elif not still:
        _lined_up(layout, plan, held, named, located)


def _left_behind(layout: Layout, plan: SheetPlan, held: SheetFound, located: Located) -> bool:
    """Work out what was moved where names and formulas did not follow; say whether that is so."""
    sheet, places = plan.sheet.name, layout.by_sheet[plan.sheet.name]
    rows, columns = found_lines(layout, plan, held, ({}, {}), ({}, {}))
    moved: set[str] = {place.key for place in places if _moved_by(place, rows, columns)}
    behind = _stayed(layout, located.book, moved) and explained(layout, plan, held, rows, columns)
    if behind:
        located.rows[sheet], located.columns[sheet] = rows, columns
        located.findings += _shifts(sheet, places, rows, "row")
        located.findings += _shifts(sheet, places, columns, "column")
    return behind


def _away(places: list[Place], named: _Named, now: str) -> bool:
    """Say whether any name of a sheet leads elsewhere than where it was given."""
    return any(
        named.spots.get(place.key) != (now, place.at.row, place.at.column)
        for place in places
        if place.role == "reading"
    )


def _moved_by(place: Place, rows: Lines, columns: Lines) -> bool:
    at = place.at
    return rows.get(at.row, at.row) not in (None, at.row) or columns.get(
        at.column, at.column
    ) not in (None, at.column)


def _stayed(layout: Layout, book: Book, moved: set[str]) -> bool:
    """Say whether names and formulas stayed behind when these cells were moved: a name that leads
    to where its reading was, or more formulas that do than do not.
    """
    if any(layout.places[key].role == "reading" for key in moved):
        return True
    told = Counter(
        cell.formula == layout.formula(key)
        for key, place in layout.places.items()
        if layout.has_formula(key) and key not in moved and not moved.isdisjoint(place.asks)
        if (sheet := book.sheets.get(place.at.sheet)) is not None
        and (cell := sheet.cells.get((place.at.row, place.at.column))) is not None
    )
    return told[True] > told[False]


def _lined_up(
    layout: Layout, plan: SheetPlan, held: SheetFound, named: _Named, located: Located
) -> None:
    """Work out how the rows and columns of one sheet were moved."""
    sheet, places = plan.sheet.name, layout.by_sheet[plan.sheet.name]
    here = [
        (place.at, named.spots[place.key])
        for place in places
        if place.key in named.spots and named.spots[place.key][0] == held.name
    ]
    rows, row_moves = _lines([(at.row, spot[1]) for at, spot in here])
    columns, column_moves = _lines([(at.column, spot[2]) for at, spot in here])
    found, across = found_lines(layout, plan, held, (rows, row_moves), (columns, column_moves))
    for kind, lines, moves in (("row", found, row_moves), ("column", across, column_moves)):
        kept = {old: new for old, new in lines.items() if old not in moves}
        located.findings += _shifts(sheet, places, _closed(kept, moves), kind)
        for old, new in moves.items():
            (cell, name), (_, was) = line_at(kind, new), line_at(kind, old)
            located.findings.append(
                finding(f"{kind}-moved", sheet=sheet, cell=cell, found=name, expected=was)
            )
    located.rows[sheet], located.columns[sheet] = found, across


def _lines(pairs: list[tuple[int, int]]) -> tuple[Lines, dict[int, int]]:
    """Old line -> the new line to which most of its cells went, in rising order; and whole lines
    moved out of order.

    Of two new lines with as many cells the nearer counts. A single cell out of line is no line
    moved.
    """
    if all(old == new for old, new in pairs):
        return {old: old for old, _ in sorted(pairs)}, {}
    gone_to: dict[int, Counter[int]] = {}
    for old, new in pairs:
        gone_to.setdefault(old, Counter())[new] += 1
    most = {
        old: max(new, key=lambda one: (new[one], -abs(one - old)))
        for old, new in sorted(gone_to.items())
    }
    rising = _rising(most)
    alone = {old for old in most if sum(gone_to[old].values()) == 1 or gone_to[old][most[old]] == 1}
    strays = {old for old in alone & rising if _juts_out(old, most, rising)}
    kept: Lines = {old: new for old, new in most.items() if old in rising - strays}
    return kept, {old: new for old, new in most.items() if old not in rising and old not in alone}


def _closed(lines: Lines, moved: Mapping[int, int]) -> Lines:
    """The lines as if those that were moved had never been among them, so that the others only
    rise.
    """
    if not moved:
        return lines
    there = {
        old: new and new - sum(one < new for one in moved.values()) for old, new in lines.items()
    }
    gaps = {old: sum(one < old for one in moved) for old in lines}
    return {old: None if new is None else new + gaps[old] for old, new in there.items()}


def _rising(lines: Mapping[int, int]) -> set[int]:
    """The most lines whose new places rise with the old ones."""
    ends: list[int] = []
    last: list[int] = []
    before: dict[int, int | None] = {}
    for old, new in lines.items():
        at = bisect_left(ends, new)
        ends[at:], last[at:] = [new, *ends[at + 1 :]], [old, *last[at + 1 :]]
        before[old] = last[at - 1] if at else None
    found, one = set(), last[-1] if last else None
    while one is not None:
        found.add(one)
        one = before[one]
    return found


def _juts_out(old: int, lines: Mapping[int, int], rising: set[int]) -> bool:
    """Say whether a line was moved otherwise than both its neighbours, which moved alike."""
    others = sorted(rising - {old})
    at = bisect_left(others, old)
    beside = {lines[one] - one for one in others[max(0, at - 1) : at + 1]}
    return len(beside) == 1 and lines[old] - old not in beside


def _shifts(
    sheet: str, places: list[Place], lines: Mapping[int, int | None], kind: str
) -> Iterator[Finding]:
    """One finding wherever the shift changes from one line to the next."""
    shift, last, lost = 0, 0, list[int]()
    for old in (*sorted(lines), 0):  # 0 stands for the end of the sheet
        new = lines.get(old, 0)
        if new is None:
            lost.append(old)
            continue
        step = new - old - shift if old else 0
        if step or lost:
            cell, name = line_at(kind, last + 1)
            code, count = (
                (f"{kind}-inserted", step)
                if step > 0 and not lost
                else (f"{kind}-deleted", max(-step, len(lost)))
            )
            labels = _labels(places, lost, kind)
            yield finding(code, sheet=sheet, cell=cell, count=count, found=name, lost=labels)
        shift, last, lost = new - old, new, []


def _labels(places: list[Place], lines: list[int], kind: str) -> str:
    """The readings that were lost with these lines, at most three by name."""
    labels = [
        place.label
        for place in places
        if (place.at.row if kind == "row" else place.at.column) in lines and place.role == "reading"
    ]
    more = " and more" if len(labels) > 3 else ""
    return f", with {'; '.join(labels[:3])}{more}" if labels else ""
