"""The readings of one column as a family: what is expected at each place, and which of them stands
far outside the others.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import gcd
from statistics import median

from datumbook.cells.columns import Reading, per
from datumbook.cells.handles import Part, row_parts
from datumbook.grouping import grouped
from datumbook.numbers.printing import Printer, figures, unit_in_words
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place

SCREW_TURNS = {"mm": (0.5, 1.0), "in": (0.025, 0.1)}
"""Units of sizes, and one turn of a thimble or of a dial in each; common practice, no source."""
BEYOND, LEAST, SHARE = 5.0, 15, 1.5e-3
"""Outside its family: so many times the family's width, so many steps of the gauge, and such a
share of the size.
"""


@dataclass(frozen=True)
class Suspicion:
    """A kind of finding, the reading it is told at, and the words of its sentence."""

    code: str
    key: str
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass
class ReadingSeries:
    """The readings of one column: the same quantity at several places, with what is expected
    there.
    """

    column: Reading
    unit: str
    places: list[Place]
    values: list[float]
    nominal: list[float]
    expected: list[float]
    resolution: float  # what its instrument resolves, zero where that is not stated
    beside: list[ReadingSeries] = field(default_factory=list)  # the other columns of its table

    def __post_init__(self) -> None:
        self.table, self.rows = self.column.home, [place.row for place in self.places]
        self.decimals = max(decimals_of(value) for value in self.values)
        whole = [round(value * 10**self.decimals) for value in self.values]
        gauge = (
            gcd(*(one - whole[0] for one in whole)) or 1
        )  # every difference is whole steps of what the gauge resolves
        self.step: float = gauge / 10**self.decimals
        self.ticks = [(one - whole[0]) // gauge for one in whole]
        self.rests = self._rests()
        own = self.expected != self.nominal
        self.alone = self._less(self.nominal) if own else self.rests

    def _less(self, near: list[float]) -> list[float]:
        """What is left of each reading without another size."""
        return [value - other for value, other in zip(self.values, near, strict=True)]

    def _rests(self) -> list[float]:
        """What is left of each reading without what is expected, and without what its depth has in
        common.
        """
        rests, levels = self._less(self.expected), [row_parts(row)[1:] for row in self.rows]
        common = {
            level: median(r for r, at in zip(rests, levels, strict=True) if at == level)
            for level in levels
            if level
        }
        return [rest - common.get(level, 0.0) for rest, level in zip(rests, levels, strict=True)]

    @property
    def family(self) -> bool:
        """Say whether there are enough of one quantity to know it by: lands, each with a width of
        its own, are none.
        """
        return len(self.values) >= 4 and max(self.nominal) == min(self.nominal)

    def others(self, number: int) -> tuple[float, float]:
        """The least and the largest rest of all the other readings."""
        return _ends(self.rests, number)

    def stands_out(self, number: int) -> bool:
        """Say whether a reading is outside its family by far: it alone, not its bore nor the other
        reading beside it.
        """
        return (
            self.family
            and all(self._far(rests, number) for rests in (self.rests, self.alone))
            and self.by_itself(number)
        )

    def _far(self, rests: list[float], number: int) -> bool:
        low, high = _ends(rests, number)
        return _beyond(rests, number) > max(
            BEYOND * (high - low), LEAST * self.step, SHARE * abs(self.values[number])
        )

    def by_itself(self, number: int) -> bool:
        """Say whether what was read beside it in the same row stands among its own: wear shows on
        both axes.
        """
        row, own = self.rows[number], _beyond(self.rests, number)
        return all(
            _beyond(other.rests, other.rows.index(row)) <= own / 4
            for other in self.beside
            if row in other.rows and len(other.rows) >= 4
        )

    def at_home(self, number: int, value: float, room: float) -> bool:
        """Say whether another value in its place would stand among the others, or no more than this
        beside them.
        """
        low, high = self.others(number)
        return low - room <= self.rests[number] + value - self.values[number] <= high + room

    def number(self, value: float) -> str:
        """A number with the decimals of these readings."""
        return Printer(self.unit, self.decimals).number(value)

    def tell(
        self, code: str, number: int, suggestion: float | None = None, **words: str
    ) -> Suspicion:
        """A suspicion about one of the readings."""
        said = {"found": figures(self.values[number]), "unit": unit_in_words(self.unit)}
        offered = {} if suggestion is None else {"suggestion": self.number(suggestion)}
        return Suspicion(code, self.places[number].key, said | offered | words)


WhereRead = dict[tuple[str, str], tuple[ReadingSeries, int]]
"""Depth and column -> where that reading is."""


def blocks(columns: list[ReadingSeries]) -> Iterator[dict[str, WhereRead]]:
    """Tables read at several depths: cylinder -> its readings; those with readings missing are left
    out.
    """
    tables: dict[Part, dict[str, WhereRead]] = {}
    for column in columns:
        for number, row in enumerate(map(row_parts, column.rows)):
            if len(row) == 2:
                read = tables.setdefault(column.table, {}).setdefault(row[0], {})
                read[row[1], column.column.name] = (column, number)
    for table in tables.values():
        most = max(len(each) for each in table.values())
        yield {cylinder: each for cylinder, each in table.items() if len(each) == most}


def _ends(rests: list[float], number: int) -> tuple[float, float]:
    others = rests[:number] + rests[number + 1 :]
    return min(others), max(others)


def _beyond(rests: list[float], number: int) -> float:
    low, high = _ends(rests, number)
    return max(low - rests[number], rests[number] - high, 0.0)


def series_of(layout: Layout, typed: Mapping[str, float | str]) -> list[ReadingSeries]:
    """Every column of sizes that has readings, in the order of the book."""
    gathered: dict[tuple[Reading, str], list[tuple[Place, float, float, float]]] = {}
    bores = layout.stations.bores
    lips, least = bores.each.unworn_lip if bores else None, _least_read(layout, typed)
    for place in layout.readings():
        value, column = typed.get(place.key), place.column
        if isinstance(column, Reading) and not column.repeats and place.unit in SCREW_TURNS:
            near = per(column.near, place.row)
            if type(value) is float and near is not None and abs(value) < 1e9:
                nominal = near.to(place.unit)
                expected = least.get(place.row, nominal) if column is lips else nominal
                sizes = (place, value, nominal, expected)
                gathered.setdefault((column, place.unit), []).append(sizes)
    found = []
    for (column, unit), each in gathered.items():
        places, values, nominals, expecteds = (list(part) for part in zip(*each, strict=True))
        in_its_unit = column.group is not None and layout.unit_of(column.group) == unit
        step = resolution(layout, column.group, typed) if in_its_unit else 0.0
        found.append(ReadingSeries(column, unit, places, values, nominals, expecteds, step))
    for one in found:
        one.beside = [other for other in found if other is not one and other.table is one.table]
    return found


def _least_read(layout: Layout, typed: Mapping[str, float | str]) -> dict[str, float]:
    """The least size read in each bore as received, by its cylinder: what its lip is no less
    than.
    """
    bores = layout.stations.bores
    read = grouped(
        (row_parts(place.row)[0], value)
        for place in layout.readings()
        if bores
        and place.stands_in(bores.readings)
        and type(value := typed.get(place.key)) is float
    )
    return {cylinder: min(sizes) for cylinder, sizes in read.items()}


def resolution(layout: Layout, group: str | None, typed: Mapping[str, float | str]) -> float:
    """What the gauge of a group resolves, zero where that is not stated as a number above it."""
    step = layout.stations.instruments.gauges.resolution.held_in(typed, group or "")
    return step if type(step) is float and step > 0 else 0.0


def decimals_of(value: float) -> int:
    """How many places a number was typed with: of 15 digits, so that a program's spelling does not
    count.
    """
    return min(6, len(f"{value:.10f}".rstrip("0").partition(".")[2]))
