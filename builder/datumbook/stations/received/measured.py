"""Measured: what every feature of a block shares, in the state in which it is measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column
from datumbook.cells.handles import Key, Part
from datumbook.cells.tables import Line
from datumbook.numbers.units import convert
from datumbook.spec import Limit
from datumbook.stations.received.route import Route, spoilers_of
from datumbook.stations.received.states import RECEIVED, State


@dataclass(frozen=True)
class Measured:
    """One feature of the order of work, in one state.

    A check of the finished block answers the one as received: `before` is the part that holds it.
    """

    basis: Basis
    route: Route
    name: str
    state: State = RECEIVED

    @property
    def again(self) -> bool:
        """Whether an operation of this job moves the feature, so that it is measured once more."""
        spec = self.basis.spec
        return spec.finished is not None and bool(spoilers_of(spec, self.name))

    def key(self, table: str) -> str:
        """A table's key in this state."""
        return self.state.key(table)

    def title(self, words: str) -> str:
        """A table's title; the state stands in it only where there are two."""
        return self.state.title(words) if self.again else words

    def spoilers(self) -> list[Key]:
        """The done numbers of the operations that make this state's readings stale."""
        return self.state.stale_after(self.route, self.name)

    def check(
        self,
        of: Column,
        limits: Limit,
        before: Part | None = None,
        rows: Sequence[str] | None = None,
    ) -> Check:
        """A check of a column, which answers the same column as received."""
        answers = before.column(of.name) if before else None
        return Check(of=of, limits=limits, rows=rows, answers=answers)

    def limited(
        self,
        of: Column,
        limits: Limit,
        before: Part | None = None,
        rows: Sequence[str] | None = None,
    ) -> tuple[Column, Check]:
        """A column and its check, which answers the same column as received."""
        return of, self.check(of, limits, before, rows)

    def judged(self, line: Line, limits: Limit, before: Part | None = None) -> Line:
        """A line of a form with its limits, which answers the same line as received."""
        answers = before.column(line.column.name) if before else None
        return replace(line, limits=limits, note=line.note or limits.source, answers=answers)

    def signed(self, group: str) -> tuple[float, float]:
        """What an indicator can show either way: a millimetre, in the unit of a group."""
        most = convert(1.0, "mm", self.basis.unit_of(group))
        return -most, most

    def gap(self, group: str) -> tuple[float, float]:
        """What a feeler or a swept indicator can show: up to a millimetre, in a group's unit."""
        return 0.0, self.signed(group)[1]
