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
from datumbook.messages.findings import Finding
from datumbook.numbers.printing import figures, unit_in_words
from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.numbers.units import convert
from datumbook.readers import FoundCell
from datumbook.readers.arithmetic import arithmetic, shows_sum
from datumbook.readers.formulas import outside
from datumbook.validator.locate.location import Located
from datumbook.validator.readings.alike import DOUBTED
from datumbook.validator.readings.plausibility import suspicions, swaps
from datumbook.validator.readings.signatures import is_reason
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.printed import printer

DAYS = range(36_526, 55_153)  # the year 2000 to the end of 2050, as day numbers
LETTER_O = re.compile(r"(?<=[0-9.])[Oo]|(?<![A-Za-z])[Oo](?=[0-9.])")  # typed for a zero
OTHER_UNITS = {"mm": ("in",), "in": ("mm", "thou"), "degC": ("degF",)}
SLIPS = (1000.0, 100.0, 10.0, 0.1, 0.01, 0.001)
UNREAD = {
    "reading-is-error",
    "reading-is-truth",
    "reading-worked-out",
    "reading-sum-differs",
    "formula-outside",
}
"""What is said of cells that hold nothing a person read or wrote: no number, no words."""

LONGEST_SHOWN = 120  # characters of a formula in a sentence


@dataclass
class Entries:
    """The readings of a book by key, as typed, and what is wrong with them."""

    typed: dict[str, float | str] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    settled: list[Finding] = field(default_factory=list)  # doubts that the Release sheet answers

    @property
    def unread(self) -> set[str]:
        """The keys of cells that hold nothing a person read or wrote."""
        return {one.key for one in self.findings if one.code in UNREAD}

    @property
    def spoiled(self) -> set[str]:
        """The keys of readings that must be put right."""
        return {one.key for one in self.findings if one.severity == "reading"} | self.unread


def read_entries(layout: Layout, located: Located) -> Entries:
    """Read every reading that still has a cell."""
    entries = Entries()
    for place in layout.readings():
        cell = located.cell(place.key)
        if cell is not None:
            entry = _Entry(place, cell, located)
            value = entry.read()
            if value is not None:
                entries.typed[place.key] = value
            entries.findings += entry.findings
    suspected = list(_suspected(layout, located, entries))
    answer = entries.typed.get(layout.stations.release.decision.read_again.key)
    answered = DOUBTED if is_reason(str(answer or "")) else set[str]()
    entries.settled = [one for one in suspected if one.code in answered]
    entries.findings += [one for one in suspected if one.code not in answered]
    return entries


def _suspected(layout: Layout, located: Located, entries: Entries) -> Iterator[Finding]:
    """What can be and looks like a slip, of the readings that are sound in themselves."""
    sound = {key: value for key, value in entries.typed.items() if key not in entries.spoiled}
    for one in suspicions(layout, sound):
        yield located.about(one.code, layout.places[one.key], **one.words)


