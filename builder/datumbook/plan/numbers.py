"""The numbers of a validated book, as a plan asks for them: what is missing is noted, limits come
with both their ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from datumbook.cells.handles import Key
from datumbook.numbers.printing import Printer
from datumbook.numbers.units import convert
from datumbook.optimise.least_metal import CutSizes, End, SizeLimit
from datumbook.plan.words import Unknown
from datumbook.stations.composition import Stations
from datumbook.workbook.flow import upstream
from datumbook.workbook.layout import CheckPlan, Layout


@dataclass
class Numbers:
    """One book: its layout, its values, and what could not be worked out for want of readings."""

    layout: Layout
    values: Mapping[str, object]
    unknown: list[Unknown] = field(default_factory=list)

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
        above = {*keys, *(one for key in keys for one in upstream(self.layout, key))}
        missing = [
            one.label
            for one in self.layout.wanted()
            if one.key in above and self.number(one.key) is None
        ]
        self.unknown.append(Unknown(name, tuple(missing)))
        return []

    def held(
        self, name: str, change: CutSizes, before: float, check: Key, doubted: Key | None = None
    ) -> Iterator[SizeLimit]:
        """One limit for each end of what the book holds a check against; the uncertainty is that
        of the check, or of `doubted`.
        """
        doubt = self.number(self.stations.release.checks.uncertainty.find(doubted or check))
        ends: tuple[End, ...] = ("low", "high")
        for end in ends:
            if (bound := self.end(check, end)) is not None:
                source = self.checks[check].source
                yield SizeLimit(name, change, before, end, bound, source, doubt or 0.0)

    def turned(self, size: float, key: Key, group: str) -> float:
        """A size in the unit of its cell, in that of a group."""
        return convert(size, self.layout.place(key).unit or "", self.layout.unit_of(group))
