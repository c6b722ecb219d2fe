"""Every named: the stations that stand in a book only where its job names them, together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Protocol

from datumbook.cells.tables import Sheet
from datumbook.stations.named.cleaning import Cleanliness
from datumbook.stations.named.registers import CapRegisters
from datumbook.stations.named.seals import RearSeals, TrueToCrank
from datumbook.stations.named.surfaces import Surfaces
from datumbook.stations.named.valves import ValveRoom

if TYPE_CHECKING:
    from datumbook.stations.composition import Stations


class HasSheet(Protocol):
    """A station with a sheet of its own."""

    def sheet(self) -> Sheet:
        """Its sheet."""


class NamedStations:
    """The stations that the job names, each None where it does not."""

    def __init__(self, at: Stations) -> None:
        basis, spec = at.basis, at.basis.spec
        faces, bore = spec.surfaces, at.bore_of("1")
        self.surfaces = Surfaces(basis, at.route, at.doubt, faces, bore) if faces else None
        washed = spec.cleaning
        self.cleaning = Cleanliness(basis, at.route, washed) if washed else None
        self.seals = self._seals(at) if spec.seals else None
        valves, cuts = spec.valve_clearances, at.cuts
        self.valves = ValveRoom(basis, valves, cuts, at.bore_of) if valves and cuts else None
        self.registers = CapRegisters(basis, spec.registers) if spec.registers else None

    def _seals(self, at: Stations) -> RearSeals:
        """Seal and housing, in as many states as the line bore makes of them."""
        received, finished = at.states(TrueToCrank, at.basis.spec.seals, "seals")
        assert received is not None  # the station stands where the spec has its section
        return RearSeals(received, finished, at.cuts.line_boring if at.cuts else None)

    def walked(self) -> Iterator[tuple[str, HasSheet | None]]:
        """Each station with its name, in the order of the walk."""
        yield "surfaces", self.surfaces
        yield "cleaning", self.cleaning
        for state in self.seals.walked() if self.seals else ():
            yield "seals", state
        yield "valve_clearances", self.valves
        yield "registers", self.registers
