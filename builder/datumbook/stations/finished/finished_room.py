"""Finished room: how low the finished deck of one bank may lie over each bore, and the room above
each piston where no piston or rod in hand judges it.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import ByRow, Column
from datumbook.cells.tables import Form, Table, cylinder_rows
from datumbook.equations import crowns, heights
from datumbook.numbers.quantities import NO_LENGTH
from datumbook.stations.decided.deck_room import CrownRoom
from datumbook.stations.decided.deck_slopes import deck_slopes, held_at_each_end
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.finished.finished_heights import FinishedHeights


class FinishedDeck(Table):
    """The finished deck over each cylinder of a bank."""

    deck_height: Column
    lowest: Column


class FinishedRoom:
    """What the finished deck of one bank leaves above its pistons."""

    def __init__(
        self, after: FinishedHeights, planned: CrownRoom, stacks: StacksInHand, bore: ByRow
    ) -> None:
        self.after, self.planned, self.stacks = after, planned, stacks
        self.slopes = deck_slopes(
            after,
            after.state.key(after.named("deck_slopes")),
            after.title("How the deck falls over a bore"),
            after.deck,
        )
        self.heights = self._heights(bore)
        parts = after.basis.spec.parts
        self.room = None if parts and parts.crowns_in_hand else self._room()

    def parts(self) -> Iterator[Table | Form]:
        """The tables of the finished block's sheet that are about the room."""
        yield from (self.slopes, self.heights)
        if self.room is not None:
            yield self.room

    def answered_by(self, crowns: Table) -> None:
        """Once these crowns are read, neither the plan's room holds nor that under the spec's
        parts.
        """
        crowns.takes_over("deck_clearance", self.planned.deck_clearance)
        crowns.takes_over("over_middle", self.planned.over_middle)
        for name in ("deck_clearance", "over_middle"):
            crowns.takes_over(name, self.after.stack.deck_clearance.key)

    def _heights(self, bore: ByRow) -> FinishedDeck:
        after = self.after
        middle = after.over_bores("deck_height", "deck", after.at_corners("deck"))
        return FinishedDeck(
            key=after.state.key(f"crown_heights{after.bank.suffix}"),
            title=after.title("The deck over each piston"),
            heading="Cylinder",
            note="On the line between the middles of front and rear. The lowest place is half a "
            "bore down the slope.",
            rows=cylinder_rows(after.bank.cylinders),
            columns=(
                middle,
                after.sizes.result(
                    "lowest",
                    "lowest over the bore",
                    crowns.lowest_over_bore,
                    height=middle,
                    steepest_slope=self.slopes.steepest_slope,
                    bore=bore,
                    hollow_left=NO_LENGTH,  # the finished faces have limits of their own
                ),
            ),
        )

    def _room(self) -> CrownRoom:
        after, sizes = self.after, self.after.sizes
        least, middle = (
            sizes.result(
                name,
                words,
                heights.deck_clearance,
                deck_height=deck.__getitem__,
                piston_stack=self.stacks.fitted_stack.__getitem__,
            )
            for name, words, deck in (
                ("deck_clearance", "least left", self.heights.lowest),
                ("over_middle", "at middle", self.heights.deck_height),
            )
        )
        found = CrownRoom(
            key=after.state.key(f"crown{after.bank.suffix}"),
            title=after.title("Room above each piston"),
            heading="Cylinder",
            note="Below zero the crown stands proud. Least: half a bore down the slope.",
            fresh_in=after.corners.stale_with,
            rows=cylinder_rows(after.bank.cylinders),
            columns=[*held_at_each_end(least, middle, after.spec.deck_clearance)],
        )
        self.answered_by(found)
        return found
