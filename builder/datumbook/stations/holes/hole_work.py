"""Hole work: the stations of the holes, each given those it reads."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Sheet
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.fasteners import Fasteners
from datumbook.stations.holes.hole_groups import Groups, Steps
from datumbook.stations.holes.hole_map import HoleMap
from datumbook.stations.holes.hole_metal import HoleMetal
from datumbook.stations.holes.holes import Holes
from datumbook.stations.holes.schedule import Schedule
from datumbook.stations.holes.stop_cards import Cards
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.threads import Threads
from datumbook.stations.holes.tools import Tools
from datumbook.stations.received.route import Route


class HoleWork:
    """All that a book says of its groups of holes."""

    def __init__(self, basis: Basis, route: Route, cuts: Cuts | None) -> None:
        groups = Groups(basis, cuts)
        self.steps, allowed = Steps(groups), MetalAllowances(basis)
        self.threads = Threads(groups, allowed)
        holes = self.threads.holes
        self.fasteners = Fasteners(groups, holes)
        self.map = HoleMap(groups)
        self.metal = HoleMetal(groups, allowed, holes, self.fasteners.stripping, self.map)
        self.fasteners.stripping.held_over(self.metal.reach.engaged_length)
        self.tools = Tools(self.steps)
        self.stops = Stops(self.steps, holes, self.tools)
        self.schedule = Schedule(self.steps, self.stops)
        self.cards = Cards(self.steps, self.tools, self.stops)
        self.holes = Holes(groups, route, self.stops, self.metal.reach)
        self.map.holes = self.holes

    def sheets(self) -> Iterator[Sheet]:
        """The sheets of the hole work, in the order it is done."""
        yield self.threads.sheet()
        yield self.fasteners.sheet()
        yield self.metal.sheet()
        yield self.schedule.sheet()
        yield self.tools.sheet()
        if self.steps.cuts:
            yield self.stops.sheet()
            yield self.cards.sheet()
        yield self.holes.sheet()
        if self.map.faces:
            yield self.map.sheet()
