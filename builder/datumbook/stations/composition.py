"""Composition: every station of a book, each given the stations it reads.

The flow of the data on one page: what a station is handed here is all that it can ask for, and a
station of which the spec says nothing is None.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.stations.received.bores import FinishedBores, ReceivedBores
from datumbook.stations.received.instruments import Instruments
from datumbook.stations.received.job import DecisionRule
from datumbook.stations.received.route import Route


class Stations:
    """The stations of one engine's book, from its spec and job alone."""

    def __init__(self, basis: Basis) -> None:
        spec = basis.spec
        self.rule = DecisionRule(basis)
        self.instruments = Instruments(basis)
        self.route = Route(basis)
        self.bores = ReceivedBores(basis, self.route)
        self.finished_bores = (
            FinishedBores(basis, self.route, self.bores, "bore_plan.{row}.finish_bore")
            if spec.finished
            else None
        )
