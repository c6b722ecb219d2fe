"""The cuts on the faces and every limit on them.

A deck cut is counted off the lowest corner and lies parallel to the crank axis, so that the whole
deck stands at one height after it.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Column
from datumbook.cells.handles import Key
from datumbook.equations.verdicts import OK
from datumbook.formulas.functions import largest, smallest
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Answer, Cut, End, SizeLimit, least_metal
from datumbook.plan.numbers import Numbers
from datumbook.plan.words import Deck
from datumbook.spec.block import Bank
from datumbook.stations.decided.cuts import BlockCut

BOTTOM = Cut("bottom", "Off the bottom face")
TILTS = ("tilt_lengthwise", "tilt_crosswise", "twist")


def cuts(work: Numbers) -> tuple[Cut, ...]:
    """Every cut on the faces: one a deck, and one off the bottom face where the one deck lies over
    it.
    """
    decks = tuple(_cut(bank) for bank in work.layout.spec.rows)
    return (*decks, BOTTOM) if work.stations.cuts.block else decks


def limits(work: Numbers) -> list[SizeLimit]:
    """Every limit on the faces that can be worked out."""
    clearances = [one for bank in work.layout.spec.rows for one in _clearance(work, bank)]
    block, received = work.stations.cuts.block, next(iter(work.stations.heights.banks.values()))
    if block is None or received.overall is None or received.axis is None:
        return clearances
    left, overall = received.ledger.overall_removable, received.overall.lowest_corner.key
    return [
        *clearances,
        *_overall(work, overall, block, left),
        *_bottom(work, received.axis.bottom_height.key, block),
    ]


def decks(work: Numbers) -> dict[str, Deck]:
    """Each deck whose corners are read, by the key of its cut."""
    banks = work.layout.spec.rows
    return {_cut(bank).key: deck for bank in banks if (deck := _deck(work, bank)) is not None}


def restored(work: Numbers, held: list[SizeLimit], shift: float | None) -> Answer | None:
    """The cuts of which the bottom face gives as much as the axis moves towards the deck; None
    where it does not.
    """
    moves = half_up(shift or 0.0, GUARD_DIGITS)
    if moves <= 0 or not work.stations.cuts.block:
        return None
    ends: tuple[End, ...] = ("low", "high")
    change, why = {BOTTOM.key: 1.0}, "as much as the axis moves"
    as_much = [SizeLimit(BOTTOM.words, change, 0.0, end, moves, why) for end in ends]
    return least_metal(cuts(work), [*held, *as_much])


def _cut(bank: Bank) -> Cut:
    return Cut(f"deck{bank.suffix}", bank.title("Off the deck"))


def _clearance(work: Numbers, bank: Bank) -> Iterator[SizeLimit]:
    """The limits on one deck's clearance, with the axis where a line bore puts it."""
    key = work.stations.heights.banks[bank.key].stack.deck_clearance.key
    shift = work.number(work.stations.cuts.banks[bank.key].shift.key) or 0.0
    name = bank.title("Deck clearance with the axis moved" if shift else "Deck clearance")
    for clearance in work.known(bank.title("Deck clearance after the cuts"), key):
        yield from work.held(name, {_cut(bank).key: -1.0}, clearance - shift, key)


def _overall(work: Numbers, key: Key, block: BlockCut, left: Column | None) -> Iterator[SizeLimit]:
    """The limit on the overall height at its lowest corner, which both cuts lower; as uncertain as
    what is left to take.
    """
    for lowest in work.known("Overall height after the cuts", key):
        both, name = {"deck": -1.0, "bottom": -1.0}, "Overall height, lowest corner"
        doubted = left.key if left else None
        yield from work.held(name, both, lowest, block.overall_after.key, doubted)


def _bottom(work: Numbers, key: Key, block: BlockCut) -> Iterator[SizeLimit]:
    """The limit on crank axis to bottom face, with the axis where a line bore puts it."""
    if work.layout.spec.heights.bottom_limit is None:
        return
    words = "Crank axis to bottom face"
    for height in work.known(f"{words} after the cuts", key):
        before = height + (work.number(block.axis_shift.key) or 0.0)
        yield from work.held(words, {BOTTOM.key: -1.0}, before, block.bottom_after.key)


def _deck(work: Numbers, bank: Bank) -> Deck | None:
    """How much higher a deck's highest corner stands than its lowest; None while a corner is not
    read.
    """
    received = work.stations.heights.banks[bank.key]
    words, keys = bank.title("Cut that cleans the whole deck"), received.at_corners("deck").values()
    corners = work.known(words, *keys)
    if not corners:
        return None
    true = all(work.values[received.deck.column(one).verdict.key] == OK for one in TILTS)
    return Deck(half_up(largest(*corners) - smallest(*corners), GUARD_DIGITS), true, bank.words)
