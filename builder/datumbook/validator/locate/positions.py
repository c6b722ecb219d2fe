"""The spot of every key in a returned book, and what is said of cells that stand elsewhere than
their rows and columns.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, FoundCell, address_of
from datumbook.validator.locate.moved_lines import shape
from datumbook.workbook.layout import Layout, Place

Spot = tuple[str, int, int]
"""Sheet, row and column as they are now."""


@dataclass
class Located:
    """The spot of every key that still has one, and how rows, columns and sheets were moved."""

    book: Book
    spots: dict[str, Spot] = field(default_factory=dict)
    sheets: dict[str, str | None] = field(default_factory=dict)
    rows: dict[str, dict[int, int | None]] = field(default_factory=dict)
    columns: dict[str, dict[int, int | None]] = field(default_factory=dict)
    strayed: set[str] = field(default_factory=set)
    unfollowed: set[str] = field(
        default_factory=set
    )  # sheets moved or renamed while names and formulas stayed behind
    findings: list[Finding] = field(default_factory=list)

    def cell(self, key: str) -> FoundCell | None:
        """What is stored where a key stands now; None where nothing is, or where the key has no
        spot.
        """
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

    def in_place(self, sheet: str) -> bool:
        """Say whether no row or column of a sheet stands elsewhere."""
        lines = (self.rows.get(sheet, {}), self.columns.get(sheet, {}))
        return all(old == new for one in lines for old, new in one.items())


Moved = tuple[Place, Spot, Spot]
"""A cell, where it belongs, and where its name leads."""


def place_all(
    layout: Layout,
    located: Located,
    named: Mapping[str, Spot],
    broken: set[str],
    odd: Mapping[str, str],
) -> None:
    """Give every key its spot, and tell the cells and the names that were moved, exchanged or
    lost.
    """
    homes = {
        key: located.moved(place.at.sheet, place.at.row, place.at.column)
        for key, place in layout.places.items()
    }
    moved: list[Moved] = []
    for key, place in layout.places.items():
        home, spot = homes[key], named.get(key)
        if home is not None and key in odd:
            located.findings.append(_of_name("name-not-a-cell", place, home, odd[key]))
        if home is not None and key in broken:
            located.findings.append(
                finding(
                    "cell-lost",
                    sheet=place.at.sheet,
                    cell=place.at.cell,
                    key=place.key,
                    label=place.label,
                    expected=str(place.at),
                )
            )
        elif spot is None or home is None or spot == home:
            if (there := spot or home) is not None:
                located.spots[key] = there
        else:
            moved.append((place, home, spot))
    moved += _strayed(layout, located, homes, {_step(home, spot) for _, home, spot in moved})
    _tell_moved(
        layout, located, moved, {spot: key for key, spot in homes.items() if spot is not None}
    )


Step = tuple[str, int, int]


def _step(home: Spot, spot: Spot) -> Step:
    return spot[0], spot[1] - home[1], spot[2] - home[2]


def _strayed(
    layout: Layout, located: Located, homes: Mapping[str, Spot | None], steps: set[Step]
) -> Iterator[Moved]:
    """The results that stand elsewhere than their lines: the same formula in nobody's cell while
    their own is empty, or moved by the step of readings that were.
    """
    away = [
        (layout.places[key], home, cell)
        for key, home in homes.items()
        if home is not None
        and layout.has_formula(key)
        and ((cell := located.cell(key)) is None or cell.formula is None or steps)
    ]
    own = {*homes.values()}
    strange = {
        (sheet.name, cell.formula): (sheet.name, *at)
        for sheet in (located.book.sheets.values() if away else ())
        for at, cell in sheet.cells.items()
        if cell.formula is not None and (sheet.name, *at) not in own
    }
    for place, home, cell in away:
        formula = layout.formula(place.key)
        if cell is None or (cell.formula is None and cell.value in (None, "")):
            spot = strange.get((home[0], formula))
        else:
            spot = _along(located, home, shape(formula), steps)
        if spot is not None:
            yield place, home, spot


def _along(located: Located, home: Spot, wanted: str, steps: set[Step]) -> Spot | None:
    """The spot a step away that holds a formula of this shape, where the home does not."""
    cells = located.book.sheets[home[0]].cells
    ways = [home, *((home[0], home[1] + s[1], home[2] + s[2]) for s in steps if s[0] == home[0])]
    holds = (
        spot
        for spot in ways
        if (cell := cells.get(spot[1:])) is not None and shape(cell.formula or "") == wanted
    )
    found = next(holds, home)
    return None if found == home else found


def _tell_moved(
    layout: Layout, located: Located, moved: list[Moved], at_home: Mapping[Spot, str]
) -> None:
    """One finding for two cells exchanged, for a name that leads elsewhere, and for cells moved
    alike.
    """
    went = {home: spot for _, home, spot in moved}
    alike: dict[tuple[str, int, int], list[Moved]] = {}
    for place, home, spot in moved:
        exchanged = went.get(spot) == home
        taken = not exchanged and spot in at_home and spot not in went
        stays = (
            _formula_stays(layout, located, place, home)
            if exchanged
            else taken or _stays(layout, located, place, home)
        )
        located.spots[place.key] = home if stays else spot
        located.strayed |= set() if stays else {place.key}
        if exchanged and home < spot:
            other = layout.places[at_home[spot]].label
            exchange = f", and that for {other} to {said(home)}: they were exchanged"
            located.findings.append(_moved("cell-moved", place, home, spot, exchanged=exchange))
        elif stays and not exchanged:
            located.findings.append(_of_name("name-repointed", place, home, said(spot)))
        elif not exchanged:
            alike.setdefault(_step(home, spot), []).append((place, home, spot))
    located.findings += [
        _moved("cell-moved" if len(ones) == 1 else "cells-shifted", *ones[0], count=len(ones))
        for ones in alike.values()
    ]


def _stays(layout: Layout, located: Located, place: Place, home: Spot) -> bool:
    """Say whether what belongs to a cell still stands in its own place, though its name leads
    elsewhere.
    """
    if layout.has_formula(place.key):
        return _formula_stays(layout, located, place, home)
    cell = located.book.sheets[home[0]].cells.get(home[1:])
    return cell is not None and (place.role == "reading" or cell.value == place.value)


def _formula_stays(layout: Layout, located: Located, place: Place, home: Spot) -> bool:
    cell = located.book.sheets[home[0]].cells.get(home[1:])
    return (
        layout.has_formula(place.key)
        and cell is not None
        and cell.formula == layout.formula(place.key)
    )


def said(spot: Spot) -> str:
    """A spot as a person writes it."""
    return f"{spot[0]} {address_of(*spot[1:])}"


def _of_name(code: str, place: Place, home: Spot, found: str) -> Finding:
    return finding(
        code,
        sheet=home[0],
        cell=address_of(*home[1:]),
        key=place.key,
        label=place.label,
        found=found,
        expected=said(home),
    )


def _moved(code: str, place: Place, home: Spot, spot: Spot, **words: Any) -> Finding:
    return finding(
        code,
        sheet=spot[0],
        cell=address_of(*spot[1:]),
        key=place.key,
        label=place.label,
        found=said(spot),
        expected=said(home),
        **words,
    )
