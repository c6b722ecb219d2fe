"""Two books of the same block at two dates: what has changed by more than the instruments can be
wrong.

Every reading and every checked result is held against its counterpart. The uncertainty of a
difference is the root of the sum of the squares of what both books state; a difference within it is
no change. A date or a text in the place of a number has no difference from anything, nor has a
result that rests on one: they cannot be compared.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from typing import Literal

from datumbook.cells.columns import DateTyped, Reading
from datumbook.cells.tables import StateRead, Table
from datumbook.job import work_in_words
from datumbook.numbers.printing import Printer
from datumbook.numbers.units import UnitError, convert, factor
from datumbook.planning import NoBook, layout_of
from datumbook.validator import Validation
from datumbook.validator.compare.contents import TOLERANCE
from datumbook.workbook.evaluation import Breakdown, Value
from datumbook.workbook.flow import downstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan, Place
from datumbook.workbook.printed import printer

Word = Literal[
    "no change", "changed", "only in the first", "only in the second", "cannot be compared"
]
__all__ = ["Comparison", "Feature", "NoBook", "compare", "comparison_lines"]


@dataclass(frozen=True)
class Feature:
    """One reading or checked result in both books, printed as in the first; None
    where there is none.

    `judged` holds the verdicts on a check, "" on a reading.
    """

    key: str
    label: str
    printer: Printer
    one: Value
    two: Value
    difference: float | None
    uncertainty: float
    verdict: Word
    judged: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Comparison:
    """What two books say of a block: the warnings first, then every feature that either holds."""

    names: tuple[str, str]
    warnings: tuple[str, ...]
    features: tuple[Feature, ...]

    @property
    def changes(self) -> tuple[Feature, ...]:
        """The features that are not the same in both."""
        return tuple(
            one for one in self.features if one.verdict not in ("no change", "cannot be compared")
        )

    @property
    def incomparable(self) -> tuple[Feature, ...]:
        """The features that a date or a text in the place of a number leaves without a
        difference.
        """
        return tuple(one for one in self.features if one.verdict == "cannot be compared")


@dataclass(frozen=True)
class _Side:
    """One of the two books."""

    layout: Layout
    values: Mapping[str, object]
    checks: Mapping[str, CheckPlan]
    no_numbers: Mapping[str, str]
    incomparable: frozenset[str]

    @classmethod
    def of(cls, validation: Validation) -> _Side:
        layout = layout_of(validation)
        wrong = {
            key: said
            for key, typed in validation.typed.items()
            if (said := _no_number(layout.places.get(key), typed))
        }
        resting = frozenset(wrong) | downstream(layout, set(wrong))
        return cls(
            layout, validation.values, {check.key: check for check in layout.checks}, wrong, resting
        )

    def resting_on(self, readings: Iterable[str]) -> set[str]:
        """What is worked out from some of these readings in this book."""
        return downstream(self.layout, {key for key in readings if key in self.layout.places})

    def condition(self, state: StateRead, row: str) -> str:
        """One condition of a state as this book has it, in words; of a figure, whether it was as
        meant, within what is allowed.
        """
        read = self.place(state.read[row])
        if read is None:
            return "not asked"
        if read.unit is None:
            return str(self.values.get(read.key) or "not said")
        return str(self.values.get(state.unlike[row]) or "as meant")

    def keys(self) -> Iterator[str]:
        """Readings and checked results, in the order of the sheets."""
        return (
            key
            for key, place in self.layout.places.items()
            if place.role == "reading" or key in self.checks
        )

    def place(self, key: str) -> Place | None:
        return self.layout.places.get(key)

    def value(self, key: str, unit: str | None) -> Value:
        """The value of a key in this unit, words where it has none, None where it is blank or not
        in the book.
        """
        place = self.place(key)
        value = self.no_numbers.get(key) or (
            "made of no number" if key in self.incomparable else self.values.get(key)
        )
        if place is None or value in (None, ""):
            return None
        if isinstance(value, Breakdown):
            return "an error"
        if not isinstance(value, float):
            return str(value)
        try:
            return convert(value, place.unit or "", unit or "")
        except UnitError:
            return printer(place).quantity(value)

    def uncertainty(self, key: str, unit: str | None) -> float:
        """The expanded uncertainty this book states for a key, in this unit; zero where it states
        none.
        """
        place = self.place(key)
        reading = place.column if place is not None and isinstance(place.column, Reading) else None
        of_gauges = self.layout.stations.instruments.gauges.all_told
        of_checks = self.layout.stations.release.checks.uncertainty
        stated = of_gauges.find(reading.group or "") if reading else of_checks.find(key)
        at, value = self.place(stated or ""), self.values.get(stated or "")
        if at is None or not isinstance(value, float) or unit is None:
            return 0.0
        try:
            return value * float(factor(at.unit or "", unit))
        except UnitError:
            return 0.0

    def judged(self, key: str) -> str:
        """The verdict on a check, "" where there is no check."""
        check = self.checks.get(key)
        if check is None or check.judged:
            return ""
        return str(self.values.get(check.verdict) or "nothing asked")


def _no_number(place: Place | None, typed: object) -> str:
    """What stands in a number's place instead of it, "" where nothing is wrong."""
    if place is None or place.unit is None:
        return ""
    return (
        "a date"
        if isinstance(typed, DateTyped)
        else f'the text "{typed}"'
        if isinstance(typed, str)
        else ""
    )


