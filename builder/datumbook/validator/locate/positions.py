"""The spot of every key in a returned book, and what is said of cells that stand elsewhere than
their rows and columns.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, FoundCell, address_of
from datumbook.validator.locate.moved_lines import shape
from datumbook.workbook.layout import Layout
from datumbook.workbook.pen import PenForm
from datumbook.workbook.placed import Place, PrintedText

Spot = tuple[str, int, int]
"""Sheet, row and column as they are now."""


NAMES_ALONE = {"names-lost", "name-not-a-cell", "name-repointed"}
"""What is found of names while every cell stands where it was put."""


@dataclass
class Located:
    """The spot of every key that still has one, and how rows, columns and sheets were moved."""

    book: Book
    forms: Mapping[str, PenForm] = field(default_factory=dict)  # of a book for the pen, by sheet
    spots: dict[str, Spot] = field(default_factory=dict)
    sheets: dict[str, str | None] = field(default_factory=dict)
    rows: dict[str, dict[int, int | None]] = field(default_factory=dict)
    columns: dict[str, dict[int, int | None]] = field(default_factory=dict)
    strayed: set[str] = field(default_factory=set)
    unfollowed: set[str] = field(
        default_factory=set
    )  # sheets moved or renamed while names and formulas stayed behind
    findings: list[Finding] = field(default_factory=list)

    def at(self, spot: Spot | None) -> FoundCell | None:
        """What is stored at a spot; None where nothing is."""
        return None if spot is None else self.book.sheets[spot[0]].cells.get(spot[1:])

    def cell(self, key: str) -> FoundCell | None:
        """What is stored where a key stands now; None where nothing is, or where the key has no
        spot.
        """
        return self.at(self.spots.get(key))

    def is_shown(self, seen: Place | PrintedText) -> bool:
        """Whether the book as generated shows a cell or words: a form hides what nobody writes
        on.
        """
        form = self.forms.get(seen.at.sheet)
        return form is None or form.has_shown(seen)

    def about(
        self, code: str, place: Place, spot: Spot | None = None, /, **words: object
    ) -> Finding:
        """A finding about a cell, where it stands now or at another spot."""
        sheet, cell = (spot[0], address_of(*spot[1:])) if spot else self.shown_at(place)
        return finding(code, sheet=sheet, cell=cell, key=place.key, label=place.label, **words)

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
        """Say whether every cell stands where it was put; without names it is found there."""
        return {one.code for one in self.findings} <= NAMES_ALONE

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
    homes = {key: located.moved(*home) for key, home in layout.homes.items()}
    moved: list[Moved] = []
    for key, place in layout.places.items():
        home, spot = homes[key], named.get(key)
        if home is not None and key in odd:
            located.findings.append(
                located.about("name-not-a-cell", place, home, found=odd[key], expected=said(home))
            )
        if home is not None and key in broken:
            located.findings.append(located.about("cell-lost", place, expected=str(place.at)))
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
    ways = [home, *((home[0], home[1] + s[1], home[2] + s[2]) for s in steps if s[0] == home[0])]
    holds = (
        spot
        for spot in ways
        if (cell := located.at(spot)) is not None and shape(cell.formula or "") == wanted
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
        may_stay = layout.has_formula(place.key) or not exchanged
        stays = taken or (may_stay and _stays(layout, located, place, home))
        located.spots[place.key] = home if stays else spot
        located.strayed |= set() if stays else {place.key}
        if exchanged and home < spot:
            other = layout.places[at_home[spot]].label
            exchange = f", and that for {other} to {said(home)}: they were exchanged"
            located.findings.append(
                located.about(
                    "cell-moved",
                    place,
                    spot,
                    found=said(spot),
                    expected=said(home),
                    exchanged=exchange,
                )
            )
        elif stays and not exchanged:
            located.findings.append(
                located.about("name-repointed", place, home, found=said(spot), expected=said(home))
            )
        elif not exchanged:
            alike.setdefault(_step(home, spot), []).append((place, home, spot))
    located.findings += [
        located.about(
            "cells-shifted" if more else "cell-moved",
            place,
            spot,
            found=said(spot),
            expected=said(home),
            count=1 + len(more),
        )
        for (place, home, spot), *more in alike.values()
    ]


def _stays(layout: Layout, located: Located, place: Place, home: Spot) -> bool:
    """Say whether what belongs to a cell still stands in its own place, though its name leads
    elsewhere.
    """
    cell = located.at(home)
    if layout.has_formula(place.key):
        return cell is not None and cell.formula == layout.formula(place.key)
    return cell is not None and (place.role == "reading" or cell.value == place.value)


def said(spot: Spot) -> str:
    """A spot as a person writes it."""
    return f"{spot[0]} {address_of(*spot[1:])}"
