"""Readings on the move: out of a book as CSV, out of a CSV or an older book into a new one. None is
dropped in silence.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from datumbook.carrying.csv_text import MOST_TOLD, CarryError, CsvLine, CsvText, read_csv, told_all
from datumbook.carrying.decimal_sign import comma_faults, has_decimal_comma, with_point
from datumbook.carrying.out_of_book import (
    FIRST_DAY,
    RISKY,
    ReadingTold,
    harmless,
    readings_csv,
    readings_told,
    unread_in,
    written_as,
)
from datumbook.cells.columns import DateTyped, Reading, possible
from datumbook.messages.findings import leaves_readings_sound, printable
from datumbook.numbers.printing import figures, unit_in_words
from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.numbers.units import UnitError, convert
from datumbook.validator import Validation, validate
from datumbook.validator.recognise.older_books import OlderReading, older_readings
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.record import Record

__all__ = [
    "Carried",
    "CarryError",
    "ReadingTold",
    "carry",
    "from_csv",
    "harmless",
    "merged",
    "readings_csv",
    "readings_told",
    "sound",
    "typed_value",
]

ISO = re.compile(r"\d{4}-\d{2}-\d{2}")
OLDER = {"version-differs", "layout-differs"}  # sound, only laid out otherwise
Typed = dict[str, float | str]


@dataclass
class Carried:
    """Readings that found their cell; a line for each that did not, for each that is no reading at
    all, and for each damage of the book they come from.
    """

    typed: Typed = field(default_factory=dict)
    homeless: list[str] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    damage: list[str] = field(default_factory=list)


def carry(layout: Layout, source: Path) -> Carried:
    """Return what a CSV or another book holds for the cells of a layout: also of a book whose
    damage leaves its readings sound, as the remedy of that damage says. Raises CarryError.
    """
    if _is_text(source):
        return from_csv(layout, source)
    made = validate(source)
    damage = {one.code for one in made.findings if one.severity == "damage"}
    if made.record is not None and made.book is not None and damage and damage <= OLDER:
        return from_older(layout, made.record, older_readings(made.record, made.book))
    if made.layout is not None and made.readable and all(map(leaves_readings_sound, damage)):
        return from_book(layout, made)
    return from_book(layout, sound(made))


def _is_text(source: Path) -> bool:
    try:
        return source.read_bytes()[:2] != b"PK"
    except OSError as refusal:
        raise CarryError(
            f"{source}: {refusal.strerror}; name a CSV file or a workbook that can be read."
        ) from None


def sound(made: Validation) -> Validation:
    """Return a validated book for taking readings from; CarryError when it is damaged, with what
    was found.
    """
    if made.layout is None or made.verdict in {"untrusted", "unreadable"}:
        said = "\n".join(f"  {one.message}" for one in made.findings if one.severity == "damage")
        raise CarryError(f"{made.path} is damaged, so its readings are not taken over:\n{said}")
    return made


def from_book(layout: Layout, book: Validation) -> Carried:
    """Return a book's readings for the cells of a layout, converted where a group is now read in
    another unit. Where the work is another, or the book damaged, a release is decided anew; a
    concession stands.
    """
    assert book.layout is not None
    carried = Carried(
        unread=[
            _no_reading(f"{book.layout.places[key].at}", said)
            for key, said in unread_in(book).items()
        ],
        damage=[one.message for one in book.findings if one.severity == "damage"],
    )
    was, now = book.layout, layout
    elsewhere = (was.job.block, *was.spec.stated) != (now.job.block, *now.spec.stated)
    other_work = any(
        getattr(was.scope, what) != getattr(now.scope, what) for what in ("operations", "stations")
    )
    for key, typed in book.typed.items():
        old = was.places[key]
        anew = other_work or carried.damage
        if (elsewhere and _signed(was, key)) or (anew and _decided(was, key)):
            said = "another job or spec" if elsewhere else "another work"
            said = "a book that was damaged since" if carried.damage else said
            carried.homeless.append(printable(f"{old.at} {written_as(typed)}: signed for {said}"))
        else:
            _take(carried, layout, key, old.unit, typed, f"{old.at} {old.label}")
    return carried


def from_older(layout: Layout, record: Record, older: Iterator[OlderReading]) -> Carried:
    """Return the readings of a book that another version laid out; what was decided there is to be
    decided anew.
    """
    carried = Carried()
    elsewhere = (record.job.block, record.spec_text, record.spec_full) != (
        layout.job.block,
        *layout.spec.stated,
    )
    for one in older:
        where = f"{one.was.sheet}!{one.was.cell}"
        if one.typed is None:
            carried.unread.append(_no_reading(where, one.said))
        elif (_signed if elsewhere else _decided)(layout, one.was.key):
            carried.homeless.append(
                printable(f"{where} {one.said}: signed for another job, spec or version")
            )
        else:
            _take(carried, layout, one.was.key, one.was.unit, one.typed, f"{where} {one.was.label}")
    return carried


def _no_reading(where: str, said: str) -> str:
    return printable(
        f"{where}: {said} is neither number nor words; type the reading in the new book"
    )


def _take(
    carried: Carried, layout: Layout, key: str, unit: str | None, typed: float | str, where: str
) -> None:
    """Take one reading over, or list it where the new book has no cell for it."""
    new = layout.places.get(key)
    if new is None or new.role != "reading" or (new.unit is None) != (unit is None):
        carried.homeless.append(
            printable(f"{where}: {written_as(typed)} has no cell in the new book")
        )
        return
    try:
        carried.typed[key] = _in_new_unit(typed, unit, new)
    except UnitError as fault:
        carried.homeless.append(printable(f"{where}: {written_as(typed)}: {fault}"))


def _in_new_unit(typed: float | str, unit: str | None, new: Place) -> float | str:
    if isinstance(typed, DateTyped) or not isinstance(typed, float) or unit == new.unit:
        return typed
    return float(f"{convert(typed, unit or '', new.unit or ''):.15g}")


def from_csv(layout: Layout, source: Path, book: Validation | None = None) -> Carried:
    """Return the readings of a CSV with the columns key, value and if need be unit. Raises
    CarryError with every fault.

    Where the CSV only repeats what the book holds, that is kept as it is, whatever it is.
    """
    printed = {str(place.key): harmless(place.label).strip() for place in layout.readings()}
    said, carried = read_csv(source, printed), Carried()
    faults = _strange_keys(said, layout, source)
    own = {} if book is None else book.typed
    unread = {} if book is None else unread_in(book)
    fresh = []
    for line in said.lines:
        repeated = line.key in own and written_as(own[line.key]).strip() == line.value
        if line.number in faults or line.key not in printed or not line.value:
            continue
        if repeated and isinstance(own[line.key], str):
            carried.typed[line.key] = own[line.key]
        elif line.key in unread and harmless(unread[line.key]).strip() == line.value:
            at = layout.places[line.key].at
            carried.unread.append(_no_reading(f"{at}", unread[line.key]))
        else:
            fresh.append(line)
    said = replace(said, lines=fresh)
    faults |= comma_faults(said, layout, source)
    comma = has_decimal_comma(said, layout)
    for line in fresh:
        place = layout.places[line.key]
        value = with_point(line.value) if comma and place.unit is not None else line.value
        if place.key in own and written_as(own[place.key]) == value:
            carried.typed[place.key] = own[place.key]
        elif line.number not in faults:
            try:
                carried.typed[place.key] = typed_value(place, value, line.unit)
            except CarryError as fault:
                faults[line.number] = f"{source} line {line.number}: {place.key}: {fault}"
    if faults:
        told_all(faults[number] for number in sorted(faults))
    return carried


def _strange_keys(said: CsvText, layout: Layout, source: Path) -> dict[int, str]:
    """The keys that are no reading of a layout or stand twice, by line."""
    faults, first = dict[int, str](), dict[str, int]()
    for line in said.lines:
        if line.key in first:
            faults[line.number] = (
                f"{source} lines {first[line.key]} and {line.number}: both name {line.key}; keep "
                f"one of them."
            )
        elif strange := _strange(line, layout, len(faults) < MOST_TOLD):
            faults[line.number] = f"{source} line {line.number}: {strange}"
        first |= {line.key: line.number} if line.key else {}
    return faults


def _strange(line: CsvLine, layout: Layout, with_nearest: bool) -> str:
    """What is wrong with a line whose key is no reading of a layout; "" where it is one, or where
    the line says nothing, as of a book laid out otherwise.
    """
    place = layout.places.get(line.key)
    if place is not None and place.role == "reading":
        return ""
    if not line.value and not re.search(r"[\s,;=\"]", line.key):
        return ""
    if not line.key:
        return f"{line.value} stands without a key; write the key before it."
    if place is not None:
        return f"{line.key} is worked out or printed by the book; take the line away."
    known = [place.key for place in layout.readings()] if with_nearest else []
    near = get_close_matches(line.key[:100], known, n=1, cutoff=0)
    nearest = f"the nearest is {near[0]}; " if near else ""
    return (
        f"no reading is called {line.key[:100]}; {nearest}correct the key, or take the line away."
    )


def typed_value(place: Place, value: str, unit: str = "") -> float | str:
    """Return what belongs in a cell for a value as written in a CSV. Raises CarryError saying what
    to write.
    """
    if place.unit is None:
        quoted = value.startswith("'") and value.lstrip("'").startswith(RISKY)
        return value[1:] if quoted else value
    if ISO.fullmatch(value):
        try:
            return DateTyped(date.fromisoformat(value).toordinal() - FIRST_DAY)
        except ValueError:
            raise CarryError(
                f'"{value}" is no day of the calendar; write the size as a decimal.'
            ) from None
    try:
        quantity = read_quantity(value)
        word = quantity.unit or unit or place.unit
        if quantity.unit and unit and quantity.unit != unit:
            raise CarryError(f'"{value}" stands in a line whose unit is {unit}; write one unit.')
        size = float(f"{convert(float(quantity.number), word, place.unit):.15g}")
    except (QuantityFault, UnitError) as fault:
        raise CarryError(f"{fault}") from None
    _can_be(place, size, value if quantity.unit else f"{value} {word}", word)
    return size


def _can_be(place: Place, size: float, written: str, word: str) -> None:
    """CarryError where a size is none that its cell can hold at all."""
    assert isinstance(place.column, Reading)
    low, high = possible(place.column, place.row) or (-math.inf, math.inf)
    if not low <= size <= high:
        unit = unit_in_words(place.unit or "")
        here = f"{figures(size, 6)} {unit}".strip()
        told = here if word == place.unit else f"{written}, which is {here},"
        raise CarryError(
            f"{told} cannot be; it should lie between {figures(low, 6)} and {figures(high, 6)} "
            f"{unit}. Correct the value or its unit."
        )


def merged(
    layout: Layout, own: Mapping[str, float | str], over: Mapping[str, float | str]
) -> Typed:
    """A book's own readings with others over them; a changed reading takes back a decision made
    without it.
    """
    changed = any(own.get(key) != value for key, value in over.items() if not _decided(layout, key))
    kept = {key: one for key, one in own.items() if not (changed and _decided(layout, key))}
    return {**kept, **over}


def _decided(layout: Layout, key: str) -> bool:
    """Say whether a cell belongs to the decision."""
    place = layout.places.get(key)
    return place is not None and place.stands_in(layout.stations.release.decision)


def _signed(layout: Layout, key: str) -> bool:
    """Say whether people put their names to a cell: the decision, or a concession."""
    place, release = layout.places.get(key), layout.stations.release
    return place is not None and place.stands_in(release.decision, release.checks)
