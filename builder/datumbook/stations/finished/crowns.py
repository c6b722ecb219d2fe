"""Crowns: how far below the deck each piston stops, what is left to squeeze, and how alike the
cylinders compress.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from datumbook.cells.columns import Check, Column, Given, Input, Per, Result, Sizes, limited
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Row, Table, cylinder_rows
from datumbook.equations import clearances, heights, pistons, volumes
from datumbook.equations.bores import swept_volume
from datumbook.equations.standings import shown_again
from datumbook.equations.verdicts import verdict_of_spread
from datumbook.numbers.printing import NOT_MORE
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit
from datumbook.spec.block import Bank, Combustion
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.deck_slopes import held_at_each_end
from datumbook.stations.decided.parts import GasketSizes, PartsMeasured
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.finished.finished import FinishedBlock


class PistonCrowns(Table):
    """Each piston of a bank at the top of its stroke: the least room over its bore, and over its
    middle.
    """

    deck_clearance: Column
    over_middle: Column


class Compressions(Table):
    """The compression of each cylinder of a bank."""

    compression_ratio: Column


class Crowns:
    """What follows from pistons, rods and deck, bank by bank; nothing where neither pistons nor
    rods are measured.
    """

    def __init__(
        self,
        parts: PartsMeasured,
        bore: Column,
        stacks: StacksInHand,
        cuts: Cuts,
        planned: Mapping[str, Table],
        finished: FinishedBlock | None,
    ) -> None:
        self.stacks = stacks
        self.measured, self.basis, self.spec = parts, parts.basis, parts.basis.spec
        self.bore, self.cuts, self.sizes = bore, cuts, parts.heights
        self.planned = planned  # what the plan makes of compression and squish, by the bank's key
        self.rooms = finished.rooms if finished else {}

    def parts(self) -> Iterator[Table | Form]:
        """The tables of each bank in turn, and how alike all cylinders compress."""
        parts, combustion, ratios = self.measured, self.spec.combustion, list[Input]()
        for bank in self.spec.rows if parts.spec.crowns_in_hand else ():
            yield (stack := self._stack(bank))
            if combustion:
                yield (table := self._compression(combustion, bank, stack))
                ratios += (table.compression_ratio[one] for one in bank.cylinders)
            if combustion and parts.gasket:
                yield self._gasket(combustion, parts.gasket, bank, stack)
        if ratios and (parts.pistons or parts.gasket):
            yield self._spread(ratios, parts.spec.ratio_spread)

    def _stack(self, bank: Bank) -> PistonCrowns:
        sizes, stacks = self.sizes, self.stacks
        drawn, again = self.basis.heights, self.rooms.get(bank.key)
        *deck, height, lowest = self._deck(bank)
        stack = sizes.result(
            "piston_stack",
            "crank line to crown",
            shown_again,
            value=lambda row: stacks.fitted_stack[row],
        )
        room = heights.deck_clearance
        least = sizes.result("deck_clearance", "least room", room, deck_height=lowest)
        middle = sizes.result("over_middle", "at middle", room, deck_height=height)
        columns: list[Column | Check] = [
            *(*deck, height, lowest, stack),
            *held_at_each_end(least, middle, drawn.deck_clearance),
        ]
        if combustion := self.spec.combustion:
            thickness = self._gasket_of(combustion)["gasket_thickness"]
            columns += self._squish(combustion.squish, thickness, least, middle)
        crowns = PistonCrowns(
            key=f"crowns{bank.suffix}",
            title=bank.title("Pistons at the top, each with its own rod"),
            heading="Cylinder",
            note="Below zero the crown stands proud. The finished deck lies over the middle of "
            "each bore on the line between its corners, its lowest place half a bore down the "
            "slope; until it is measured the planned height stands in, and nothing is judged.",
            fresh_in=again.after.corners.stale_with if again else None,
            rows=cylinder_rows(bank.cylinders),
            columns=columns,
        )
        if again:
            again.answered_by(crowns)
            for name in ("squish", "most_squish"):
                if (planned := self.planned.get(bank.key)) and planned.has(name, "after"):
                    crowns.takes_over(name, planned.column(name)["after"])
        return crowns

    def _deck(self, bank: Bank) -> Iterator[Column]:
        """The deck over each bore and its lowest place there: from its finished corners, or as the
        plan leaves them; the two last columns are what is worked with.
        """
        sizes, room = self.sizes, self.cuts.banks[bank.key].room.heights
        planned: Callable[[str], Key] = room.deck_height.__getitem__
        lowest: Callable[[str], Key] = room.lowest.__getitem__
        if (again := self.rooms.get(bank.key)) is None:
            yield sizes.result("deck_height", "deck, planned", shown_again, value=planned)
            yield sizes.result("lowest", "lowest, planned", shown_again, value=lowest)
            return
        found, to_fit = again.heights, clearances.size_to_fit
        yield sizes.result("planned", "deck, planned", shown_again, value=planned)
        yield sizes.result(
            "finished", "deck, finished", shown_again, value=found.deck_height.__getitem__
        )
        yield sizes.result("deck_height", "deck", to_fit)
        yield sizes.result(
            "lowest", "lowest", to_fit, finished=found.lowest.__getitem__, planned=lowest
        )

    def _squish(
        self, limits: Limit, thickness: Per[Input], least: Column, middle: Column
    ) -> Iterator[Column | Check]:
        """What is left to squeeze where there is the least room; where the spec says how much it
        may be, over the middle besides.
        """
        squeezed = self.sizes.result(
            "squish", "squish", volumes.squish, deck_clearance=least, gasket_thickness=thickness
        )
        if limits.high is None:
            yield from limited(squeezed, limits)
            return
        most = self.sizes.result(
            "most_squish",
            "most squish",
            volumes.squish,
            deck_clearance=middle,
            gasket_thickness=thickness,
        )
        yield from held_at_each_end(squeezed, most, limits)

    def _gasket_of(self, combustion: Combustion) -> dict[str, Per[Input]]:
        """Thickness and hole of the gasket: as measured, else as the spec has them."""
        found: GasketSizes | Combustion = self.measured.gasket or combustion
        return {"gasket_thickness": found.gasket_thickness, "gasket_hole": found.gasket_hole}

    def _compression(self, combustion: Combustion, bank: Bank, stack: PistonCrowns) -> Compressions:
        volume, sizes, words = Sizes("cm**3", 2), self.basis.sizes("bores"), "deck clearance"
        clearance, gasket = stack.over_middle, self._gasket_of(combustion)
        return Compressions(
            key=f"compression{bank.suffix}",
            title=bank.title("Compression of each cylinder"),
            heading="Cylinder",
            note="Chamber and dish as the spec has them. Above a piston that stands proud the "
            "volume is below zero.",
            rows=cylinder_rows(bank.cylinders),
            columns=(
                sizes.result("bore", "bore", shown_again, value=self.bore),
                self.sizes.result("deck_clearance", words, shown_again, value=clearance),
                volume.result("swept_volume", "swept", swept_volume, stroke=self.basis.stroke),
                volume.result("gasket_volume", "in the gasket", volumes.gasket_volume, **gasket),
                volume.result("deck_volume", "above the crown", volumes.deck_volume),
                volume.result(
                    "clearance_volume",
                    "all that is left",
                    volumes.clearance_volume,
                    chamber_volume=combustion.chamber_volume,
                    dish_volume=combustion.dish_volume,
                ),
                Sizes("", 2, width=12).result(
                    "compression_ratio", "compression ratio", volumes.compression_ratio
                ),
            ),
        )

    def _spread(self, ratios: list[Input], most: Quantity | None) -> Table:
        spread = Sizes("", 2).result(
            "compression_spread",
            "highest less lowest",
            volumes.compression_spread,
            compression_ratios=ratios,
        )
        columns: list[Column | Check] = [spread]
        if most is not None:
            alike = Result(
                name="alike", words="verdict", equation=verdict_of_spread, inputs={"spread": spread}
            )
            columns += (
                Given(name="most", words=NOT_MORE, unit="", decimals=2, value=most),
                alike,
                Check(of=alike, judged=True, source=most.source or "the spec"),
            )
        return Table(
            key="compression_alike",
            title="How alike the cylinders compress",
            heading="Ratio",
            note="Worked out from many readings; the uncertainty of each is not carried into this "
            "verdict.",
            rows=[Row("all", "Of all cylinders")],
            columns=columns,
        )

    def _gasket(
        self, combustion: Combustion, gasket: GasketSizes, bank: Bank, stack: PistonCrowns
    ) -> Form:
        """The proudest piston, and the thinnest gasket that keeps it off the head."""
        sizes, measured = self.sizes, gasket.gasket_thickness
        proudest = sizes.result(
            "largest_protrusion",
            "Proudest crown over the deck",
            pistons.largest_protrusion,
            deck_clearances=[stack.deck_clearance[one] for one in bank.cylinders],
        )
        lines = [Line(column=proudest, note="below zero: every crown stops short of it")]
        if (least := combustion.squish.low) is not None:
            thinnest = sizes.result(
                "gasket_for_protrusion",
                "Thinnest gasket that leaves room",
                pistons.gasket_for_protrusion,
                least_squish=least,
            )
            again = sizes.result("gasket", "Gasket as measured", shown_again, value=measured)
            lines += (Line(column=thinnest, note=combustion.squish.source), Line(column=again))
        return Form(
            key=f"proud{bank.suffix}",
            title=bank.title("Protrusion against the gasket"),
            lines=lines,
        )
