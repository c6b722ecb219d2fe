"""Composition: every station of a book, each given the stations it reads.

The flow of the data on one page: what a station is handed here is all that it can ask for, and a
station of which the spec says nothing is None.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.plan import PlanOfCuts
from datumbook.stations.decided.resources import Resources
from datumbook.stations.finished.finished import FinishedBlock
from datumbook.stations.holes.hole_work import HoleWork
from datumbook.stations.received.bores import FinishedBores, ReceivedBores
from datumbook.stations.received.dry_liners import DryLiners
from datumbook.stations.received.face_grid import Doubt
from datumbook.stations.received.faces import Faces
from datumbook.stations.received.heights import BlockHeights
from datumbook.stations.received.instruments import Instruments
from datumbook.stations.received.job import DecisionRule
from datumbook.stations.received.lands import BoreRows
from datumbook.stations.received.liners import LinerStandOuts
from datumbook.stations.received.route import Route
from datumbook.stations.received.walls import BoreWalls, FinishedWalls


class Stations:
    """The stations of one engine's book, from its spec and job alone."""

    def __init__(self, basis: Basis) -> None:
        spec = basis.spec
        self.rule = DecisionRule(basis)
        self.instruments = Instruments(basis)
        self.route = Route(basis)
        self.bores = ReceivedBores(basis, self.route)
        # Boring goes round: the plan starts from where the centres stand and from the holes of the
        # liners, and what it decides comes back to lands and liners.
        dry = spec.dry_liners
        self.lands = BoreRows(basis, self.bores)
        self.dry_liners = DryLiners(basis, dry) if dry else None
        self.bore_plan = BorePlan(basis, self.bores, self.lands, self.dry_liners)
        self.walls = (
            BoreWalls(basis, spec.walls, self.bores, self.bore_plan) if spec.walls else None
        )
        bored = self.bore_plan.each
        if spec.bored:
            self.lands.bored_as(bored.finish_bore, bored.offset)
        if self.dry_liners:
            walls_left = self.walls.left() if self.walls else []
            self.dry_liners.bored_as(bored.liner, bored.finish_bore, walls_left)
        self.finished_bores = (
            FinishedBores(basis, self.route, self.bores, bored.finish_bore if spec.bored else None)
            if spec.finished
            else None
        )
        self.finished_walls = (
            FinishedWalls(self.walls, self.finished_bores)
            if self.walls and self.finished_bores and self.route.spoilers("bores")
            else None
        )
        self.liners = (
            LinerStandOuts(basis, self.route, spec.liners) if spec.liners and not dry else None
        )
        self.finished_liners = (
            LinerStandOuts(basis, self.route, spec.liners, self.liners)
            if spec.liners and self.liners and self.liners.measured.again
            else None
        )
        self.heights = BlockHeights(basis, self.route)
        doubt = Doubt(self.instruments, self.rule)
        self.faces = Faces(basis, self.route, doubt) if spec.flatness or spec.squareness else None
        self.finished_faces = (
            Faces(basis, self.route, doubt, self.faces) if self.faces and spec.finished else None
        )
        self.cuts = Cuts(basis, self.heights)
        self.knock_on = KnockOn(basis, self.bores, self.bore_plan, self.heights, self.cuts)
        self.plan = PlanOfCuts(self.cuts, self.bore_plan, self.knock_on)
        self.budget = MetalBudget(
            basis,
            Resources(
                basis,
                self.bores,
                self.lands,
                self.bore_plan,
                self.walls,
                self.heights,
                self.cuts,
                self.knock_on,
            ),
        )
        self.finished = (
            FinishedBlock(basis, self.route, self.cuts, self.finished_bores, self.heights)
            if self.finished_bores
            else None
        )
        self.holes = HoleWork(basis, self.route) if spec.holes else None
