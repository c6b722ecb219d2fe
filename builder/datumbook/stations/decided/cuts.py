"""Cuts: what is to come off the faces and the crank's tunnels, and what that leaves of the heights.

The order of the work is the order of the data: the tunnels are bored in line, the bottom face is
cut over the new crank line, the deck after it, and the crowns stop under the deck so left.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import chain

from datumbook.cells.basis import Basis
from datumbook.cells.columns import ByRow, Column
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Form, Row, Table
from datumbook.equations import faces, line_bore, mandrels
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import NO_LENGTH, Quantity
from datumbook.stations.decided.block_after import (
    BlockAfter,
    BlockAtCorners,
    BottomAfter,
    block_after,
)
from datumbook.stations.decided.deck_room import DeckRoom
from datumbook.stations.decided.face_corners import FaceToCut
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.decided.leaning import Origins, leaning
from datumbook.stations.decided.line_boring import LineBoring
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.decided.work_off import WorkOff
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.stations.received.faces import Faces, StraightEdge
from datumbook.stations.received.features import drawn
from datumbook.stations.received.heights import BlockHeights, ReceivedHeights
from datumbook.stations.received.mandrel import MandrelSeat, over_centre
from datumbook.stations.received.tunnels import ENDS


class BankCuts(BankLines):
    """The cuts of one bank: its deck, of a block with one deck the bottom face before it, and the
    room that is left above the pistons.
    """

    def __init__(
        self,
        basis: Basis,
        received: ReceivedHeights,
        mandrel: MandrelSeat | None,
        boring: LineBoring,
        work: WorkOff,
        gaps: Mapping[str, StraightEdge],
        stacks: StacksInHand,
        bore: ByRow,
    ) -> None:
        super().__init__(basis, received.bank)
        self.received, self.mandrel, self.boring = received, mandrel, boring
        self.moves: list[Table] = []
        self.over_line: dict[str, Handle] = {}  # as received, by face, without the mandrel's seat
        self.bottom: FaceCut | None = None
        if self.whole:
            before = self._before("bottom", faces.bottom_after_line_bore)
            bottom = FaceToCut(
                "bottom",
                "Bottom face",
                before,
                self._drawn("bottom"),
                self.over_line["bottom"],
                self._read(),
                self._deck,
                gaps.get("bottom_flatness"),
                clocked=self._clocked(before),
            )
            self.bottom = FaceCut(self, bottom, work)
        before = self._before("deck", faces.deck_after_line_bore)
        deck = FaceToCut(
            "deck",
            "Deck",
            before,
            self._drawn("deck"),
            self.over_line["deck"],
            self._read(),
            self.bottom.stood_on() if self.bottom else None,
            gaps.get(f"deck_flatness{self.bank.suffix}"),
            self._clocked(before),
            self.bottom,
        )
        self.deck = FaceCut(self, deck, work)
        self.room = DeckRoom(basis, self, received.corners.column("deck"), self.deck, stacks, bore)
        self.at_corners: BlockAtCorners | None = None
        self.after: BlockAfter | None = None
        self.bottom_after: BottomAfter | None = None
        self.overall_leaning: Table | None = None
        if self.bottom:
            self.at_corners, self.after, self.bottom_after = block_after(
                self, self.bottom, self.deck
            )
            self.overall_leaning = leaning(
                "block_after_leaning",
                "What moves the least overall height after the cuts",
                [Row("overall", "Overall height after, lowest corner")],
                self.after.overall_after.key,
                self.deck.origins(),
            )

    def decisions(self) -> list[Table | Form]:
        """What is decided about the faces of this bank."""
        return self._of_cuts(FaceCut.decisions)

    def left(self) -> list[Table | Form]:
        """What that leaves: above the pistons, of the faces, at the corners."""
        parts = (self.room.crowns, self.room.after, self.bottom_after, self.at_corners)
        return [part for part in parts if part]

    def workings(self) -> list[Table | Form]:
        """What that is worked out from."""
        return [
            *self.moves,
            *self._of_cuts(FaceCut.workings),
            *([self.after] if self.after else ()),
            self.room.least,
            self.room.heights,
            self.room.slopes,
            self.room.leaning,
            *([self.overall_leaning] if self.overall_leaning else []),
        ]

    def _of_cuts(self, parts: Callable[[FaceCut], Sequence[Table | Form]]) -> list[Table | Form]:
        return [part for cut in (self.bottom, self.deck) if cut for part in parts(cut)]

    def _read(self) -> dict[str, tuple[str, Key]]:
        """Every height read at the corners, and what says where the crank line is: by names and
        words.
        """
        return {
            f"{name}_{corner}": (f"{name} {corner.replace('_', ' ')}", key)
            for name in self.received.names
            for corner, key in self.received.at_corners(name).items()
        } | {**(self.mandrel.origins() if self.mandrel else {}), **self.boring.origins()}

    def _drawn(self, name: str) -> Quantity:
        """A height of the drawing."""
        return drawn(getattr(self.spec, name))

    def _deck(self, corner: str) -> Key:
        """The plane of the deck as it stands while the bottom face is cut."""
        return self.deck.corners.plane[corner]

    def _before(self, name: str, equation: Callable[..., float]) -> list[Column]:
        """One height at the corners before its cut: over the crank line where the line bore puts
        it. Where the three heights do not add up none is built on.
        """
        read, axis = self.received.corners.column(name), self.received.axis
        columns: list[Column] = []
        if axis is not None:
            columns.append(
                self.sizes.result(
                    "sound",
                    "as read",
                    faces.sound,
                    height=lambda row: read[row],
                    closure=axis.height_closure.verdict.key,
                )
            )
        height = columns[0] if columns else read
        if self.mandrel:
            columns += self._over_centre(name, height, self.mandrel)
            height = columns[-1]
        self.over_line[name] = height
        lift = self.boring.lift(self.sizes, self._along)
        if lift is None:
            shown = self.sizes.result(
                "before", "before", shown_again, value=lambda row: height[row]
            )
            return [*columns, shown]
        columns.append(lift)
        if (angle := self.basis.spec.engine.bank_angle) is not None:
            columns.append(
                self.sizes.result(
                    "share",
                    "nearer to this deck",
                    line_bore.lift_towards_deck,
                    towards_bank=NO_LENGTH,
                    bank_angle=angle,
                )
            )
        self._moved(name, "lift", "crank line", columns[-1], self.boring.origins())
        before = self.sizes.result(
            "before",
            "before",
            equation,
            lift=columns[-1],
            **{f"{name}_height": lambda row: height[row]},
        )
        return [*columns, before]

    def seat_of(self, mandrel: MandrelSeat) -> list[Column]:
        """How far a mandrel stands over the crank line at each corner; towards this deck, last."""
        front, rear = self.boring.ends
        seats: list[Column] = []
        seat = self.sizes.result(
            "mandrel_seat",
            "mandrel over it",
            faces.on_line,
            front=mandrel.ends["front"],
            rear=mandrel.ends["rear"],
            place=self._along,
            front_place=front,
            rear_place=rear,
        )
        if (angle := self.basis.spec.engine.bank_angle) is not None:
            seats.append(seat)
            seat.name = "mandrel_up"
            seat = self.sizes.result(
                "mandrel_seat",
                "towards this deck",
                line_bore.lift_towards_deck,
                lift=seats[0],
                towards_bank=NO_LENGTH,
                bank_angle=angle,
            )
        return [*seats, seat]

    def _over_centre(self, name: str, height: Handle, mandrel: MandrelSeat) -> list[Column]:
        """A height over the crank line as received, where the mandrel lies beside it."""
        *first, seat = self.seat_of(mandrel)
        if self.boring.form is None:
            clocked = self.sizes.result("mandrel_up_when_cut", "clocked", shown_again, value=seat)
        else:
            clocked = self.sizes.result(
                "mandrel_up_when_cut",
                "clocked",
                line_bore.mandrel_when_cut,
                line_bored=self.boring.form.line_bored,
                mandrel_seat=seat,
            )
        when_cut = self.sizes.result(
            "mandrel_when_cut",
            "when cut",
            *((mandrels.under_mandrel,) if name == "bottom" else (shown_again,)),
            **{"mandrel_seat" if name == "bottom" else "value": clocked},
        )
        over = over_centre(
            self.sizes, "over_centre", "over the line", name, lambda row: height[row], seat
        )
        self._moved(name, "seat", "mandrel", seat, mandrel.origins())
        return [*first, seat, clocked, when_cut, over]

    def _moved(self, face: str, name: str, words: str, of: Column, on: Origins) -> None:
        """What moves the crank line, or the mandrel, under the corners of a face."""
        title = self.bank.title(f"What moves the {words} at the corners of the {face}")
        rows = [Row(key, self.said(said)) for key, said in CORNERS.items()]
        self.moves.append(leaning(self.named(f"{face}_{name}_leaning"), title, rows, of, on))

    def _clocked(self, before: Sequence[Column]) -> Column | None:
        """Where the mandrel lies when a face is cut; None where it fills the tunnels."""
        return next((one for one in before if one.name == "mandrel_when_cut"), None)

    def _along(self, corner: str) -> Quantity:
        front, rear = self.corner_places
        return front if corner.startswith("front") else rear


class Cuts:
    """The cuts of every bank, by the bank's key, over one line bore."""

    def __init__(
        self,
        basis: Basis,
        received: BlockHeights,
        boring: LineBoring,
        work: WorkOff,
        flat: Faces | None,
        stacks: StacksInHand,
        bore: ByRow,
    ) -> None:
        self.line_boring, self.mandrel = boring, received.mandrel
        gaps = {name: one.gaps for name, one in flat.flat.items()} if flat else {}
        self.banks = {
            key: BankCuts(basis, one, received.mandrel, boring, work, gaps, stacks, bore)
            for key, one in received.banks.items()
        }

    @property
    def block(self) -> BlockAfter | None:
        """The whole block after the cuts; None where it has several decks."""
        return next(iter(self.banks.values())).after

    @property
    def at_corners(self) -> BlockAtCorners | None:
        """The whole block at its corners; None where it has several decks."""
        return next(iter(self.banks.values())).at_corners

    @property
    def bottom(self) -> FaceCut | None:
        """The cut of the bottom face; None where the block has several decks."""
        return next(iter(self.banks.values())).bottom

    def metal_off(self) -> dict[int, Key]:
        """What the cut takes off the deck over each cylinder."""
        return {
            number: bank.room.heights.taken[number]
            for bank in self.banks.values()
            for number in bank.bank.cylinders
        }

    def decisions(self) -> list[Table | Form]:
        """What is decided about the cuts, in the order of the work."""
        each = (bank.decisions() for bank in self.banks.values())
        return [*self.line_boring.decisions(), *chain.from_iterable(each)]

    def left(self) -> list[Table | Form]:
        """What the cuts leave."""
        each = (bank.left() for bank in self.banks.values())
        return [*self.line_boring.left(), *chain.from_iterable(each)]

    def workings(self) -> list[Table | Form]:
        """What that is worked out from."""
        each = (bank.workings() for bank in self.banks.values())
        return [
            *seat_leanings(self.mandrel),
            *self.line_boring.workings(),
            *chain.from_iterable(each),
        ]


def seat_leanings(mandrel: MandrelSeat | None) -> list[Table]:
    """What moves the mandrel's seat, end by end; nothing where it fills the tunnels."""
    if mandrel is None:
        return []
    return [
        leaning(
            mandrel.measured.key(f"mandrel_{end}_leaning"),
            mandrel.measured.title(f"What moves the mandrel's seat, {end}"),
            [Row("seat", "Its axis over the tunnel's centre")],
            mandrel.seats[end].key,
            mandrel.read[end],
        )
        for end in ENDS
    ]
