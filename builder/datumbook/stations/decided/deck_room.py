"""Deck room: how the deck of one bank lies after its cut, and the room that it leaves above each
piston.
"""

from __future__ import annotations

from collections.abc import Callable

from datumbook.cells.basis import Basis
from datumbook.cells.columns import ByRow, Column, Input, Per, Result
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Form, Row, Table, cylinder_rows
from datumbook.equations import budget, clean_cuts, crowns, heights
from datumbook.equations.standings import said_again, shown_again
from datumbook.stations.decided.deck_slopes import DeckSlopes, deck_slopes, held_at_each_end
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.decided.leaning import leaning
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.deck_heights import CORNERS


class DeckAfter(Form):
    """The deck of one bank after its cut; of a block with one deck, how its bottom face lies."""

    deck_after: Column
    tilt_lengthwise: Column
    tilt_crosswise: Column
    twist: Column


class LeastRoom(Form):
    """The piston of one bank that has the least room, before the cuts and after them."""

    room_now: Column
    room_line_bored: Column
    deck_clearance_after: Column


class CrownHeights(Table):
    """The deck over each cylinder of a bank, before the cuts and after them."""

    room_now: Column
    room_line_bored: Column
    deck_height: Column
    taken: Column
    lowest: Column


class CrownRoom(Table):
    """The room above each piston of one bank: the least over the bore, and over its middle."""

    deck_clearance: Column
    over_middle: Column


