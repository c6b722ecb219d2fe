"""Cuts: what is to come off the faces and the crank's tunnels, and what that leaves of the
heights.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Input, Per
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line
from datumbook.equations import heights
from datumbook.equations.flatness import parallelism
from datumbook.numbers.units import convert
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.heights import BlockHeights, ReceivedHeights

CUT, TUNNEL = (0.0, 3.0), (20.0, 250.0)  # what a cut and a main tunnel can be at all, in mm


class LineBore(Form):
    """The line bore intended, which moves the crank axis under every bank."""

    crown_metal: Column
    cap_cut: Column | None
    axis_shift: Column


class DeckCut(Form):
    """The deck cut of one bank, and what it leaves; of several banks each has its share of the
    shift of the axis.
    """

    deck_cut: Column
    shift_towards_deck: Column | None
    deck_after: Column
    deck_clearance_after: Column


class BlockCut(DeckCut, LineBore):
    """Every cut of a block with one deck, and what they leave."""

    bottom_cut: Column
    overall_after: Column
    bottom_after: Column


D = TypeVar("D", bound=DeckCut)


class BankCuts(BankLines):
    """The cuts intended on one bank, what they leave, and what its readings ask for."""

    plan: DeckCut

    def __init__(
        self, basis: Basis, received: ReceivedHeights, shared: LineBore | None = None
    ) -> None:
        super().__init__(basis, received.bank)
        self.received = received
        if shared is None:
            self.plan = block = self._plan(BlockCut, self._block())
            self.shift = block.axis_shift
        else:
            self.plan = self._plan(DeckCut, self._bank(shared.axis_shift))
            self.shift = self.plan.shift_towards_deck or shared.axis_shift
        self.suggested = Form(
            key=self.named("suggested"),
            title=self.bank.title("What the readings ask for"),
            lines=tuple(self._asked()),
        )

    def _plan(self, kind: type[D], lines: Iterator[Line | Column]) -> D:
        cut = intended(self, "deck_cut", "Deck cut intended, off the lowest corner", CUT)
        return kind(
            key=self.named("plan"),
            title=self.bank.title("Cuts intended, and what they leave"),
            note="Type 0 where nothing is to be cut. The deck cut is what comes off the lowest "
            "corner, parallel to the crank axis: afterwards the whole deck stands at one height.",
            lines=(cut, *lines),
        )

    def _block(self) -> Iterator[Line | Column]:
        """The bottom face and the line bore too, and whether the heights agree after them all."""
        overall, axis = self.received.overall, self.received.axis
        assert overall  # a block with one deck has both
        assert axis
        yield intended(self, "bottom_cut", "Bottom-face cut intended", CUT)
        yield from bored_in_line(self)
        overall_after = self.line(
            "overall_after",
            "Overall height after, lowest corner",
            heights.overall_height_after,
            self.spec.overall_limit,
            overall_height=overall.lowest_corner,
        )
        bottom_after = self.line(
            "bottom_after",
            "Axis to bottom face after",
            heights.bottom_height_after,
            self.spec.bottom_limit,
            bottom_height=axis.bottom_height,
        )
        deck_after = self._deck_after()
        yield from (overall_after, bottom_after, deck_after)
        yield self.line(
            "closure_after",
            "Overall less deck and bottom, after",
            heights.height_closure,
            self.spec.closure,
            overall_height=overall_after.column,
            deck_height=deck_after.column,
            bottom_height=bottom_after.column,
        )
        yield self._clearance_after(deck_after)

    def _bank(self, axis_shift: Column) -> Iterator[Line | Column]:
        """The share that a shift of the crank axis takes from this deck, and what is left."""
        angle = self.basis.spec.engine.bank_angle
        assert angle is not None  # an engine with banks states it
        share = self.line(
            "shift_towards_deck",
            "Crank axis moves towards this deck",
            heights.shift_towards_deck,
            axis_shift=axis_shift,
            bank_angle=angle,
        )
        deck_after = self._deck_after(axis_shift=share.column)
        yield from (share, deck_after, self._clearance_after(deck_after))

    def _deck_after(self, **shift: Per[Input]) -> Line:
        return self.line(
            "deck_after",
            "Deck height after, all over",
            heights.deck_height_after,
            None,
            "",
            deck_height=self.received.deck.lowest_corner,
            **shift,
        )

    def _clearance_after(self, deck_after: Line) -> Line:
        return self.line(
            "deck_clearance_after",
            "Deck clearance after",
            heights.deck_clearance,
            self.spec.deck_clearance,
            deck_height=deck_after.column,
            piston_stack=self.received.stack.piston_stack,
        )

    def _asked(self) -> Iterator[Line | Column]:
        yield self.line(
            "spread",
            "Off the highest corner, to clean the whole deck",
            parallelism,
            heights=list(self.received.at_corners("deck").values()),
            note="that is 0 off the lowest corner",
        )
        if self.whole:
            yield self.line(
                "bottom_cut",
                "Off the bottom face, to keep it as far from the axis",
                heights.restoring_bottom_cut,
                axis_shift=self.shift,
                note="after the line bore intended above",
            )


class Cuts:
    """The cuts of every bank, by the bank's key, and the one line bore under them."""

    def __init__(self, basis: Basis, received: BlockHeights) -> None:
        first, *others = received.banks.values()
        self.shared = (
            None
            if first.whole
            else LineBore(
                key="plan",
                title="Line bore intended",
                lines=bored_in_line(BankLines(basis, first.bank)),
                note="Type 0 where none is.",
            )
        )
        self.banks = {one.bank.key: BankCuts(basis, one, self.shared) for one in (first, *others)}
        plan = next(iter(self.banks.values())).plan
        self.block = plan if isinstance(plan, BlockCut) else None

    def deck_cuts(self) -> dict[int, Key]:
        """The cut intended on the deck over each cylinder."""
        return {
            number: bank.plan.deck_cut.key
            for bank in self.banks.values()
            for number in bank.bank.cylinders
        }

    @property
    def line_bore(self) -> LineBore:
        """The form in which the line bore stands."""
        found = self.shared or self.block
        assert found is not None  # banks share one, a block with one deck has its own
        return found

    def parts(self) -> list[Form]:
        """The parts of the plan's sheet that are about the cuts."""
        return [
            *([self.shared] if self.shared else []),
            *[part for one in self.banks.values() for part in (one.plan, one.suggested)],
        ]


def intended(
    lines: BankLines, name: str, words: str, span: tuple[float, float], how: str = "0 if none."
) -> Column:
    """A size that belongs to a cut not made yet, and the span of millimetres it can be at all."""
    low, high = (convert(end, "mm", lines.unit) for end in span)
    return lines.sizes.reading(name, lines.said(words), how=how, possible=(low, high))


def bored_in_line(lines: BankLines) -> tuple[Line | Column, ...]:
    """The line bore, and how far it moves the crank axis."""
    tunnels = lines.basis.spec.tunnels
    return (
        intended(lines, "crown_metal", "Line bore: metal off the crown in the block", CUT),
        intended(
            lines,
            "tunnel_before",
            "Line bore: tunnel diameter before",
            TUNNEL,
            "As it is now, caps torqued.",
        ),
        intended(
            lines,
            "tunnel_after",
            "Line bore: tunnel diameter after",
            TUNNEL,
            "The same again if none is bored.",
        ),
        *(
            (intended(lines, "cap_cut", "Line bore: cut off the joint of the caps", CUT),)
            if tunnels is not None and tunnels.caps is not None
            else ()
        ),
        lines.line("axis_shift", "Crank axis moves up in the block", heights.axis_shift),
    )
