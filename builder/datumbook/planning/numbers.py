"""The numbers of a validated book, as a plan asks for them: what is missing is noted, limits come
with both their ends.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from datumbook.cells.columns import Sensitivity, Uncertainty
from datumbook.cells.handles import Key
from datumbook.numbers.printing import Printer
from datumbook.numbers.units import convert
from datumbook.optimise.least_metal import End
from datumbook.planning.words import Unknown
from datumbook.stations.composition import Stations
from datumbook.workbook.evaluation import AsTyped
from datumbook.workbook.flow import downstream, upstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan, Place


@dataclass
class Numbers:
    """One book: its layout, its values, and what could not be worked out for want of readings."""

    layout: Layout
    values: Mapping[str, object]
    unknown: list[Unknown] = field(default_factory=list)
    turns: dict[tuple[Key, Key], tuple[float, bool] | None] = field(default_factory=dict)
    """Of a cell and a check, where the limit turns (margins.py)."""

    @property
    def stations(self) -> Stations:
        """The stations of the book."""
        return self.layout.stations

    @cached_property
    def checks(self) -> Mapping[str, CheckPlan]:
        """The checks of the book, each by the key of what it holds."""
        return {check.key: check for check in self.layout.checks}

    def number(self, key: Key | None) -> float | None:
        """The number a cell holds; None where it holds none."""
        found = self.values.get(key or "")
        return found if isinstance(found, float) else None

    def words(self, key: Key) -> str:
        """The words that a cell holds, "" where it holds none."""
        found = self.values.get(key)
        return found if isinstance(found, str) else ""

    def verdict(self, check: Key) -> str:
        """The verdict on what is checked."""
        return self.words(self.checks[check].verdict)

    def uncertainty(self, check: Key) -> float:
        """What the book holds a checked number to be off by at most; nothing where it does not
        say.
        """
        return self.number(self.stations.release.checks.uncertainty.find(check)) or 0.0

    def typed(self, typed: Mapping[Key, object]) -> Numbers:
        """The same book with other intentions typed into it, worked out by its own equations."""
        readings = self.readings | {str(key): size for key, size in typed.items()}
        found = Numbers(self.layout, AsTyped(self.layout, readings, self.settled), self.unknown)
        found.readings, found.settled = readings, self.settled
        return found

    @cached_property
    def readings(self) -> dict[str, object]:
        """What is typed into the book."""
        return {place.key: self.values.get(place.key) for place in self.layout.readings()}

    @cached_property
    def decisions(self) -> list[Place]:
        """The cells of the plan's sheet in which intentions are typed."""
        sheet = self.stations.plan
        return [one for one in self.layout.readings() if sheet and one.at.sheet == sheet.name]

    @cached_property
    def settled(self) -> dict[str, Any]:
        """The values on which no intention has a bearing; uncertainties may turn with them."""
        places = self.layout.places.values()
        doubts = [place for place in places if isinstance(place.column, Uncertainty | Sensitivity)]
        moved: set[str] = {place.key for place in (*doubts, *self.decisions)}
        moved |= downstream(self.layout, moved)
        return {key: value for key, value in self.values.items() if key not in moved}

    def end(self, check: Key, which: End) -> float | None:
        """One end of what the book holds a check against; None where it has none."""
        held = self.checks.get(check)
        return None if held is None else self.number(getattr(held, which))

    def measure(self, group: str) -> Printer:
        """How sizes of a group are written."""
        return Printer(self.layout.unit_of(group), self.layout.decimals_of(group))

    def known(self, name: str, *keys: Key) -> list[float]:
        """The numbers of these keys; empty, with the missing readings noted, unless all are
        there.
        """
        found = [number for key in keys if (number := self.number(key)) is not None]
        if len(found) == len(keys):
            return found
        self.want(name, *keys)
        return []

    def want(self, name: str, *keys: Key) -> None:
        """Note what could not be worked out, with the readings that it wants."""
        above = {*keys, *(one for key in keys for one in upstream(self.layout, key))}
        missing = [
            one.label
            for one in self.layout.wanted()
            if one.key in above and self.values.get(one.key) in {None, ""}
        ]
        if (unknown := Unknown(name, tuple(missing))) not in self.unknown:
            self.unknown.append(unknown)

    def turned(self, size: float, key: Key, group: str) -> float:
        """A size in the unit of its cell, in that of a group."""
        return convert(size, self.layout.place(key).unit or "", self.layout.unit_of(group))