class DeckRoom:
    """What the cut of one deck leaves."""

    def __init__(
        self,
        basis: Basis,
        lines: BankLines,
        received: Handle,
        cut: FaceCut,
        stacks: StacksInHand,
        bore: ByRow,
    ) -> None:
        self.basis, self.lines, self.cut, self.sizes = basis, lines, cut, lines.sizes
        self.stacks = stacks
        self.after, self.least = self._after(), self._least()
        self.slopes = self._slopes()
        self.heights = self._heights(received, bore)
        self.crowns = self._crowns()
        self.leaning = leaning(
            lines.named("deck_room_leaning"),
            lines.bank.title("What moves the least room above a piston"),
            [Row("least", lines.said("Least room above a piston"))],
            self.least.deck_clearance_after.key,
            cut.origins() | stacks.origins(lines.bank.cylinders),
        )

    def _after(self) -> DeckAfter:
        lines, corners, line = self.lines, self.cut.corners, self.lines.line
        limits = self.basis.spec.finished or self.basis.heights
        after = {corner: corners.after[corner] for corner in CORNERS}
        ways = {"lengthwise": heights.tilt_lengthwise, "crosswise": heights.tilt_crosswise}
        lowest = line(
            "deck_after",
            "Deck height after, lowest corner",
            heights.lowest_corner,
            corners=list(after.values()),
        )
        lies = [
            line(f"tilt_{way}", f"Tilt {way} after", equation, limits.tilt, **after)
            for way, equation in ways.items()
        ]
        twist = line("twist", "Twist after", heights.twist, limits.twist, **after)
        return DeckAfter(
            key=lines.named("deck_after"),
            title=lines.bank.title("The deck after its cut"),
            lines=(lowest, *lies, twist),
        )

    def _least(self) -> LeastRoom:
        lines, line, least = self.lines, self.lines.line, "Least room above a piston"
        return LeastRoom(
            key=lines.named("least_room"),
            title=lines.bank.title("The piston with the least room"),
            lines=(
                line(
                    "room_now",
                    f"{least}, as received",
                    budget.least_of,
                    sizes=self._of_each(lambda: self.heights.room_now),
                ),
                line(
                    "room_line_bored",
                    f"{least}, line bored",
                    budget.least_of,
                    sizes=self._of_each(lambda: self.heights.room_line_bored),
                ),
                line(
                    "deck_clearance_after",
                    f"{least}, after",
                    budget.least_of,
                    sizes=self._of_each(lambda: self.crowns.deck_clearance),
                ),
            ),
        )

    def _of_each(self, column: Callable[[], Column]) -> Callable[[str], list[Key]]:
        return lambda _: [column()[one] for one in self.lines.bank.cylinders]

    def _slopes(self) -> DeckSlopes:
        lines = self.lines
        return deck_slopes(
            lines,
            lines.named("deck_slopes"),
            lines.bank.title("How the deck falls over a bore after its cut"),
            self.after,
            lines.line(
                "hollow_left",
                "Hollow that the cut leaves"
                if self.cut.hollows_read
                else "Left by the corners; hollows not read",
                clean_cuts.hollow_left,
                cut_with_margin=self.cut.form.suggested,
                cut_taken=self.cut.counted.cut_taken,
            ),
        )

    def _heights(self, received: Handle, bore: ByRow) -> CrownHeights:
        """The deck over each piston three times over. As received it is read over the mandrel, from
        the old crank line, and judges nothing; once the tunnels are line bored the crank runs in
        the new line, so what holds is counted from there: `before` less the lift, and the deck
        after its cut.
        """
        lines, sizes, corners = self.lines, self.sizes, self.cut.corners

        def over(name: str, words: str, column: Handle) -> Result:
            return lines.over_bores(name, words, {corner: column[corner] for corner in CORNERS})

        now = over("deck_now", "deck as received", received)
        before = over("before", "line bored", corners.before)
        after = over("deck_height", "deck after", corners.after)
        return CrownHeights(
            key=f"crown_heights{lines.bank.suffix}",
            title=lines.bank.title("The deck over each piston"),
            heading="Cylinder",
            note="On the line between the middles of front and rear. The lowest place is half a "
            "bore down the slope, with what the cut leaves of a hollow.",
            rows=cylinder_rows(lines.bank.cylinders),
            columns=(
                now,
                self._room("room_now", "room as received", now),
                before,
                self._room("room_line_bored", "room, line bored", before),
                after,
                sizes.result(
                    "taken",
                    "metal off",
                    heights.metal_removed,
                    standard_height=before,
                    height=after,
                ),
                sizes.result(
                    "lowest",
                    "lowest over the bore",
                    crowns.lowest_over_bore,
                    height=after,
                    steepest_slope=self.slopes.steepest_slope,
                    bore=bore,
                    hollow_left=self.slopes.column("hollow_left"),
                ),
            ),
        )

    def _room(self, name: str, words: str, deck: Per[Input]) -> Result:
        return self.sizes.result(
            name,
            words,
            heights.deck_clearance,
            deck_height=deck,
            piston_stack=lambda row: self.stacks.piston_stack[row],
        )

    def _crowns(self) -> CrownRoom:
        """The least room is held against the lower limit; against the upper one, which is of the
        compression and the squish, the room over the middle of the bore.
        """
        lines, each, limits = self.lines, self.heights, self.lines.spec.deck_clearance
        least = self._room("deck_clearance", "least left", lambda row: each.lowest[row])
        middle = self._room("over_middle", "at middle", lambda row: each.deck_height[row])
        return CrownRoom(
            key=f"crown{lines.bank.suffix}",
            title=lines.bank.title("Room above each piston"),
            heading="Cylinder",
            note="Below zero the crown stands proud. Least: half a bore down the slope"
            + (", less any hollow left." if self.cut.hollows_read else "; hollows not read."),
            rows=cylinder_rows(lines.bank.cylinders),
            columns=(
                self.sizes.result(
                    "now", "received", shown_again, value=lambda row: each.room_now[row]
                ),
                *held_at_each_end(least, middle, limits),
                Result(
                    name="sizes_from",
                    words="sizes from",
                    unit=None,
                    width=13,
                    equation=said_again,
                    inputs={"words": lambda row: self.stacks.sizes_from[row]},
                ),
            ),
        )
