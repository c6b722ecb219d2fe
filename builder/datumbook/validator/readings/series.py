"""The readings of one column as a family: what is expected at each place, and which of them stands
far outside the others.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import gcd
from statistics import median

from datumbook.cells.columns import Reading, per
from datumbook.numbers.printing import Printer, figures, unit_in_words
from datumbook.workbook.layout import Layout, Place

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

    table: str
    name: str
    unit: str
    places: list[Place]
    values: list[float]
    nominal: list[float]
    expected: list[float]
    beside: list[ReadingSeries] = field(default_factory=list)  # the other columns of its table
    group: str = ""  # of the instrument it is read with
    resolution: float | None = None  # what that instrument resolves, where it is stated

    def __post_init__(self) -> None:
        self.decimals = max(decimals_of(value) for value in self.values)
        whole = [round(value * 10**self.decimals) for value in self.values]
        gauge = (
            gcd(*(one - whole[0] for one in whole)) or 1
        )  # every difference is whole steps of what the gauge resolves
        self.step: float = gauge / 10**self.decimals
        self.ticks = [(one - whole[0]) // gauge for one in whole]
        self.rests = self._rests()
        own = self.expected != self.nominal
        self.alone = (
            [value - near for value, near in zip(self.values, self.nominal, strict=True)]
            if own
            else self.rests
        )

    def _rests(self) -> list[float]:
        """What is left of each reading without what is expected, and without what its depth has in
        common.
        """
        rests = [value - near for value, near in zip(self.values, self.expected, strict=True)]
        levels = [place.row.rpartition(".")[2] if "." in place.row else "" for place in self.places]
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
        row, own = self.places[number].row, _beyond(self.rests, number)
        for other in self.beside:
            same = [place.row for place in other.places]
            if row in same and len(same) >= 4 and _beyond(other.rests, same.index(row)) > own / 4:
                return False
        return True

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


def _ends(rests: list[float], number: int) -> tuple[float, float]:
    others = rests[:number] + rests[number + 1 :]
    return min(others), max(others)


def _beyond(rests: list[float], number: int) -> float:
    low, high = _ends(rests, number)
    return max(low - rests[number], rests[number] - high, 0.0)


def series_of(layout: Layout, typed: Mapping[str, float | str]) -> list[ReadingSeries]:
    """Every column of sizes that has readings, in the order of the book."""
    gathered: dict[tuple[str, str, str], list[tuple[Place, float, float, float]]] = {}
    for place in layout.readings():
        value, column = typed.get(place.key), place.column
        near = (
            per(column.near, place.row)
            if isinstance(column, Reading) and not column.again
            else None
        )
        if (
            type(value) is float
            and near is not None
            and place.unit in SCREW_TURNS
            and abs(value) < 1e9
        ):
            column_of = (place.key.partition(".")[0], place.key.rpartition(".")[2], place.unit)
            nominal = near.to(place.unit)
            gathered.setdefault(column_of, []).append(
                (place, value, nominal, _here(place, nominal, typed))
            )
    found: list[ReadingSeries] = []
    for (table, name, unit), each in gathered.items():
        places, values, nominal, expected = (list(part) for part in zip(*each, strict=True))
        found.append(ReadingSeries(table, name, unit, places, values, nominal, expected))
    for one in found:
        one.beside = [other for other in found if other is not one and other.table == one.table]
        one.group, one.resolution = _gauge(layout, one, typed)
    return found


def _gauge(
    layout: Layout, series: ReadingSeries, typed: Mapping[str, float | str]
) -> tuple[str, float | None]:
    """The group of instruments a column is read with, and what its gauge resolves where that is
    stated in its unit.
    """
    column = series.places[0].column
    group = column.group if isinstance(column, Reading) else None
    step = resolution(layout, group, typed)
    in_its_unit = group is not None and layout.unit_of(group) == series.unit
    return group or "", step if in_its_unit and step else None


def resolution(layout: Layout, group: str | None, typed: Mapping[str, float | str]) -> float:
    """What the gauge of a group resolves, zero where that is not stated as a number above it."""
    step = layout.stations.instruments.gauges.resolution.held_in(typed, group or "")
    return step if type(step) is float and step > 0 else 0.0


def repeats(key: str) -> str:
    """The key of the reading that a second reading repeats, "" for a first reading.

    >>> repeats("bores.1.top.thrust_again"), repeats("bores.1.top.thrust")
    ('bores.1.top.thrust', '')
    """
    return key.removesuffix("_again") if key.endswith("_again") else ""


def _here(place: Place, nominal: float, typed: Mapping[str, float | str]) -> float:
    """What is expected at one place: where its own bore was read, the least size read there, else
    the nominal size.
    """
    if not place.row:  # a line of a form is about no bore
        return nominal
    stem = place.key.rpartition(".")[0].replace(".", "s.", 1) + "."
    own = [value for key, value in typed.items() if key.startswith(stem) and type(value) is float]
    return min(own, default=nominal)


def decimals_of(value: float) -> int:
    """How many places a number was typed with: of 15 digits, so that a program's spelling does not
    count.
    """
    return min(6, len(f"{value:.10f}".rstrip("0").partition(".")[2]))
