"""Composition: every station of a book, each given the stations it reads.

The flow of the data on one page: what a station is handed here is all that it can ask for, and a
station of which the spec says nothing is None.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Table
from datumbook.stations.decided.banks_off_line import banks_off_line
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts, seat_leanings
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.line_boring import LineBoring
from datumbook.stations.decided.parts import PartsMeasured
from datumbook.stations.decided.piston_stacks import piston_stacks
from datumbook.stations.decided.plan import plan_of_cuts, workings_of_plan
from datumbook.stations.decided.resources import Resources
from datumbook.stations.decided.stood_on import faces_stood_on
from datumbook.stations.decided.work_off import WorkOff
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
from datumbook.stations.received.identity import block_identity
from datumbook.stations.received.instruments import Instruments
from datumbook.stations.received.job import DecisionRule, JobRecord
from datumbook.stations.received.lands import BoreRows
from datumbook.stations.received.liners import LinerStandOuts
from datumbook.stations.received.mandrel import MandrelSeat
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.plugs import Fitting, PlugsOut
from datumbook.stations.received.proofs import FirstTests, pressure_test
from datumbook.stations.received.route import Route
from datumbook.stations.received.small_bores import core_holes, dowels, tappet_bores
from datumbook.stations.received.states import FINISHED, answer
from datumbook.stations.received.tunnels import MainTunnels
from datumbook.stations.received.walls import BoreWalls, finished_walls

S = TypeVar("S")
AnyStation = TypeVar("AnyStation")


class Stations:
    """The stations of one engine's book, from its spec and job alone.

    Release and job record gather from the placed stations and come last, by `lay_out`.
    """

    release: Release
    job: JobRecord

    def __init__(self, basis: Basis) -> None:
        self.basis, spec = basis, basis.spec
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
            self.dry_liners.bored_as(
                bored.liner, bored.finish_bore, self.walls.left() if self.walls else []
            )
        self.finished_bores = (
            FinishedBores(basis, self.route, self.bores, self.bore_plan.decided)
            if spec.finished
            else None
        )
        self.finished_walls = (
            finished_walls(self.walls, self.finished_bores)
            if self.walls and self.finished_bores and self.route.spoilers("bores")
            else None
        )
        self.identity = block_identity(spec.identity) if spec.identity else None
        self.plugs = PlugsOut(spec.gallery_plugs) if spec.gallery_plugs else None
        self.proofs = FirstTests(spec.proofs) if spec.proofs else None
        states = self._states
        self.liners, self.finished_liners = states(
            LinerStandOuts, None if dry else spec.liners, "stand_out"
        )
        self.tunnels, self.finished_tunnels = states(MainTunnels, spec.tunnels, "tunnels")
        self.cam_bores, self.finished_cam_bores = states(cam_bores, spec.cam, "cam_tunnel")
        self.cam_centre, self.finished_cam_centre = states(CamCentre, spec.cam, "cam_centre")
        self.tappet_bores, self.finished_tappet_bores = states(
            tappet_bores, spec.tappet_bores, "tappet_bores"
        )
        self.dowels, self.finished_dowels = states(dowels, spec.dowels, "dowels")
        self.core_holes = core_holes(basis, spec.core_plugs) if spec.core_plugs else None
        self.parts = PartsMeasured(basis, spec.parts) if spec.parts else None
        second_test = pressure_test(spec.proofs, FINISHED) if spec.proofs else ()
        answer(second_test, self.proofs.pressure if self.proofs and spec.finished else ())
        self.fitting = (
            Fitting(basis, second_test, self.core_holes, self.plugs) if spec.finished else None
        )
        mandrel = spec.tunnels.mandrel if spec.tunnels else None

        def lies(tunnels: MainTunnels | None) -> MandrelSeat | None:
            return MandrelSeat(tunnels, mandrel) if tunnels and mandrel else None

        self.heights = BlockHeights(basis, self.route, lies(self.tunnels))
        finished_mandrel = lies(self.finished_tunnels)
        doubt = Doubt(self.instruments, self.rule)
        self.faces = Faces(basis, self.route, doubt) if spec.flatness or spec.squareness else None
        self.finished_faces = (
            Faces(basis, self.route, doubt, self.faces) if self.faces and spec.finished else None
        )
        self.stacks = piston_stacks(basis, self.parts)
        self.cuts = Cuts(
            basis,
            self.heights,
            LineBoring(basis, self.tunnels, work := WorkOff(basis)),
            work,
            self.faces,
            self.stacks,
            self.bore_plan.decided or self.bores.each.largest_size,
        )
        if self.finished_tunnels and (metal := self.cuts.line_boring.each):
            self.finished_tunnels.each.takes_over("smallest_size", metal.least_metal)
            if judged := self.cuts.line_boring.judged:
                both = (judged.least_anywhere.key, judged.bored_to.key)
                self.finished_tunnels.each.takes_over("smallest_size", *both)
        if self.liners:
            self.liners.cut_as(self.cuts.metal_off())
        self.knock_on = KnockOn(
            basis, self.bores, self.bore_plan, self.cuts, self.cam_centre, self.parts
        )
        self.stood_on = faces_stood_on(basis, self.cuts, self.faces)
        self.workings = workings_of_plan(
            self.stacks,
            work,
            self.cuts,
            [*(one.crowns for one in self.stood_on), *seat_leanings(finished_mandrel)],
            self.bore_plan,
            self.knock_on,
        )
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
        further = banks_off_line(basis, self.cuts.line_boring) + [one.form for one in self.stood_on]
        self.plan = plan_of_cuts(self.cuts, self.bore_plan, further, self.budget)
        self.finished = (
            FinishedBlock(
                basis,
                self.route,
                self.cuts,
                self.finished_bores,
                self.heights,
                self.budget,
                finished_mandrel,
                self.stacks,
            )
            if self.finished_bores
            else None
        )
        self.holes = HoleWork(basis, self.route, self.cuts) if spec.holes else None
        self.fits = self._fits(self.parts) if self.parts else None
        self._answer_plan()

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
        return Fits(
            bores,
            running,
            Crowns(
                parts, bores.size, self.stacks, self.cuts, self.knock_on.combustion, self.finished
            ),
        )

    def _answer_plan(self) -> None:
        """Once the finished features are read, what was planned of them no longer holds."""
        spare, cam = self.budget.to_spare, self.finished_cam_centre
        if self.finished_bores and (widest := self.finished_bores.widest):
            widest.takes_over("widest", *spare("bore"))
        if self.walls and self.finished_walls:
            for side, _, _ in self.walls.sides():
                self.finished_walls.takes_over(f"left_{side}", *spare(f"wall_{side}"))
        for stood in self.stood_on:
            if self.finished:
                again, rocking = self.finished.heights[0], stood.answered_by_heights()
                if stood.cut is self.cuts.bottom and again.whole_block:
                    again.whole_block.takes_over("bottom_twist", *rocking)
                else:
                    again.deck.takes_over("twist", *rocking)
        drive = self.knock_on.cam_drive
        if cam and cam.nearer and drive and drive.centre_after:
            cam.nearer.takes_over("nearer", drive.centre_after.key, *spare("cam_centre"))

    def _states(
        self,
        make: Callable[[Measured, S, AnyStation | None], AnyStation],
        spec: S | None,
        feature: str,
    ) -> tuple[AnyStation | None, AnyStation | None]:
        """A feature as received, and as finished where an operation of this job moves it."""
        if spec is None:
            return None, None
        finished = Measured(self.basis, self.route, feature, FINISHED)
        received = make(Measured(self.basis, self.route, feature), spec, None)
        return received, make(finished, spec, received) if finished.again else None

    def small_bores(self) -> list[Table]:
        """The small bores as received, those that the spec describes."""
        return [one for one in (self.tappet_bores, self.dowels, self.core_holes) if one]
