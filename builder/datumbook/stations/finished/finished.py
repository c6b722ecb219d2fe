"""Finished: the block measured again when the work on it is done."""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Result
from datumbook.cells.tables import Row, Sheet, SheetPart, Table
from datumbook.equations import standings, verdicts
from datumbook.stations.decided.budget import MetalBudget
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.finished.finished_heights import FinishedHeights
from datumbook.stations.finished.finished_room import FinishedRoom
from datumbook.stations.received.bores import FinishedBores
from datumbook.stations.received.heights import BlockHeights
from datumbook.stations.received.mandrel import MandrelSeat
from datumbook.stations.received.route import Route, operations_of


class FinishedBlock:
    """The finished block: the cuts made, and bores and heights measured once more."""

    def __init__(
        self,
        basis: Basis,
        route: Route,
        cuts: Cuts,
        bores: FinishedBores,
        received: BlockHeights,
        budget: MetalBudget,
        mandrel: MandrelSeat | None,
        stacks: StacksInHand,
    ) -> None:
        self.basis, self.route, self.bores = basis, route, bores
        self.mandrel = mandrel  # where it lies in the tunnels as finished, if the work moves them
        lies = mandrel or received.mandrel
        self.heights = [
            FinishedHeights(basis, route, one, cuts.banks[key], budget, lies)
            for key, one in received.banks.items()
        ]
        bore = bores.each.largest_size
        self.rooms = {
            one.bank.key: FinishedRoom(one, cuts.banks[one.bank.key].room.crowns, stacks, bore)
            for one in self.heights
        }
        self.cuts = self._cuts(cuts)

    def sheet(self) -> Sheet:
        """The sheet of the finished block."""
        parts: list[SheetPart] = [self.cuts, *self.bores.parts()]
        parts += [self.mandrel] if self.mandrel else []
        for bank in self.heights:
            parts += [*bank.measured(), *self.rooms[bank.bank.key].parts()]
        return Sheet(name="Finished", title="The finished block", parts=parts, stage="finished")

    def _cuts(self, cuts: Cuts) -> Table:
        """Every cut that was intended is recorded as done, or was none."""
        known, intended = operations_of(self.basis.spec), dict[str, tuple[str, Column, str]]()
        for one in cuts.banks.values():
            cut = one.deck.counted.cut_taken
            intended[f"deck{one.bank.suffix}"] = ("deck", cut, one.bank.words)
        if cuts.bottom is not None:
            intended["bottom_face"] = ("bottom_face", cuts.bottom.counted.cut_taken, "")
        if (line_bore := cuts.line_boring.counted) is not None:
            intended["line_bore"] = ("line_bore", line_bore.front, "")
        made = {key: cut for key, cut in intended.items() if cut[0] in known}
        done = Result(
            name="made",
            words="made",
            equation=verdicts.verdict_of_cut,
            inputs={"done": lambda row: self.route.operations.done[made[row][0]]},
        )
        return Table(
            key="cuts",
            title="Cuts intended and made",
            heading="Cut",
            note="A cut that is still intended holds the job up until the Route sheet says it is "
            "done.",
            rows=[
                Row(key, " ".join(part for part in (known[cut].words, words) if part))
                for key, (cut, _, words) in made.items()
            ],
            columns=(
                self.basis.sizes("heights").result(
                    "intended", "intended", standings.shown_again, value=lambda row: made[row][1]
                ),
                done,
                Check(of=done, judged=True, source="the plan and the route"),
            ),
        )
