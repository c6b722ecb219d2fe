"""What was typed: each reading as a number or words, or what it became instead, with the value it
may have been.

Nothing is put right here: a suggestion is offered, the reading stays as it is.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from datumbook.cells.columns import DateTyped, Reading, per, possible
from datumbook.messages.findings import Finding, finding
from datumbook.numbers.printing import figures, unit_in_words
from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.numbers.units import convert
from datumbook.readers import FoundCell
from datumbook.readers.canonical import references
from datumbook.validator.locate.location import Located
from datumbook.validator.readings.plausibility import suspicions, swaps
from datumbook.workbook.layout import Layout, Place
from datumbook.workbook.printed import printer

DAYS = range(36_526, 55_153)  # the year 2000 to the end of 2050, as day numbers
LETTER_O = re.compile(r"(?<=[0-9.])[Oo]|(?<![A-Za-z])[Oo](?=[0-9.])")  # typed for a nought
SLIPS = (1000.0, 100.0, 10.0, 0.1, 0.01, 0.001)


@dataclass
class Entries:
    """The readings of a book by key, as typed, and what is wrong with them."""

    typed: dict[str, float | str] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    @property
    def unread(self) -> set[str]:
        """The keys of cells that hold neither number nor words."""
        return {
            one.key for one in self.findings if one.code in {"reading-is-error", "reading-is-truth"}
        }

    @property
    def spoiled(self) -> set[str]:
        """The keys of readings that must be put right."""
        return {one.key for one in self.findings if one.severity == "reading"}


def read_entries(layout: Layout, located: Located) -> Entries:
    """Read every reading that still has a cell."""
    entries = Entries()
    for place in layout.readings():
        cell = located.cell(place.key)
        if cell is None:
            continue
        judge = _Entry(place, cell, located)
        value = judge.words() if place.unit is None else judge.number()
        if value is not None:
            entries.typed[place.key] = value
        entries.findings += judge.findings
    entries.findings += _suspected(layout, located, entries)
    return entries


def _suspected(layout: Layout, located: Located, entries: Entries) -> Iterator[Finding]:
    """What can be and looks like a slip, of the readings that are sound in themselves."""
    sound = {key: value for key, value in entries.typed.items() if key not in entries.spoiled}
    for one in suspicions(layout, sound):
        place = layout.places[one.key]
        sheet, cell = located.shown_at(place)
        yield finding(one.code, sheet=sheet, cell=cell, key=one.key, label=place.label, **one.words)


class _Entry:
    def __init__(self, place: Place, cell: FoundCell, located: Located) -> None:
        self.place, self.cell, self.book = place, cell, located.book
        self.sheet, self.address = located.shown_at(place)
        self.findings: list[Finding] = []

    def say(self, code: str, **words: object) -> None:
        unit = unit_in_words(self.place.unit) if self.place.unit is not None else "words"
        self.findings.append(
            finding(
                code,
                sheet=self.sheet,
                cell=self.address,
                key=self.place.key,
                label=self.place.label,
                **{"unit": unit, "suggested": "", **words},
            )
        )

    def words(self) -> str | None:
        """A cell of words: whatever it shows; a date in ISO, a number as typed."""
        cell = self.cell
        if cell.error is not None:
            self.say("reading-is-error", found=cell.error)
            return None
        said = cell.value
        if isinstance(said, float):
            day = self.book.moment(said) if cell.is_date else None
            said = f"{day:%Y-%m-%d}" if day else figures(said)
        text = str(said if said is not None else "")
        column = self.place.column
        choices = per(column.choices, self.place.row) if isinstance(column, Reading) else ()
        if text and not text.strip():
            self.say("reading-looks-empty")
        elif text and choices and text.casefold() not in choices:
            self.say("reading-not-a-choice", found=text, expected=", ".join(choices))
        elif text and isinstance(column, Reading) and column.day and not _is_day(text):
            self.say("reading-is-no-day", found=text)
        return text or None

    def number(self) -> float | str | None:
        """A cell of numbers: the number as the sheet counts it, or the text that the sheet does not
        count.
        """
        cell = self.cell
        if cell.error is not None:
            self.say("reading-is-error", found=cell.error)
            return None
        if isinstance(cell.value, bool):
            self.say("reading-is-truth", found=str(cell.value).upper())
            return None
        if cell.formula is not None:
            refers = references(cell.formula, self.sheet)
            self.say(
                "reading-refers" if refers else "reading-is-formula",
                found=cell.formula,
                expected=cell.value,
            )
        if isinstance(cell.value, str):
            return self._text(cell.value)
        return None if cell.value is None else self._figure(cell.value)

    def _text(self, text: str) -> str | None:
        if not text.strip():
            return None
        meant = self._meant(text)
        self.say("reading-is-text", found=text, **_offer(meant))
        return text

    def _meant(self, text: str) -> float | None:
        plain = LETTER_O.sub("0", text.strip().lstrip("'"))
        plain = plain.replace(",", ".") if plain.count(",") == 1 and "." not in plain else plain
        unit = self.place.unit or ""
        try:
            quantity = read_quantity(plain)
            value = quantity.to(unit) if quantity.unit else float(quantity.number)
        except (QuantityFault, ValueError):
            return None
        return value if self._can_be(value) else None

    def _figure(self, value: float) -> float:
        if self.cell.is_date or (
            float(value).is_integer() and int(value) in DAYS and not self._can_be(value)
        ):
            self._date(value)
            return DateTyped(value)
        if self.cell.is_percent:
            self.say("reading-is-percent", found=figures(value), **_offer(value * 100))
        elif value == 0 and self._near():
            self.say("reading-is-nought", found="0")
        elif not self._can_be(value):
            self._impossible(value)
        elif (
            isinstance(self.place.column, Reading)
            and self.place.column.whole
            and value != int(value)
        ):
            self.say("reading-not-whole", found=figures(value))
        return value

    def _date(self, value: float) -> None:
        day = self.book.moment(value)
        if day is None:
            self.say("reading-is-date", found=figures(value), example=self._example())
            return
        fractions = {
            f"{day.month}/{day.day}": day.month / day.day,
            f"{day.day}/{day.month}": day.day / day.month,
        }
        likely = [text for text, size in fractions.items() if self._can_be(size)] or list(fractions)
        size = f" ({figures(fractions[likely[0]], 6)})" if len(likely) == 1 else ""
        self.say(
            "reading-is-date",
            found=f"{day:%Y-%m-%d}",
            suggestion=likely[0] if len(likely) == 1 else "",
            suggested=f"; it may have been {' or '.join(dict.fromkeys(likely))}{size}",
            example=self._example(),
        )

    def _example(self) -> str:
        near = self._near()
        return printer(self.place).number(0.375 if near is None else near)

    def _impossible(self, value: float) -> None:
        found = figures(value)
        limits = self._possible()
        assert limits is not None
        meant = [one for one in self._meant_by(value) if self._can_be(one[0])]
        if not meant:
            self.say(
                "reading-impossible",
                found=found,
                expected=" and ".join(figures(end, 6) for end in limits),
            )
            return
        size, code, other = min(meant, key=lambda one: self._away(one[0]))
        self.say(code, found=found, suggestion=printer(self.place).number(size), other=other)

    def _meant_by(self, value: float) -> Iterator[tuple[float, str, str]]:
        """The size an impossible one may have been, the slip that made it, and the other unit where
        that was the slip.
        """
        for other, size in self._other_units(value):
            yield size, "reading-wrong-unit", unit_in_words(other)
        for slip in SLIPS:
            yield value * slip, "reading-decimal-slip", ""
        near = self._near()
        if near is None:
            return
        yield value * 2, "reading-is-radius", ""
        if abs(value) < near / 10:
            yield near + value, "reading-is-deviation", ""
        for swapped in swaps(value, self.place.decimals):
            yield swapped, "reading-digits-swapped", ""

    def _away(self, size: float) -> float:
        """How far off what is expected a size is, as a ratio either way; nought where nothing is
        expected.
        """
        near = self._near()
        return abs(math.log(size / near)) if near and size / near > 0 else 0.0

    def _near(self) -> float | None:
        column = self.place.column
        near = per(column.near, self.place.row) if isinstance(column, Reading) else None
        return None if near is None else float(near.to(self.place.unit or ""))

    def _other_units(self, value: float) -> Iterator[tuple[str, float]]:
        unit = self.place.unit or ""
        pairs = {"mm": ("in",), "in": ("mm", "thou"), "degC": ("degF",)}
        for other in pairs.get(unit, ()):
            yield other, convert(value, other, unit)

    def _possible(self) -> tuple[float, float] | None:
        column = self.place.column
        return possible(column, self.place.row) if isinstance(column, Reading) else None

    def _can_be(self, value: float) -> bool:
        limits = self._possible()
        return limits is None or limits[0] <= value <= limits[1]


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text.strip()).isoformat() == text.strip()
    except ValueError:
        return False


def _offer(value: float | None) -> dict[str, str]:
    return (
        {}
        if value is None
        else {
            "suggestion": figures(value, 10),
            "suggested": f"; it may have been {figures(value, 10)}",
        }
    )
