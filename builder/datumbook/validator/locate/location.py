"""Where every cell of a returned book stands now: by its name, else by its place; and what was
moved, and how.

Whatever happened to a sheet is worked out once for the whole sheet: one inserted row is one
finding, however many cells it moved.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, SheetFound, address_of, target
from datumbook.validator.locate.moved_lines import lines_moved, plain, same_words
from datumbook.validator.locate.positions import Located, Spot, place_all
from datumbook.workbook.layout import Layout, Place, SheetPlan
from datumbook.workbook.record import SHEET

__all__ = ["Located", "Spot", "locate", "plain"]

FEW = (
    1,
    -1,
    2,
    -2,
    3,
    -3,
)  # how far printed words are looked for where no named cell stands below them


@dataclass
class _Named:
    """What the names say: the spot of a key; keys whose name is broken; keys whose name stands for
    something else.
    """

    spots: dict[str, Spot] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    odd: dict[str, str] = field(default_factory=dict)


def locate(layout: Layout, book: Book) -> Located:
    """Find every key of a layout in a book."""
    located, named = Located(book), _named(layout, book)
    _sheets(layout, located, named.spots)
    for sheet, places in layout.by_sheet.items():
        if located.sheets[sheet] is not None and not _left_behind(
            layout, layout.plans[sheet], places, named, located
        ):
            _lined_up(layout.plans[sheet], places, named, located)
    place_all(layout, located, named.spots, named.broken, named.odd)
    known = {*named.spots, *named.odd}
    lost = [
        key
        for key in located.spots
        if key not in known and layout.places[key].at.sheet not in located.unfollowed
    ]
    if lost:
        located.findings.append(finding("names-lost", count=len(lost)))
    return located


def _named(layout: Layout, book: Book) -> _Named:
    if book.names == layout.names and layout.plans.keys() <= book.sheets.keys():
        return _Named(layout.homes.copy())  # every name as it was given
    targets = {name.casefold(): text for name, text in book.names.items()}
    sheets = {name.casefold(): name for name in book.sheets}
    found = _Named()
    for key, place in layout.places.items():
        text = targets.get(place.name.casefold())
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
    for sheet in layout.plans:
        if sheet.casefold() in sheets:
            located.sheets[sheet] = sheets[sheet.casefold()]
        elif pointed := Counter(
            by_name[place.key][0] for place in layout.by_sheet[sheet] if place.key in by_name
        ):
            now = pointed.most_common(1)[0][0]
            located.sheets[sheet] = now
            located.findings.append(finding("sheet-renamed", sheet=now, found=now, expected=sheet))
        elif (strange := _by_words(layout.plans[sheet], located.book, layout)) is not None:
            located.sheets[sheet] = strange
            located.unfollowed.add(sheet)
            located.findings.append(
                finding("sheet-renamed", sheet=strange, found=strange, expected=sheet)
            )
        else:
            located.sheets[sheet] = None
            count = sum(place.role == "reading" for place in layout.by_sheet[sheet])
            located.findings.append(
                finding("sheet-deleted", sheet=sheet, expected=sheet, count=count)
            )


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


def _left_behind(
    layout: Layout, plan: SheetPlan, places: list[Place], named: _Named, located: Located
) -> bool:
    """Work out what was moved where names and formulas did not follow; say whether that is so."""
    sheet, now = plan.sheet.name, located.sheets[plan.sheet.name]
    assert now is not None
    if sheet not in located.unfollowed:
        if any(
            named.spots.get(place.key) != (now, place.at.row, place.at.column) for place in places
        ):
            return False
        lines = lines_moved(layout, plan, located.book.sheets[now])
        if lines is None:
            return False
        located.rows[sheet], located.columns[sheet] = lines
        located.findings += _shifts(sheet, places, lines[0], "row") + _shifts(
            sheet, places, lines[1], "column"
        )
        located.unfollowed.add(sheet)
    for place in places:
        named.spots.pop(place.key, None)
        named.broken.discard(place.key)
    return True


def _lined_up(plan: SheetPlan, places: list[Place], named: _Named, located: Located) -> None:
    """Work out how the rows and columns of one sheet were moved."""
    sheet, now = plan.sheet.name, located.sheets[plan.sheet.name]
    assert now is not None
    here = {
        place.key: spot
        for place in places
        if (spot := named.spots.get(place.key)) is not None and spot[0] == now
    }
    if not here and places:
        return
    sound = [place for place in places if place.key not in named.broken]
    held = located.book.sheets[now]
    rows, row_moves = _lines(
        [(place.at.row, here[place.key][1]) for place in places if place.key in here]
    )
    columns, column_moves = _lines(
        [(place.at.column, here[place.key][2]) for place in places if place.key in here]
    )
    _deleted(
        rows, {place.at.row for place in places} - {*row_moves}, {place.at.row for place in sound}
    )
    _deleted(
        columns,
        {place.at.column for place in places} - {*column_moves},
        {place.at.column for place in sound},
    )
    rows = _with_printed_rows(rows, plan, held)
    located.findings += _shifts(sheet, places, _closed(rows, row_moves), "row")
    located.findings += _shifts(sheet, places, _closed(columns, column_moves), "column")
    located.findings += [_line_moved(sheet, *move, "row") for move in row_moves.items()]
    located.findings += [_line_moved(sheet, *move, "column") for move in column_moves.items()]
    located.rows[sheet], located.columns[sheet] = {**rows, **row_moves}, {**columns, **column_moves}


Lines = dict[int, int | None]


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


def _with_printed_rows(
    lines: Mapping[int, int | None], plan: SheetPlan, sheet: SheetFound
) -> dict[int, int | None]:
    """The rows with those that hold printed words alone, found again by all their words."""
    printed: dict[int, dict[int, str]] = {}
    for text in plan.texts:
        if text.words and text.at.row not in lines:
            printed.setdefault(text.at.row, {})[text.at.column] = plain(text.words)
    shift, found = 0, dict(lines)
    for row in sorted({*lines, *printed}):
        if row in lines:
            shift = (lines[row] or row + shift) - row
            continue
        following = next(
            ((lines[line] or 0) - line for line in sorted(lines) if line > row and lines[line]),
            None,
        )
        for step in (
            shift,
            *((following,) if following is not None else (shift + by for by in FEW)),
        ):
            if all(
                plain(_held(sheet, row + step, column)) == words
                for column, words in printed[row].items()
            ):
                found[row], shift = row + step, step
                break
    return found


def _held(sheet: SheetFound, row: int, column: int) -> object:
    cell = sheet.cells.get((row, column))
    return None if cell is None else cell.value


def _deleted(lines: dict[int, int | None], all_lines: set[int], sound_lines: set[int]) -> None:
    """Judge the lines no name leads to: deleted if all their names stand for nothing, else moved as
    the line before.
    """
    known = sorted(lines)
    for line in sorted(all_lines - set(known)):
        before = max((one for one in known if one < line), default=0)
        shift = (lines[before] or 0) - before if before else 0
        lines[line] = line + shift if line in sound_lines else None


def _shifts(
    sheet: str, places: list[Place], lines: Mapping[int, int | None], kind: str
) -> list[Finding]:
    """One finding wherever the shift changes from one line to the next."""
    found, shift, last, lost = [], 0, 0, list[int]()
    for old in sorted(lines):
        new = lines[old]
        if new is None:
            lost.append(old)
            continue
        step = new - old - shift
        if step > 0 and not lost:
            found.append(_shift(f"{kind}-inserted", sheet, kind, last + 1, step, []))
        elif step < 0 or lost:
            found.append(
                _shift(
                    f"{kind}-deleted",
                    sheet,
                    kind,
                    last + 1,
                    max(-step, len(lost)),
                    _labels(places, lost, kind),
                )
            )
        shift, last, lost = new - old, new, []
    if lost:
        found.append(
            _shift(f"{kind}-deleted", sheet, kind, last + 1, len(lost), _labels(places, lost, kind))
        )
    return found


def _shift(code: str, sheet: str, kind: str, at: int, count: int, labels: list[str]) -> Finding:
    name = str(at) if kind == "row" else address_of(1, at)[:-1]
    lost = (
        f", with {'; '.join(labels[:3])}{' and more' if len(labels) > 3 else ''}" if labels else ""
    )
    cell = f"A{at}" if kind == "row" else address_of(1, at)
    return finding(code, sheet=sheet, cell=cell, count=count, found=name, lost=lost)


def _line_moved(sheet: str, old: int, new: int, kind: str) -> Finding:
    cell, was = (
        (f"A{new}", str(old)) if kind == "row" else (address_of(1, new), address_of(1, old)[:-1])
    )
    return finding(
        f"{kind}-moved",
        sheet=sheet,
        cell=cell,
        found=cell[1:] if kind == "row" else cell[:-1],
        expected=was,
    )


def _labels(places: list[Place], lines: list[int], kind: str) -> list[str]:
    return [
        place.label
        for place in places
        if (place.at.row if kind == "row" else place.at.column) in lines and place.role == "reading"
    ]
