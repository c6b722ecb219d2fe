"""Where every cell of a returned book stands now: by its name, else by its place; and what was moved, and how.

Whatever happened to a sheet is worked out once for the whole sheet: one inserted row is one finding, however many
cells it moved.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from builder.findings import Finding, finding
from builder.layout import Layout, Place, SheetPlan
from builder.reader import Book, Cell, SheetFound, address_of, target

Spot = tuple[str, int, int]
FEW = (1, -1, 2, -2, 3, -3)  # how far printed words are looked for where no named cell stands below them


@dataclass
class Located:
    """The spot of every key that still has one, and how rows, columns and sheets were moved."""

    book: Book
    spots: dict[str, Spot] = field(default_factory=dict)
    sheets: dict[str, str | None] = field(default_factory=dict)
    rows: dict[str, dict[int, int | None]] = field(default_factory=dict)
    columns: dict[str, dict[int, int | None]] = field(default_factory=dict)
    strayed: set[str] = field(default_factory=set)
    findings: list[Finding] = field(default_factory=list)

    def cell(self, key: str) -> Cell | None:
        """What is stored where a key stands now; None where nothing is, or where the key has no spot."""
        spot = self.spots.get(key)
        return None if spot is None else self.book.sheets[spot[0]].cells.get(spot[1:])

    def shown_at(self, place: Place) -> tuple[str, str]:
        """Sheet and cell of a key as they are now, else as they were."""
        spot = self.spots.get(place.key)
        return (spot[0], address_of(*spot[1:])) if spot else (place.at.sheet, place.at.cell)

    def moved(self, sheet: str, row: int, column: int) -> Spot | None:
        """Where a cell of the book as generated stands now; None where it was deleted."""
        now = self.sheets.get(sheet)
        down = self.rows.get(sheet, {}).get(row, row)
        across = self.columns.get(sheet, {}).get(column, column)
        return None if now is None or down is None or across is None else (now, down, across)

    @property
    def untouched(self) -> bool:
        """Say whether every cell stands where it was put."""
        return not self.findings


def locate(layout: Layout, book: Book) -> Located:
    """Find every key of a layout in a book."""
    located = Located(book)
    by_name, broken = _by_name(layout, book)
    _sheets(layout, located, by_name)
    for sheet in layout.plans:
        places = [place for place in layout.places.values() if place.at.sheet == sheet]
        if located.sheets[sheet] is not None:
            _sheet(layout.plans[sheet], places, by_name, located, broken)
    lost = [key for key in layout.places if key not in by_name and key in located.spots]
    if lost:
        located.findings.append(finding("names-lost", count=len(lost)))
    return located


def _by_name(layout: Layout, book: Book) -> tuple[dict[str, Spot], set[str]]:
    """Key -> spot, for every name that still stands for one cell of a sheet; and the keys whose name stands for none."""
    targets = {name.casefold(): text for name, text in book.names.items()}
    sheets = {name.casefold(): name for name in book.sheets}
    found: dict[str, Spot] = {}
    broken: set[str] = set()
    for key, place in layout.places.items():
        text = targets.get(place.name.casefold())
        spot = target(text) if text else None
        if spot and spot[0].casefold() in sheets:
            found[key] = (sheets[spot[0].casefold()], spot[1], spot[2])
        elif text:
            broken.add(key)
    return found, broken


def _sheets(layout: Layout, located: Located, by_name: Mapping[str, Spot]) -> None:
    sheets = {name.casefold(): name for name in located.book.sheets}
    for sheet in layout.plans:
        pointed = Counter(by_name[key][0] for key, place in layout.places.items() if place.at.sheet == sheet and key in by_name)
        if sheet.casefold() in sheets:
            located.sheets[sheet] = sheets[sheet.casefold()]
        elif pointed:
            now = pointed.most_common(1)[0][0]
            located.sheets[sheet] = now
            located.findings.append(finding("sheet-renamed", sheet=now, found=now, expected=sheet))
        else:
            located.sheets[sheet] = None
            count = sum(place.at.sheet == sheet for place in layout.readings())
            located.findings.append(finding("sheet-deleted", sheet=sheet, expected=sheet, count=count))


def _sheet(plan: SheetPlan, places: list[Place], by_name: Mapping[str, Spot], located: Located, broken: set[str]) -> None:
    sheet, now = plan.sheet.name, located.sheets[plan.sheet.name]
    assert now is not None
    here = {place.key: by_name[place.key] for place in places if place.key in by_name and by_name[place.key][0] == now}
    if here or not places:
        rows = _lines((place.at.row, here[place.key][1]) for place in places if place.key in here)
        columns = _lines((place.at.column, here[place.key][2]) for place in places if place.key in here)
        sound = [place for place in places if place.key not in broken]
        _deleted(rows, {place.at.row for place in places}, {place.at.row for place in sound})
        _deleted(columns, {place.at.column for place in places}, {place.at.column for place in sound})
        located.rows[sheet], located.columns[sheet] = _with_printed_rows(rows, plan, located.book.sheets[now]), columns
        rows = located.rows[sheet]
        located.findings += _shifts(sheet, places, rows, "row") + _shifts(sheet, places, columns, "column")
    for place in places:
        _spot(place, sheet, by_name, located, broken)


def _lines(pairs: Iterable[tuple[int, int]]) -> dict[int, int | None]:
    """Old line -> the new line to which most of its cells went; of two with as many the nearer one."""
    gone_to: dict[int, Counter[int]] = {}
    for old, new in pairs:
        gone_to.setdefault(old, Counter())[new] += 1
    return {old: max(new, key=lambda one: (new[one], -abs(one - old))) for old, new in sorted(gone_to.items())}


def _with_printed_rows(lines: Mapping[int, int | None], plan: SheetPlan, sheet: SheetFound) -> dict[int, int | None]:
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
        following = next(((lines[line] or 0) - line for line in sorted(lines) if line > row and lines[line]), None)
        for step in (shift, *((following,) if following is not None else (shift + by for by in FEW))):
            if all(plain(_held(sheet, row + step, column)) == words for column, words in printed[row].items()):
                found[row], shift = row + step, step
                break
    return found


def _held(sheet: SheetFound, row: int, column: int) -> object:
    cell = sheet.cells.get((row, column))
    return None if cell is None else cell.value


def plain(words: object) -> str:
    """Printed words with every run of blanks as one, "" for nothing."""
    return " ".join(str(words if words is not None else "").split())


def _deleted(lines: dict[int, int | None], all_lines: set[int], sound_lines: set[int]) -> None:
    """Judge the lines no name leads to: deleted if all their names stand for nothing, else moved as the line before."""
    known = sorted(lines)
    for line in sorted(all_lines - set(known)):
        before = max((one for one in known if one < line), default=0)
        shift = (lines[before] or 0) - before if before else 0
        lines[line] = line + shift if line in sound_lines else None


def _shifts(sheet: str, places: list[Place], lines: Mapping[int, int | None], kind: str) -> list[Finding]:
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
            found.append(_shift(f"{kind}-deleted", sheet, kind, last + 1, max(-step, len(lost)), _labels(places, lost, kind)))
        shift, last, lost = new - old, new, []
    if lost:
        found.append(_shift(f"{kind}-deleted", sheet, kind, last + 1, len(lost), _labels(places, lost, kind)))
    return found


def _shift(code: str, sheet: str, kind: str, at: int, count: int, labels: list[str]) -> Finding:
    name = str(at) if kind == "row" else address_of(1, at)[:-1]
    lost = f", with {'; '.join(labels[:3])}{' and more' if len(labels) > 3 else ''}" if labels else ""
    cell = f"A{at}" if kind == "row" else address_of(1, at)
    return finding(code, sheet=sheet, cell=cell, count=count, found=name, lost=lost)


def _labels(places: list[Place], lines: list[int], kind: str) -> list[str]:
    return [
        place.label
        for place in places
        if (place.at.row if kind == "row" else place.at.column) in lines and place.role == "reading"
    ]


def _spot(place: Place, sheet: str, by_name: Mapping[str, Spot], located: Located, broken: set[str]) -> None:
    expected = located.moved(sheet, place.at.row, place.at.column)
    named = by_name.get(place.key)
    if named is not None:
        located.spots[place.key] = named
        if expected is not None and named != expected:
            located.strayed.add(place.key)
            found = f"{named[0]} {address_of(*named[1:])}"
            located.findings.append(
                finding(
                    "cell-moved",
                    sheet=named[0],
                    cell=address_of(*named[1:]),
                    key=place.key,
                    label=place.label,
                    found=found,
                    expected=f"{expected[0]} {address_of(*expected[1:])}",
                )
            )
    elif expected is not None and place.key in broken:
        located.findings.append(
            finding("cell-lost", sheet=sheet, cell=place.at.cell, key=place.key, label=place.label, expected=str(place.at))
        )
    elif expected is not None:
        located.spots[place.key] = expected
