"""Finished heights: the faces measured again, held to what the plan forecast of them.

Once they are read, the forecasts no longer hold the job.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column
from datumbook.cells.tables import Form, Table
from datumbook.equations import heights
from datumbook.stations.decided.cuts import BankCuts
from datumbook.stations.received.deck_heights import CORNERS, DeckHeights
from datumbook.stations.received.heights import ReceivedHeights
from datumbook.stations.received.mandrel import MandrelSeat
from datumbook.stations.received.route import Route

TILTS = ("tilt_lengthwise", "tilt_crosswise", "twist")


class WholeBlock(Form):
    """The lowest corners of the whole block, and its bottom face."""

    overall_lowest: Column
    bottom_lowest: Column
    bottom_twist: Column


class FinishedHeights(DeckHeights):
    """The heights of one bank as finished."""

    whole_block: WholeBlock | None = None

    def __init__(
        self,
        basis: Basis,
        route: Route,
        before: ReceivedHeights,
        plan: BankCuts,
        mandrel: MandrelSeat | None,
    ) -> None:
        seat = plan.seat_of(mandrel) if mandrel else ()
        super().__init__(basis, route, before.bank, before, seat)
        if self.whole:
            self.whole_block = self._whole_block()
        for name in TILTS:
            self.deck.takes_over(name, plan.room.after.column(name))
        if self.whole_block and plan.at_corners and plan.bottom_after:
            for name, each in (
                ("overall_lowest", plan.at_corners.overall),
                ("bottom_lowest", plan.at_corners.bottom),
            ):
                self.whole_block.takes_over(name, *(each[corner] for corner in CORNERS))
            self.whole_block.takes_over("bottom_twist", plan.bottom_after.bottom_twist)

    def measured(self) -> list[Table | Form]:
        """What is measured of this bank, the whole block last."""
        return [*super().measured(), *([self.whole_block] if self.whole_block else [])]

    def _whole_block(self) -> WholeBlock:
        overall, bottom = (
            [self.corners.column(name)[corner] for corner in CORNERS]
            for name in ("overall", "bottom")
        )
        return self._form(
            WholeBlock,
            "whole_block",
            "The whole block",
            self.line(
                "overall_lowest",
                "Overall height, lowest corner",
                heights.lowest_corner,
                self.spec.overall_limit,
                corners=overall,
            ),
            self.line(
                "bottom_lowest",
                "Axis to bottom face, lowest corner",
                heights.lowest_corner,
                self.spec.bottom_limit,
                corners=bottom,
            ),
            self.line(
                "bottom_twist",
                "Twist of the bottom face",
                heights.twist,
                self.limits.twist,
                **dict(zip(CORNERS, bottom, strict=True)),
            ),
        )
