"""Finished: the block measured again when the work on it is done."""

from __future__ import annotations

from typing import NamedTuple

from datumbook.cells.basis import Basis
from datumbook.cells.columns import ByRow, Check, Column, Result
from datumbook.cells.tables import Form, Row, Table
from datumbook.equations import standings, verdicts
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.decided.resources import Faced
from datumbook.stations.finished.finished_heights import FinishedHeights
from datumbook.stations.finished.finished_room import FinishedRoom
from datumbook.stations.received.bores import FinishedBores
from datumbook.stations.received.mandrel import MandrelSeat
from datumbook.stations.received.route import Route, operations_of


class CutDecided(NamedTuple):
    """A cut as it was decided: the operation that makes it, what says whether it is made, how much
    it is, and words of its own.
    """

    operation: str
    decided_on: Column
    size: Column
    said: str = ""

    @classmethod
    def of_face(cls, operation: str, cut: FaceCut, said: str = "") -> CutDecided:
        """The cut of a face."""
        return cls(operation, cut.form.parallel_to, cut.counted.cut_taken, said)


class FinishedBlock:
    """The finished block: the cuts made, and bores and heights measured once more."""

    def __init__(
        self,
        basis: Basis,
        route: Route,
        bores: FinishedBores | None,
        faced: Faced | None,
        mandrel: MandrelSeat | None,
        bore: ByRow,
    ) -> None:
        self.basis, self.route, self.bores = basis, route, bores
        self.mandrel = mandrel  # where it lies in the tunnels as finished, if the work moves them
        self.heights: list[FinishedHeights] = []
        self.rooms: dict[str, FinishedRoom] = {}
        self.cuts = self._cuts(faced.cuts) if faced else None
        read = [key for one in basis.cylinders() for key in bores.diameters(one)] if bores else []
        self.recorded = route.recorded(read) if read else None
        if faced is None:
            return
        lies, banks = mandrel or faced.heights.mandrel, faced.cuts.banks
        self.heights = [
            FinishedHeights(basis, route, one, banks[key], lies)
            for key, one in faced.heights.banks.items()
        ]
        over = bores.each.largest_size.__getitem__ if bores else bore
        self.rooms = {
            one.bank.key: FinishedRoom(one, banks[one.bank.key].room.crowns, faced.stacks, over)
            for one in self.heights
        }

    def height_parts(self) -> list[Table | Form]:
        """What is measured of the heights once more, and the room that leaves."""
        parts: list[Table | Form] = [self.mandrel] if self.mandrel and self.heights else []
        for bank in self.heights:
            parts += [*bank.measured(), *self.rooms[bank.bank.key].parts()]
        return parts

    def _cuts(self, cuts: Cuts) -> Table:
        """Every cut that was intended is recorded as done, or was none."""
        known, boring = operations_of(self.basis.spec), cuts.line_boring
        intended: dict[str, CutDecided] = {}
        shared = ", one line of the Route for all decks" if len(cuts.banks) > 1 else ""
        for one in cuts.banks.values():
            said = f"{one.bank.words}{shared}"
            intended[f"deck{one.bank.suffix}"] = CutDecided.of_face("deck", one.deck, said)
        if cuts.bottom is not None:
            intended["bottom_face"] = CutDecided.of_face("bottom_face", cuts.bottom)
        if boring.form and boring.counted:
            intended["line_bore"] = CutDecided(
                "line_bore", boring.form.line_bored, boring.counted.most_rise
            )
        made = {key: cut for key, cut in intended.items() if cut.operation in known}
        done = Result(
            name="made",
            words="made",
            equation=verdicts.verdict_of_cut,
            inputs={
                "decided_on": lambda row: made[row].decided_on,
                "done": lambda row: self.route.operations.done[made[row].operation],
            },
        )
        return Table(
            key="cuts",
            title="Cuts intended and made",
            heading="Cut",
            note="A cut that is still intended, be it of zero off the lowest corner or a line bore "
            "that raises nothing, holds the job up until the route says it is done.",
            rows=[
                Row(key, " ".join(part for part in (known[cut.operation].words, cut.said) if part))
                for key, cut in made.items()
            ],
            columns=(
                self.basis.sizes("heights").result(
                    "intended", "intended", standings.shown_again, value=lambda row: made[row].size
                ),
                done,
                Check(of=done, judged=True, source="the plan and the route"),
            ),
        )