class _Entry:
    def __init__(self, place: Place, cell: FoundCell, located: Located) -> None:
        assert isinstance(place.column, Reading)
        self.place, self.column, self.unit = place, place.column, place.unit or ""
        self.cell, self.located = cell, located
        self.findings: list[Finding] = []

    def say(self, code: str, **words: object) -> None:
        unit = unit_in_words(self.unit) if self.place.unit is not None else "words"
        words = {"unit": unit, "suggested": "", **words}
        self.findings.append(self.located.about(code, self.place, **words))

    def read(self) -> float | str | None:
        """What was typed, None where nothing is that counts."""
        if self.cell.error is not None:
            self.say("reading-is-error", found=self.cell.error)
            return None
        sheet, *at = self.located.spots[self.place.key]
        formula = self.located.book.sheets[sheet].filled_by((at[0], at[1]))
        if formula and not self._settled(formula):
            return None
        return self.words() if self.place.unit is None else self.number()

    def _settled(self, formula: str) -> bool:
        """Say whether a formula only spells a number out, which then stands for what was typed."""
        shown = formula if len(formula) <= LONGEST_SHOWN else f"{formula[:LONGEST_SHOWN]}…"
        worked = None if self.place.unit is None else arithmetic(formula)
        if outside(formula):
            self.say("formula-outside", found=shown)
        elif worked is None:
            self.say("reading-worked-out", found=shown)
        elif not shows_sum(self.cell, worked):
            self.say(
                "reading-sum-differs",
                found=shown,
                expected=figures(worked),
                shown=figures(self.cell.value)
                if type(self.cell.value) is float
                else self.cell.value,
            )
        else:
            self.say("reading-is-formula", found=shown, expected=figures(worked))
            self.cell = self.cell._replace(value=worked)
            return True
        return False

    def words(self) -> str | None:
        """A cell of words: whatever it shows; a date in ISO, a number as typed."""
        said = self.cell.value
        if isinstance(said, float):
            day = self.located.book.moment(said) if self.cell.is_date else None
            said = f"{day:%Y-%m-%d}" if day else figures(said)
        text = str(said if said is not None else "")
        choices = per(self.column.choices, self.place.row)
        if text and not text.strip():
            self.say("reading-looks-empty")
        elif text and choices and text.casefold() not in map(str.casefold, choices):
            self.say("reading-not-a-choice", found=text, expected=", ".join(choices))
        elif text and self.column.day and not _is_day(text):
            self.say("reading-is-no-day", found=text)
        return text or None

    def number(self) -> float | str | None:
        """A cell of numbers: the number as the sheet counts it, or the text that the sheet does not
        count.
        """
        cell = self.cell
        if isinstance(cell.value, bool):
            self.say("reading-is-truth", found=str(cell.value).upper())
            return None
        if isinstance(cell.value, str):
            if not cell.value.strip():
                return None
            self.say("reading-is-text", found=cell.value, **_offer(self._meant(cell.value)))
            return cell.value
        return None if cell.value is None else self._figure(cell.value)

    def _meant(self, text: str) -> float | None:
        plain = LETTER_O.sub("0", text.strip().lstrip("'"))
        plain = plain.replace(",", ".") if plain.count(",") == 1 and "." not in plain else plain
        try:
            quantity = read_quantity(plain)
            value = quantity.to(self.unit) if quantity.unit else float(quantity.number)
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
        elif self.column.whole and value != int(value):
            self.say("reading-not-whole", found=figures(value))
        return value

    def _date(self, value: float) -> None:
        near, day = self._near(), self.located.book.moment(value)
        example = printer(self.place).number(0.375 if near is None else near)
        if day is None:
            self.say("reading-is-date", found=figures(value), example=example)
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
            example=example,
        )

    def _impossible(self, value: float) -> None:
        found = figures(value)
        meant = [one for one in self._meant_by(value) if self._can_be(one[0])]
        if meant:
            size, code, other = min(meant, key=lambda one: self._away(one[0]))
            self.say(code, found=found, suggestion=printer(self.place).number(size), other=other)
        else:
            limits = " and ".join(figures(end, 6) for end in self._possible())
            self.say("reading-impossible", found=found, expected=limits)

    def _meant_by(self, value: float) -> Iterator[tuple[float, str, str]]:
        """The size an impossible one may have been, the slip that made it, and the other unit where
        that was the slip.
        """
        for other in OTHER_UNITS.get(self.unit, ()):
            yield convert(value, other, self.unit), "reading-wrong-unit", unit_in_words(other)
        for slip in SLIPS:
            yield value * slip, "reading-decimal-slip", ""
        near = self._near()
        if near is not None:
            yield value * 2, "reading-is-radius", ""
            if abs(value) < near / 10:
                yield near + value, "reading-is-deviation", ""
            for swapped in swaps(value, self.place.decimals):
                yield swapped, "reading-digits-swapped", ""

    def _away(self, size: float) -> float:
        """How far off what is expected a size is, as a ratio either way; zero where nothing is
        expected.
        """
        near = self._near()
        return abs(math.log(size / near)) if near and size / near > 0 else 0.0

    def _near(self) -> float | None:
        near = per(self.column.near, self.place.row)
        return None if near is None else float(near.to(self.unit))

    def _possible(self) -> tuple[float, float]:
        """The least and the most it can be, without end where nothing is known."""
        return possible(self.column, self.place.row) or (-math.inf, math.inf)

    def _can_be(self, value: float) -> bool:
        low, high = self._possible()
        return low <= value <= high


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
