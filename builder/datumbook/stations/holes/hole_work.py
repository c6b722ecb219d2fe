"""Hole work: the stations of the holes, each given those it reads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Form, Sheet
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.fasteners import Fasteners
from datumbook.stations.holes.hole_groups import Groups, Steps
from datumbook.stations.holes.hole_map import HoleMap
from datumbook.stations.holes.hole_metal import HoleMetal
from datumbook.stations.holes.holes import Holes
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.schedule import Schedule
from datumbook.stations.holes.single_holes import SingleHoles
from datumbook.stations.holes.single_lines import OwnLines, SingleLines
from datumbook.stations.holes.stop_cards import Cards
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.threads import Threads
from datumbook.stations.holes.tools import Tools
from datumbook.stations.received.route import Route


class HoleWork:
    """All that a book says of its groups of holes."""

    def __init__(
        self, basis: Basis, route: Route, cuts: Cuts | None, cards: Sequence[Form] = ()
    ) -> None:
        self.groups = groups = Groups(basis, cuts)
        self.steps, allowed = Steps(groups), MetalAllowances(basis)
        self.opened = Openings(groups)
        self.threads = Threads(groups, self.opened, allowed)
        holes = self.threads.holes
        reliefs = Reliefs(groups, self.opened, allowed, holes)
        lines = [SingleLines(groups, self.opened, unit) for unit in groups.units]
        own = OwnLines(groups, lines, holes, reliefs)
        self.opened.single = self.single_lines = lines
        self.fasteners = Fasteners(groups, self.opened, holes)
        self.map = HoleMap(groups, own)
        self.metal = HoleMetal(groups, allowed, holes, reliefs, self.fasteners.stripping, self.map)
        self.fasteners.stripping.held_over(self.metal.reach.engaged_length)
        self.tools = Tools(self.steps, self.opened, holes, reliefs)
        walls, reach = self.metal.walls, self.metal.reach
        self.stops = Stops(self.steps, holes, reliefs, walls, self.tools, own)
        self.single = SingleHoles(lines, own, holes, self.metal, self.stops)
        self.schedule = Schedule(self.steps, self.opened, own, self.tools, self.stops)
        self.cards = Cards(self.steps, own, self.tools, self.stops, holes, reach, self.map, cards)
        self.holes = Holes(groups, route, own, self.stops, reach)
        self.map.gauged = self.holes.tables

    def sheets(self, *, drawn: bool) -> Iterator[Sheet]:
        """The sheets of the hole work, in the order it is done; the map where it is wanted."""
        yield self.opened.sheet()
        yield self.threads.sheet()
        yield self.fasteners.sheet()
        drawn = drawn and bool(self.map.faces)
        yield self.metal.sheet(() if drawn else self.map.places.values())
        yield self.schedule.sheet()
        yield self.tools.sheet()
        if self.steps.cuts:
            yield self.stops.sheet()
            yield self.cards.sheet()
        yield self.holes.sheet()
        # the allowances stand with the stops, and where no group has any with the single holes
        yield self.single.sheet(() if self.steps.cuts else [self.stops.allowances])
        if drawn:
            yield self.map.sheet()
