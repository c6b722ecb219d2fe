"""How the cells of the book show what they hold: number formats that lie, print that cannot be
read.

A cell's format may be any that shows the same digits as the one it was given; programs change
spellings, fonts and tints, and people colour cells.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from datumbook.messages.findings import Finding, finding
from datumbook.numbers.printing import figures
from datumbook.numbers.rounding import half_up
from datumbook.readers import FoundCell
from datumbook.readers.looks import Look
from datumbook.readers.number_formats import (
    decimals_shown,
    number_format,
    settled,
    shows_a_day,
    shows_words,
)
from datumbook.validator.locate.location import Located
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place, PrintedText
from datumbook.workbook.styles import number_format as given_format

SHOWN_IN_A_SENTENCE = 60  # letters of a format


class _Rounded(NamedTuple):
    """A cell whose number is shown with fewer digits than it was given."""

    place: Place
    cell: FoundCell
    given: str


def looks_changed(layout: Layout, located: Located) -> list[Finding]:
    """Return what cells and printed words of the book no longer show as it is."""
    found: list[Finding] = []
    rounded: list[_Rounded] = []
    optional = 0  # formats with digits shown only where a number has them
    for key, spot in located.spots.items():
        cell = located.at(spot)
        if cell is not None:
            place = layout.places[key]
            given, now = given_format(place), settled(cell.number_format)
            optional += "#" in now
            if now != given and _lies(place, cell, given):
                found.append(_disguised(located, place, cell))
            elif now != given and _rounds(cell, given):
                rounded.append(_Rounded(place, cell, given))
            how = _hidden(cell, place.role == "reading") if located.is_shown(place) else ""
            if how:
                found.append(located.about("cell-unseen", place, found=how, expected=_shown(cell)))
    if rounded and not optional and all(_without_optional(one) for one in rounded):
        first = rounded[0]
        found.append(located.about("digits-dropped", first.place, count=len(rounded)))
    else:
        found += [_disguised(located, one.place, one.cell) for one in rounded]
    return [*found, *_words(layout, located)]


def _disguised(located: Located, place: Place, cell: FoundCell) -> Finding:
    code = cell.number_format[:SHOWN_IN_A_SENTENCE]
    return located.about("verdict-disguised", place, found=code, expected=_shown(cell))


def _lies(place: Place, cell: FoundCell, given: str) -> bool:
    """Say whether a format shows something else than digits of what stands in the cell."""
    now = cell.number_format
    if place.role == "reading" and (cell.is_date or cell.is_percent):
        return False  # told as an entry
    if number_format(given).is_date and shows_a_day(now):
        return False  # however its program writes it
    if isinstance(cell.value, str) and cell.value:
        return not shows_words(now)
    if isinstance(cell.value, float):
        return decimals_shown(now) is None
    if place.role == "reading" or number_format(now).is_percent:
        return False
    return decimals_shown(now) is None and not (given == "General" and shows_words(now))


def _rounds(cell: FoundCell, given: str) -> bool:
    """Say whether a format shows a number with fewer digits than the cell's own does."""
    most, wanted = decimals_shown(cell.number_format), decimals_shown(given)
    if not isinstance(cell.value, float) or most is None or wanted is None or most >= wanted:
        return False
    return half_up(cell.value, most) != half_up(cell.value, min(wanted, 9))


def _without_optional(one: _Rounded) -> bool:
    """Say whether a format is the cell's own but for digits shown only where a number has them."""
    return settled(one.cell.number_format) == one.given.rstrip("#").rstrip(".")


def _hidden(cell: FoundCell, may_be_blank: bool) -> str:
    """How a cell, or words of it, are kept from sight; "" where they are not."""
    if may_be_blank and cell.is_blank:
        return ""
    return cell.look.hides or next(
        (how for one in cell.pieces if (how := _in(one, cell).hides)), ""
    )


def _in(piece: Look, cell: FoundCell) -> Look:
    """The look of single words on the ground of their cell."""
    return piece._replace(ink=piece.ink or cell.look.ink, grounds=cell.look.grounds)


def _words(layout: Layout, located: Located) -> Iterator[Finding]:
    """What of the printed words is not shown as it stands, on the sheets where nothing moved."""
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is not None and located.in_place(name):
            cells = located.book.sheets[now].cells
            for text in plan.texts:
                cell = cells.get((text.at.row, text.at.column)) if text.words else None
                if cell is not None and isinstance(cell.value, str):
                    yield from _of_words(now, text, cell, located.is_shown(text))


def _of_words(sheet: str, text: PrintedText, cell: FoundCell, shown: bool) -> Iterator[Finding]:
    where = {"sheet": sheet, "cell": text.at.cell, "expected": _shown(cell)}
    if not shows_words(cell.number_format):
        code = cell.number_format[:SHOWN_IN_A_SENTENCE]
        yield finding("verdict-disguised", found=code, **where)
    if shown and (how := _hidden(cell, False)):
        yield finding("cell-unseen", found=how, **where)


def _shown(cell: FoundCell) -> str:
    if cell.error:
        return cell.error
    if cell.value in (None, ""):
        return "nothing"
    return figures(cell.value) if isinstance(cell.value, float) else str(cell.value)[:80]
