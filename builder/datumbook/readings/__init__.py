"""Readings on the move: out of a book as CSV, out of a CSV or an older book into a new one. None is
dropped in silence.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from datumbook.cells.columns import DateTyped
from datumbook.messages import ExpectedError
from datumbook.messages.findings import printable
from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.numbers.units import UnitError, convert
from datumbook.validator import Validation, validate
from datumbook.validator.recognise.older_books import OlderReading, older_readings
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.record import Record

ISO = re.compile(r"\d{4}-\d{2}-\d{2}")
FIRST_DAY = date(1899, 12, 30).toordinal()
HEADER = ("key", "sheet", "cell", "label", "unit", "value")
RISKY = ("=", "+", "-", "@", "\t", "\r", "\n")
UNREAD = {
    "reading-is-error",
    "reading-is-truth",
}  # what stands in the cell is neither number nor words
OLDER = {"version-differs", "layout-differs"}  # sound, only laid out otherwise
Typed = dict[str, float | str]


class CarryError(ExpectedError):
    """Readings that cannot be taken over; each line says where, what and the remedy."""


@dataclass
class Carried:
    """Readings that found their cell, a line for each that did not, and for each that is no reading
    at all.
    """

    typed: Typed = field(default_factory=dict)
    homeless: list[str] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)


def readings_csv(validation: Validation) -> str:
    """Return every reading of a book as CSV: key, sheet, cell, label, unit, value (blank where
    nothing is typed).
    """
    assert validation.layout is not None
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\n")
    lines.writerow(HEADER)
    unread = _unread(validation)
    for place in validation.layout.readings():
        said = unread.get(place.key) or _written(validation.typed.get(place.key))
        lines.writerow(
            [
                place.key,
                place.at.sheet,
                place.at.cell,
                harmless(place.label),
                place.unit or "",
                said,
            ]
        )
    return out.getvalue()


def _unread(validation: Validation) -> dict[str, str]:
    """What stands in the cells that hold neither number nor words."""
    return {one.key: one.found for one in validation.findings if one.code in UNREAD}


def _written(typed: float | str | None) -> str:
    if isinstance(typed, DateTyped):
        return date.fromordinal(FIRST_DAY + int(typed)).isoformat()
    return f"{typed:.15g}" if isinstance(typed, float) else harmless(typed or "")


def harmless(text: str) -> str:
    """Words that no program takes for a formula when it opens the CSV."""
    return f"'{text}" if text.startswith(RISKY) else text


def carry(layout: Layout, source: Path) -> Carried:
    """Return what a CSV or an older book holds for the cells of a layout. Raises CarryError."""
    if _is_text(source):
        return from_csv(layout, source)
    made = validate(source)
    damage = {one.code for one in made.findings if one.severity == "damage"}
    if made.record is not None and made.book is not None and damage and damage <= OLDER:
        return from_older(layout, made.record, older_readings(made.record, made.book))
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
    another unit. Where the work is another, a release is decided anew; a concession stands.
    """
    assert book.layout is not None
    carried = Carried(
        unread=[
            _no_reading(f"{book.layout.places[key].at}", said)
            for key, said in _unread(book).items()
        ]
    )
    was, now = book.layout, layout
    elsewhere = (was.job.block, was.spec.text) != (now.job.block, now.spec.text)
    other_work = any(
        getattr(was.scope, what) != getattr(now.scope, what) for what in ("operations", "stations")
    )
    for key, typed in book.typed.items():
        old = was.places[key]
        if (elsewhere and _signed(was, key)) or (other_work and _decided(was, key)):
            said = "another job or spec" if elsewhere else "another work"
            carried.homeless.append(printable(f"{old.at} {_written(typed)}: signed for {said}"))
        else:
            _take(carried, layout, key, old.unit, typed, f"{old.at} {old.label}")
    return carried


def from_older(layout: Layout, record: Record, older: Iterator[OlderReading]) -> Carried:
    """Return the readings of a book that another version laid out; what was decided there is to be
    decided anew.
    """
    carried = Carried()
    elsewhere = (record.job.block, record.spec_text) != (layout.job.block, layout.spec.text)
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
            printable(f"{where}: {_written(typed)} has no cell in the new book")
        )
        return
    try:
        carried.typed[key] = _in_new_unit(typed, unit, new)
    except UnitError as fault:
        carried.homeless.append(printable(f"{where}: {_written(typed)}: {fault}"))


def _in_new_unit(typed: float | str, unit: str | None, new: Place) -> float | str:
    if isinstance(typed, DateTyped) or not isinstance(typed, float) or unit == new.unit:
        return typed
    return float(f"{convert(typed, unit or '', new.unit or ''):.15g}")


def from_csv(layout: Layout, source: Path, book: Validation | None = None) -> Carried:
    """Return the readings of a CSV with the columns key, value and if need be unit. Raises
    CarryError with every fault.

    Where the CSV only repeats what the book holds, that is kept as it is, whatever it is.
    """
    carried, faults, lines = Carried(), [], dict[str, int]()
    own = (
        {} if book is None else {key: _written(typed).strip() for key, typed in book.typed.items()}
    )
    unread = {} if book is None else _unread(book)
    for line, key, value, unit in _csv_lines(source):
        if key in lines:
            faults.append(
                printable(
                    f"{source} lines {lines[key]} and {line}: both name {key}; keep one of them."
                )
            )
            continue
        lines |= {key: line} if key else {}
        place = layout.places.get(key)
        if not value:
            continue
        if place is None or place.role != "reading":
            carried.homeless.append(
                printable(f"line {line}: {key}: {value} has no cell in the book")
            )
        elif book is not None and own.get(key) == value:
            carried.typed[key] = book.typed[key]
        elif unread.get(key) == value:
            carried.unread.append(_no_reading(str(place.at), value))
        else:
            try:
                carried.typed[key] = typed_value(place, value, unit)
            except CarryError as fault:
                faults.append(printable(f"{source} line {line}: {key}: {fault}"))
    if faults:
        raise CarryError("\n".join(faults))
    return carried


def _csv_lines(source: Path) -> Iterator[tuple[int, str, str, str]]:
    try:
        text = source.read_bytes().decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as refusal:
        said = refusal.strerror if isinstance(refusal, OSError) else "it is not UTF-8 text"
        raise CarryError(
            f"{source}: {said}; give a CSV file with a key and a value column."
        ) from None
    first = text.partition("\n")[0]
    rows = csv.DictReader(io.StringIO(text), delimiter=max(",;\t", key=first.count))
    names = {(name or "").strip().casefold(): name for name in rows.fieldnames or ()}
    if "key" not in names or "value" not in names:
        raise CarryError(
            f"{source} line 1: the header must name a key and a value column; it says "
            f"{first.strip()!r}."
        )
    try:
        for row in rows:
            cells = {
                name: (row.get(real) or "").strip()
                for name, real in names.items()
                if isinstance(row.get(real), str)
            }
            yield rows.line_num, cells.get("key", ""), cells.get("value", ""), cells.get("unit", "")
    except csv.Error as fault:
        raise CarryError(f"{source} line {rows.line_num}: {fault}; save it again as CSV.") from None


def typed_value(place: Place, value: str, unit: str = "") -> float | str:
    """Return what belongs in a cell for a value as written in a CSV. Raises CarryError saying what
    to write.
    """
    if place.unit is None:
        return value[1:] if value.startswith("'") and value[1:].startswith(RISKY) else value
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
        return float(f"{convert(float(quantity.number), word, place.unit):.15g}")
    except (QuantityFault, UnitError) as fault:
        raise CarryError(f"{fault}") from None


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
