"""Composition: every station of a book, each given the stations it reads.

The flow of the data on one page: what a station is handed here is all that it can ask for, and a
station of which the spec says nothing is None.
"""

from __future__ import annotations

from functools import partial

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Table
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.parts import PartsMeasured
from datumbook.stations.decided.plan import PlanOfCuts
from datumbook.stations.decided.resources import Resources
from datumbook.stations.finished.bore_fits import CylinderFits
from datumbook.stations.finished.crowns import Crowns
from datumbook.stations.finished.finished import FinishedBlock
from datumbook.stations.finished.fits import Fits
from datumbook.stations.finished.release import Release
from datumbook.stations.finished.running_fits import RunningFits
from datumbook.stations.holes.hole_work import HoleWork
from datumbook.stations.received.bores import FinishedBores, ReceivedBores
from datumbook.stations.received.cam import CamCentre, cam_bores
from datumbook.stations.received.dry_liners import DryLiners
from datumbook.stations.received.face_grid import Doubt
from datumbook.stations.received.faces import Faces
from datumbook.stations.received.heights import BlockHeights
from datumbook.stations.received.identity import BlockIdentity
from datumbook.stations.received.instruments import Instruments
from datumbook.stations.received.job import DecisionRule, JobRecord
from datumbook.stations.received.lands import BoreRows
from datumbook.stations.received.liners import LinerStandOuts
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.plugs import Fitting, PlugsOut
from datumbook.stations.received.proofs import FirstTests, PressureTest
from datumbook.stations.received.route import Route
from datumbook.stations.received.small_bores import core_holes, dowels, tappet_bores
from datumbook.stations.received.states import FINISHED
from datumbook.stations.received.tunnels import MainTunnels
from datumbook.stations.received.walls import BoreWalls, FinishedWalls


class Stations:
    """The stations of one engine's book, from its spec and job alone.

    Release and job record gather from the placed stations and come last, by `lay_out`.
    """

    release: Release
    job: JobRecord

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
            FinishedBores(basis, self.route, self.bores, self.bore_plan.decided)
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
        received = partial(Measured, basis, self.route)
        finished = partial(Measured, basis, self.route, state=FINISHED)
        self.identity = BlockIdentity(spec.identity) if spec.identity else None
        self.plugs = PlugsOut(spec.gallery_plugs) if spec.gallery_plugs else None
        self.proofs = FirstTests(spec.proofs) if spec.proofs else None
        self.tunnels = MainTunnels(received("tunnels"), spec.tunnels) if spec.tunnels else None
        self.finished_tunnels = (
            MainTunnels(finished("tunnels"), spec.tunnels, self.tunnels)
            if spec.tunnels and finished("tunnels").again
            else None
        )
        self.cam_bores = cam_bores(received("cam_tunnel"), spec.cam) if spec.cam else None
        self.finished_cam_bores = (
            cam_bores(finished("cam_tunnel"), spec.cam, self.cam_bores)
            if spec.cam and finished("cam_tunnel").again
            else None
        )
        self.cam_centre = CamCentre(received("cam_centre"), spec.cam) if spec.cam else None
        self.finished_cam_centre = (
            CamCentre(finished("cam_centre"), spec.cam, self.cam_centre)
            if spec.cam and finished("cam_centre").again
            else None
        )
        self.tappet_bores = (
            tappet_bores(received("tappet_bores"), spec.tappet_bores) if spec.tappet_bores else None
        )
        self.finished_tappet_bores = (
            tappet_bores(finished("tappet_bores"), spec.tappet_bores, self.tappet_bores)
            if spec.tappet_bores and finished("tappet_bores").again
            else None
        )
        self.dowels = dowels(received("dowels"), spec.dowels) if spec.dowels else None
        self.finished_dowels = (
            dowels(finished("dowels"), spec.dowels, self.dowels)
            if spec.dowels and finished("dowels").again
            else None
        )
        self.core_holes = core_holes(basis, spec.core_plugs) if spec.core_plugs else None
        self.parts = PartsMeasured(basis, spec.parts) if spec.parts else None
        self.second_test = (
            PressureTest(self.proofs.spec, self.proofs.pressure)
            if self.proofs and spec.finished
            else None
        )
        self.fitting = (
            Fitting(basis, self.second_test, self.core_holes, self.plugs) if spec.finished else None
        )
        self.heights = BlockHeights(basis, self.route)
        doubt = Doubt(self.instruments, self.rule)
        self.faces = Faces(basis, self.route, doubt) if spec.flatness or spec.squareness else None
        self.finished_faces = (
            Faces(basis, self.route, doubt, self.faces) if self.faces and spec.finished else None
        )
        self.cuts = Cuts(basis, self.heights)
        if self.liners:
            self.liners.cut_as(self.cuts.deck_cuts())
        self.knock_on = KnockOn(
            basis, self.bores, self.bore_plan, self.heights, self.cuts, self.cam_centre
        )
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
                self.tunnels,
            ),
        )
        self.finished = (
            FinishedBlock(basis, self.route, self.cuts, self.finished_bores, self.heights)
            if self.finished_bores
            else None
        )
        self.holes = HoleWork(basis, self.route, self.cuts) if spec.holes else None
        self.fits = self._fits(self.parts) if self.parts else None

    def _fits(self, parts: PartsMeasured) -> Fits:
        """Every part in its place: the bores as decided, the rest as received, all as finished
        where that is read.
        """
        bores = CylinderFits(parts, self.bores, self.bore_plan.decided, self.finished_bores)
        running = RunningFits(
            parts,
            (self.tunnels, self.finished_tunnels),
            (self.cam_bores, self.finished_cam_bores),
            (self.tappet_bores, self.finished_tappet_bores),
        )
        return Fits(bores, running, Crowns(parts, bores.size, self.cuts, self.finished))

    def small_bores(self) -> list[Table]:
        """The small bores as received, those that the spec describes."""
        return [one for one in (self.tappet_bores, self.dowels, self.core_holes) if one]
