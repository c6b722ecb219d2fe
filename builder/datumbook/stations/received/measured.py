"""Measured: what every feature of a block shares, in the state in which it is measured."""

from __future__ import annotations

from dataclasses import dataclass

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Spoilers
from datumbook.numbers.units import convert
from datumbook.stations.received.route import Route, spoilers_of
from datumbook.stations.received.states import RECEIVED, State


@dataclass(frozen=True)
class Measured:
    """One feature of the order of work, in one state."""

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

    def spoilers(self) -> Spoilers | None:
        """What makes this state's readings stale."""
        return self.state.stale_after(self.route, self.name)

    def signed(self, group: str) -> tuple[float, float]:
        """What an indicator can show either way: a millimetre, in the unit of a group."""
        most = convert(1.0, "mm", self.basis.unit_of(group))
        return -most, most

    def gap(self, group: str) -> tuple[float, float]:
        """What a feeler or a swept indicator can show: up to a millimetre, in a group's unit."""
        return 0.0, self.signed(group)[1]
