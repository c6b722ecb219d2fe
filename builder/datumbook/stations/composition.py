"""Composition: every station of a book, each given the stations it reads.

The flow of the data on one page: what a station is handed here is all that it can ask for, and a
station of which the spec says nothing is None.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Input
from datumbook.cells.handles import Key
from datumbook.cells.tables import Sheet, Table
from datumbook.stations.decided.banks_off_line import banks_off_line
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts, seat_leanings
from datumbook.stations.decided.forecasts import forecasts
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.line_boring import LineBoring
from datumbook.stations.decided.parts import PartsMeasured
from datumbook.stations.decided.piston_stacks import piston_stacks
from datumbook.stations.decided.plan import plan_of_cuts, workings_of_plan
from datumbook.stations.decided.resources import Bored, Faced, Resources
from datumbook.stations.decided.stood_on import faces_stood_on
from datumbook.stations.decided.work_off import WorkOff
from datumbook.stations.finished.bore_fits import CylinderFits
from datumbook.stations.finished.crowns import Crowns
from datumbook.stations.finished.finished import FinishedBlock
from datumbook.stations.finished.fits import Fits
from datumbook.stations.finished.release import Release
from datumbook.stations.finished.running_fits import RunningFits
from datumbook.stations.holes.decided import holes_decided
from datumbook.stations.holes.hole_work import HoleWork
from datumbook.stations.named.every_named import NamedStations
from datumbook.stations.received.assembly import Assembly
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
        self.route = Route(basis, Assembly(basis, self.instruments.warmth))
        self.identity = block_identity(spec.identity) if spec.identity else None
        self.plugs = PlugsOut(spec.gallery_plugs) if spec.gallery_plugs else None
        self.proofs = FirstTests(spec.proofs) if spec.proofs else None
        self.dry_liners = DryLiners(basis, spec.dry_liners) if spec.dry_liners else None
        self.bored = self._bored() if basis.has("bores") else None
        self.finished_bores = self._finished_bores(self.bored) if self.bored else None
        self.walls = self._walls(self.bored) if self.bored else None
        self.finished_walls = (
            finished_walls(self.walls, self.finished_bores)
            if self.walls and self.finished_bores and self.route.spoilers("bores")
            else None
        )
        self._features()
        self.parts = PartsMeasured(basis, spec.parts) if spec.parts else None
        self.work = WorkOff(basis)
        self.faced = self._faced() if basis.has("heights") else None
        self._answer_cuts()
        self.stood_on = faces_stood_on(basis, self.cuts, self.faces) if self.cuts else []
        self.budget = MetalBudget(
            basis, Resources(basis, self.bored, self.walls, self.faced, self.tunnels)
        )
        self.finished = self._finished()
        self.plan, self.workings = self._plan(), self._workings()
        self.holes = self._holes() if spec.holes else None
        self.fits = self._fits(self.parts) if self.parts else None
        self._answer_plan()
        self.named = NamedStations(self)

    def _holes(self) -> HoleWork:
        """The hole work, with the cards of other work behind its own."""
        heat = self.dry_liners.heat if self.dry_liners else None
        cards = [heat.card()] if heat and self.basis.does("dry_liners") else []
        return HoleWork(self.basis, self.route, self.cuts, cards)

    def _bored(self) -> Bored:
        """The bores, and how they are bored. That goes round: the plan starts from where the
        centres stand and from the holes of the liners, and what it decides comes back to bores,
        lands and liners.
        """
        basis, spec = self.basis, self.basis.spec
        bores = ReceivedBores(basis, self.route)
        lands = BoreRows(basis, bores) if spec.lands else None
        plan = BorePlan(basis, bores, lands, self.dry_liners)
        if spec.bored and lands:
            lands.bored_as(plan.each.finish_bore, plan.each.offset)
        if plan.beside:
            bores.counted = plan.beside.clean_up
        return Bored(bores, lands, plan)

    def _walls(self, bored: Bored) -> BoreWalls | None:
        """The walls, and what boring leaves of them, which dry liners start from."""
        each, spec = bored.boring.each, self.basis.spec.walls
        walls = BoreWalls(self.basis, spec, bored.bores, bored.boring) if spec else None
        if self.dry_liners:
            left = walls.left() if walls else []
            self.dry_liners.bored_as(each.liner, each.finish_bore, left)
        return walls

    def _finished_bores(self, bored: Bored) -> FinishedBores | None:
        """The bores as finished, where work moves them or liners are renewed."""
        renewed = self.basis.has("liners") and bored.boring.decided is None
        if not self.basis.spec.finished or not (renewed or self.route.spoilers("bores")):
            return None
        return FinishedBores(self.basis, self.route, bored.bores, bored.boring.decided)

    def _features(self) -> None:
        """What is measured in one state or two, each where the spec describes it."""
        basis, spec, states = self.basis, self.basis.spec, self.states
        self.liners, self.finished_liners = states(
            LinerStandOuts, None if self.dry_liners else spec.liners, "stand_out"
        )
        self.tunnels, self.finished_tunnels = states(MainTunnels, spec.tunnels, "tunnels")
        self.cam_bores, self.finished_cam_bores = states(cam_bores, spec.cam, "cam_tunnel")
        self.cam_centre, self.finished_cam_centre = states(CamCentre, spec.cam, "cam_centre")
        self.tappet_bores, self.finished_tappet_bores = states(
            tappet_bores, spec.tappet_bores, "tappet_bores"
        )
        self.dowels, self.finished_dowels = states(dowels, spec.dowels, "dowels")
        self.core_holes = core_holes(basis, spec.core_plugs) if spec.core_plugs else None
        proved = spec.proofs and spec.finished and basis.does("pressure_test")
        second_test = pressure_test(spec.proofs, FINISHED) if spec.proofs and proved else ()
        answer(second_test, self.proofs.pressure if self.proofs and proved else ())
        fitted = spec.finished and basis.does("fit")
        self.fitting = (
            Fitting(
                basis,
                second_test,
                self.core_holes if fitted else None,
                self.plugs if fitted else None,
            )
            if spec.finished
            else None
        )
        self.doubt = doubt = Doubt(self.instruments, self.rule)
        self.faces = Faces(basis, self.route, doubt) if spec.flatness or spec.squareness else None
        self.finished_faces = (
            Faces(basis, self.route, doubt, self.faces) if self.faces and spec.finished else None
        )

    def _mandrel(self, tunnels: MainTunnels | None) -> MandrelSeat | None:
        """Where the mandrel lies in the tunnels, where it does not fill them."""
        spec = self.basis.spec.tunnels
        return MandrelSeat(tunnels, spec.mandrel) if tunnels and spec and spec.mandrel else None

    def bore_of(self, number: str) -> Input:
        """The bore of a cylinder under its deck: as decided, as read, or as drawn where this job
        does not measure it.
        """
        if self.bored is None:
            return self.basis.spec.bores.standard.low
        return (self.bored.boring.decided or self.bored.bores.each.largest_size)[number]

    def _faced(self) -> Faced:
        """The heights, what is to come off the faces and the tunnels, and what follows from it."""
        heights = BlockHeights(self.basis, self.route, self._mandrel(self.tunnels))
        boring = LineBoring(self.basis, self.tunnels, self.work)
        stacks = piston_stacks(self.basis, self.parts)
        faces, bore = self.faces, self.bore_of
        cuts = Cuts(self.basis, heights, boring, self.work, faces, stacks, bore)
        bored = self.bored
        knock_on = KnockOn(
            self.basis,
            bored.bores if bored else None,
            bored.boring if bored else None,
            cuts,
            self.cam_centre,
            self.parts,
        )
        return Faced(heights, cuts, knock_on, stacks)

    def _answer_cuts(self) -> None:
        """What the cuts leave to the features they move, and what answers their forecasts."""
        if self.cuts is None:
            return
        boring = self.cuts.line_boring
        if self.finished_tunnels and boring.each:
            self.finished_tunnels.each.takes_over("smallest_size", boring.each.least_metal)
            if judged := boring.judged:
                self.finished_tunnels.each.takes_over("smallest_size", judged.bored_to.key)
        if self.liners:
            self.liners.cut_as(self.cuts.metal_off())
        each, caps = boring.each, self.tunnels.caps if self.tunnels else None
        if self.basis.scope.cuts and each and caps and each.cap_left:
            each.takes_over("cap_left", caps.height)
        if self.basis.scope.cuts and self.heights and (corners := self.cuts.at_corners):
            for bank in self.heights.banks.values():
                if found := bank.ledger.overall_removable:
                    corners.takes_over("overall", found.key)

    def _finished(self) -> FinishedBlock | None:
        if not self.basis.spec.finished:
            return None
        return FinishedBlock(
            self.basis,
            self.route,
            self.finished_bores,
            self.faced if self.faced and self.route.spoilers("heights") else None,
            self._mandrel(self.finished_tunnels),
            self.bore_of,
        )

    @property
    def bores(self) -> ReceivedBores | None:
        """The bores as received."""
        return self.bored.bores if self.bored else None

    @property
    def lands(self) -> BoreRows | None:
        """The rows of bores, and the lands between them."""
        return self.bored.rows if self.bored else None

    @property
    def bore_plan(self) -> BorePlan | None:
        """How the bores are bored."""
        return self.bored.boring if self.bored else None

    @property
    def heights(self) -> BlockHeights | None:
        """The heights as received."""
        return self.faced.heights if self.faced else None

    @property
    def cuts(self) -> Cuts | None:
        """What is to come off the faces and the tunnels."""
        return self.faced.cuts if self.faced else None

    @property
    def knock_on(self) -> KnockOn | None:
        """What the cuts do to compression, squish and cam drive."""
        return self.faced.knock_on if self.faced else None

    def _plan(self) -> Sheet | None:
        """The sheet on which cuts and boring are decided; None where neither is thought of."""
        further = [one.form for one in self.stood_on]
        if self.cuts:
            further = banks_off_line(self.basis, self.cuts.line_boring) + further
        return plan_of_cuts(self.cuts, self.bore_plan, further, self.budget)

    def _workings(self) -> Sheet | None:
        """The sheet of what the plan is worked out from."""
        rests = forecasts(self.basis, lambda station: self.job.way.left_of(station))
        crowns = (one.crowns for one in self.stood_on)
        leanings = seat_leanings(self.finished.mandrel if self.finished else None)
        return workings_of_plan(self.work, self.faced, [*crowns, *leanings], self.bore_plan, rests)

    def _fits(self, parts: PartsMeasured) -> Fits:
        """Every part in its place: the bores as decided, the rest as received, all as finished
        where that is read.
        """
        assert self.bored is not None  # bores and heights come along with the fits
        assert self.faced is not None
        found, decided = self.bored.bores, self.bored.boring.decided
        bores = CylinderFits(parts, found, decided, self.finished_bores)
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
                parts,
                bores.size,
                self.faced.stacks,
                self.faced.cuts,
                self.faced.knock_on.combustion,
                self.finished,
            ),
        )

    def _answer_plan(self) -> None:
        """Once the finished features are read, what was planned of them no longer holds."""
        cam = self.finished_cam_centre
        if self.finished_bores and (widest := self.finished_bores.widest):
            widest.takes_over("widest", *self.budget.to_spare("bore"))
        for stood in self.stood_on:
            if self.finished and self.cuts and self.finished.heights:
                again, rocking = self.finished.heights[0], stood.answered_by_heights()
                if stood.cut is self.cuts.bottom and again.whole_block:
                    again.whole_block.takes_over("bottom_twist", *rocking)
                else:
                    again.deck.takes_over("twist", *rocking)
        drive = self.knock_on.cam_drive if self.knock_on else None
        if cam and cam.nearer and drive and drive.centre_after:
            cam.nearer.takes_over("nearer", drive.centre_after.key)

    def states(
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

    def said(self) -> dict[Key, str]:
        """What the job says into the cells of its book before anybody types; SpecFaults where it
        names holes, threads or drills that are not there.
        """
        return {**self.job.said(), **holes_decided(self.basis.job, self.holes)}

    def small_bores(self) -> list[Table]:
        """The small bores as received, those that the spec describes."""
        return [one for one in (self.tappet_bores, self.dowels, self.core_holes) if one]
