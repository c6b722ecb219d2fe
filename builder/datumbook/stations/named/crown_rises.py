"""Crown rises: how much nearer to the head each crown of a bank comes by deck cut and line bore,
and which comes nearest.
"""

from __future__ import annotations

from collections.abc import Callable

from datumbook.cells.columns import Column, Input
from datumbook.cells.tables import Form, Row, Table, cylinder_rows
from datumbook.equations import budget, heights, valves
from datumbook.equations.standings import shown_again
from datumbook.stations.decided.cuts import BankCuts
from datumbook.stations.decided.deck_slopes import DeckSlopes, deck_slopes
from datumbook.stations.decided.leaning import leaning
from datumbook.stations.received.deck_heights import CORNERS


class DeckNearer(Table):
    """What the deck of one bank loses over the crank line, at its corners."""

    deck_nearer: Column


class MostRisen(Form):
    """How much nearer the crown comes that rises most."""

    crown_rise: Column


class CrownRises:
    """The crowns of one bank as the plan moves them. A valve is read where it has the least room;
    the room is lost by the cylinder that rises most, and that one is reckoned with.
    """

    def __init__(self, bank: BankCuts, bore_of: Callable[[str], Input]) -> None:
        self.bank, self.lines = bank, bank.bank
        self.sizes = bank.basis.sizes("parts")
        self.corners = self._corners()
        self.lies = self._lies()
        self.slopes = self._slopes()
        self.each = self._each(bore_of)
        self.most = MostRisen(
            key=bank.named("crown_rise"),
            title=self.lines.title("Crowns nearer by deck cut and line bore"),
            lines=[
                self.sizes.result(
                    "crown_rise",
                    "Nearer by, the one that rises most",
                    budget.most_of,
                    sizes=[self.each.column("crown_rise")[one] for one in self.lines.cylinders],
                )
            ],
        )

    def workings(self) -> list[Table | Form]:
        """What the largest rise is worked out from."""
        moved = leaning(
            self.bank.named("crown_rise_leaning"),
            self.lines.title("What moves how near the crowns come"),
            [Row("rise", self.bank.said("Nearer by"))],
            self.most.crown_rise.key,
            self.bank.room.cut.origins(),
        )
        moved.turned = True
        return [self.corners, self.lies, self.slopes, moved]

    def _corners(self) -> DeckNearer:
        """The deck as received over the crank line as received, less the deck as it is left over
        the line as bored.
        """
        received, after = self.bank.over_line["deck"], self.bank.deck.corners.after
        return DeckNearer(
            key=self.bank.named("deck_nearer"),
            title=self.lines.title("What the deck loses over the crank line"),
            heading="Corner",
            rows=[Row(key, self.bank.said(said)) for key, said in CORNERS.items()],
            columns=[
                self.bank.sizes.result(
                    "deck_nearer",
                    "nearer by",
                    heights.metal_removed,
                    standard_height=lambda row: received[row],
                    height=lambda row: after[row],
                )
            ],
        )

    def _lies(self) -> Form:
        """Where more of it goes off: at one end, at one side, at two corners across."""
        lost = {corner: self.corners.deck_nearer[corner] for corner in CORNERS}
        ways = {
            "tilt_lengthwise": ("More at the rear", heights.tilt_lengthwise),
            "tilt_crosswise": ("More at the left", heights.tilt_crosswise),
            "twist": ("Twisted by", heights.twist),
        }
        return Form(
            key=self.bank.named("nearer_lies"),
            title=self.lines.title("Where it loses more"),
            lines=[
                self.bank.line(name, words, one, None, **lost)
                for name, (words, one) in ways.items()
            ],
        )

    def _slopes(self) -> DeckSlopes:
        title = self.lines.title("How steeply that changes")
        return deck_slopes(self.bank, self.bank.named("nearer_slopes"), title, self.lies)

    def _each(self, bore_of: Callable[[str], Input]) -> Table:
        lost = {corner: self.corners.deck_nearer[corner] for corner in CORNERS}
        middle = self.bank.over_bores("nearer_at_middle", "over its middle", lost)
        return Table(
            key=self.bank.named("crown_rises"),
            title=self.lines.title("Crowns nearer, each"),
            heading="Piston",
            note="At most: half the bore towards where more goes off.",
            rows=cylinder_rows(self.lines.cylinders),
            columns=(
                middle,
                self.bank.sizes.result("bore", "bore", shown_again, value=bore_of),
                self.sizes.result(
                    "crown_rise",
                    "at most",
                    valves.crown_rise,
                    steepest_slope=self.slopes.steepest_slope,
                ),
            ),
        )
