"""Heights: the block as received, bank by bank, and what may still come off."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column
from datumbook.cells.tables import Form, Line, Sheet, SheetPart
from datumbook.equations import heights
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import limit
from datumbook.spec.block import Bank
from datumbook.spec.limits import Band
from datumbook.stations.received.deck_heights import DeckHeights
from datumbook.stations.received.features import drawn
from datumbook.stations.received.height_forms import OverCorners
from datumbook.stations.received.mandrel import MandrelSeat
from datumbook.stations.received.route import Route


class HeightLedger(Form):
    """What has gone of the heights, and what is left down to the least the spec states."""

    overall_standard: Column
    overall_least: Column | None
    overall_removable: Column | None
    deck_standard: Column
    deck_least: Column | None
    deck_removable: Column | None


class ReceivedHeights(DeckHeights):
    """The heights of one bank as received, with the ledger of the metal gone and left."""

    def __init__(self, basis: Basis, route: Route, bank: Bank) -> None:
        super().__init__(basis, route, bank)
        spec = self.spec
        # overall and deck height keep separate ledgers: a cut bottom face is no lost deck
        self.ledger = HeightLedger(
            key=self.named("ledger"),
            title=self.title("Height ledger"),
            lines=[
                *self._spent("overall height", spec.overall, self.overall, self._least_overall()),
                *self._spent("deck height", spec.deck, self.deck, self._least_deck()),
            ],
            note="What may still come off is worked out from the lowest corner.",
        )

    def parts(self) -> Iterator[SheetPart]:
        """The parts of the sheet that are about this bank."""
        corners, *rest = self.measured()
        yield from (corners, self.picture(), *rest, self.ledger)

    def _least_overall(self) -> list[Line]:
        least = self.spec.overall_limit
        return (
            [self.given("overall_least", "Least overall height", least.low, least.source)]
            if least and least.low
            else []
        )

    def _least_deck(self) -> list[Line]:
        least = self.spec.deck_clearance
        if least.low is None:
            return []
        return [
            self.given("least_clearance", "Least deck clearance", least.low, least.source),
            self.line(
                "deck_least",
                "Deck height that leaves it",
                heights.least_deck_height,
                piston_stack=self.stack.piston_stack,
            ),
        ]

    def _spent(
        self, words: str, standard: Band | None, height: OverCorners | None, least: list[Line]
    ) -> list[Line]:
        """What has gone of a height, and what is left of it down to the last of `least`."""
        if height is None:
            return []
        name, zero = words.split()[0], read_quantity(f"0 {self.unit}")
        none_left = limit("nothing may be left to take", low=zero)
        given = self.given(
            f"{name}_standard", f"Standard {words}", drawn(standard) if standard else None
        )
        return [
            given,
            self.line(
                f"{name}_removed",
                f"Taken from {words} so far (mean)",
                heights.metal_removed,
                standard_height=given.column,
                height=height.mean_height,
            ),
            *least,
            *[
                self.line(
                    f"{name}_removable",
                    f"May still come off {words} (lowest corner)",
                    heights.metal_removable,
                    none_left if height is self.overall else None,
                    "" if height is self.overall else "held as the deck clearance",
                    height=height.lowest_corner,
                    least_height=one.column,
                )
                for one in least[-1:]
            ],
        ]


class BlockHeights:
    """The heights of every bank as received, by the bank's key."""

    def __init__(self, basis: Basis, route: Route, mandrel: MandrelSeat | None) -> None:
        self.mandrel = mandrel
        self.banks = {one.key: ReceivedHeights(basis, route, one) for one in basis.spec.rows}

    def sheet(self) -> Sheet:
        """The sheet of the heights as received, bank by bank."""
        return Sheet(
            name="Heights",
            title="Heights and the metal left",
            parts=[
                *(part for bank in self.banks.values() for part in bank.parts()),
                *([self.mandrel] if self.mandrel else []),
            ],
            widths={7: 46},
        )