def compare(one: Validation, two: Validation) -> Comparison:
    """Compare two validated books, feature by feature; NoBook where one is unreadable or not one of
    ours.
    """
    first, second = _Side.of(one), _Side.of(two)
    unlike = dict(_unlike_states(first, second))
    other = frozenset(unlike).union(*(side.resting_on(unlike) for side in (first, second)))
    features = (
        _feature(key, first, second, other)
        for key in dict.fromkeys((*first.keys(), *second.keys()))
    )
    return Comparison(
        (one.path.name, two.path.name),
        (*_warnings(one, two, first, second), *dict.fromkeys(unlike.values())),
        tuple(each for each in features if each.one is not None or each.two is not None),
    )


def _unlike_states(first: _Side, second: _Side) -> Iterator[tuple[str, str]]:
    """The readings of each series that was read in another state of assembly in the one book than
    in the other, with the words that say so: both are shown, and nothing is subtracted.
    """
    for place in first.layout.readings():
        state = _state_of(place)
        if state is None or second.place(state.unfit) is None:
            continue
        for row in state.rows[:-1]:
            one, two = (side.condition(state, row.key) for side in (first, second))
            if one.casefold() != two.casefold():
                yield (
                    place.key,
                    f"{state.title}: {row.words}, {one} in the first book, {two} in the second. "
                    "Sizes of two states are shown side by side, and nothing is subtracted.",
                )


def _state_of(reading: Place) -> StateRead | None:
    """The state of assembly that is asked for a reading, None where none is."""
    home = reading.column.home if reading.column else None
    return home.spoilers.state if isinstance(home, Table) and home.spoilers else None


def _feature(key: str, first: _Side, second: _Side, other: frozenset[str]) -> Feature:
    place = first.place(key) or second.place(key)
    assert place is not None
    one, two = first.value(key, place.unit), second.value(key, place.unit)
    comparable = key not in first.incomparable | second.incomparable | other
    difference = (
        two - one if comparable and isinstance(one, float) and isinstance(two, float) else None
    )
    doubt = hypot(first.uncertainty(key, place.unit), second.uncertainty(key, place.unit))
    return Feature(
        key,
        place.label,
        printer(place),
        one,
        two,
        difference,
        doubt,
        _verdict(one, two, difference, doubt) if comparable else "cannot be compared",
        (first.judged(key), second.judged(key)),
    )


def _verdict(one: Value, two: Value, difference: float | None, uncertainty: float) -> Word:
    if two is None:
        return "only in the first"
    if one is None:
        return "only in the second"
    same = one == two if difference is None else abs(difference) - uncertainty <= TOLERANCE
    return "no change" if same else "changed"


def _warnings(one: Validation, two: Validation, first: _Side, second: _Side) -> Iterator[str]:
    jobs = first.layout.job.block, second.layout.job.block
    engines = first.layout.spec.engine.name, second.layout.spec.engine.name
    if jobs[0] != jobs[1]:
        yield (
            f"These are two jobs, {jobs[0]} and {jobs[1]}: differences are between two blocks, "
            f"not between two dates."
        )
    if engines[0] != engines[1]:
        yield (
            f"These are two engines, {engines[0]} and {engines[1]}: only what both books hold "
            f"can be compared."
        )
    elif first.layout.spec.stated != second.layout.spec.stated:
        yield (
            "The two books were made from different specs: limits may differ, and verdicts "
            "with them."
        )
    works = [work_in_words(side.layout.job) for side in (first, second)]
    if works[0] != works[1]:
        yield (
            f"The work is not the same: {works[0]}; then {works[1]}. Only what both books hold can "
            "be compared."
        )
    for place, book in (("first", one), ("second", two)):
        if book.verdict == "untrusted":
            yield (
                f"The {place} book, {book.path.name}, is damaged: validate it first. This "
                f"rests on its readings alone."
            )


def comparison_lines(comparison: Comparison, everything: bool = False) -> list[str]:
    """The comparison in plain text: warnings, what changed or cannot be compared, how much did not;
    or every feature.
    """
    changed, incomparable = len(comparison.changes), len(comparison.incomparable)
    unchanged = len(comparison.features) - changed - incomparable
    told = [one for one in comparison.features if everything or one.verdict != "no change"]
    without = f" Cannot be compared: {incomparable}." if incomparable else ""
    return [
        f"First: {comparison.names[0]}",
        f"Second: {comparison.names[1]}",
        *(f"Warning: {warning}" for warning in comparison.warnings),
        *(_feature_line(one) for one in told),
        f"Changed: {changed}. Unchanged: {unchanged}.{without}",
    ]


def _feature_line(one: Feature) -> str:
    words = f"{one.label}: {_printed(one.one, one)} → {_printed(one.two, one)}"
    if one.difference is not None:
        difference = one.printer.beside(one.difference, 0.0, sign="+")
        words += f", difference {difference} (± {one.printer.uncertainty(one.uncertainty)})"
    judged = (
        f", {one.judged[0] or 'no check'} → {one.judged[1] or 'no check'}"
        if one.judged[0] != one.judged[1]
        else ""
    )
    return f"{words}: {one.verdict}{judged}"


def _printed(value: Value, one: Feature) -> str:
    if isinstance(value, float):
        return one.printer.quantity(value)
    return "nothing" if value is None else value
