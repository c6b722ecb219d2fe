"""What may be cut: the least metal off the faces under every limit the book knows today, and the
size for the bores.

Cuts and limits are gathered from a validated book; builder/datumbook/optimise/least_metal.py weighs
them, builder/datumbook/plan/words.py tells them. A deck cut is counted off the lowest corner and
lies parallel to the crank axis, so that the whole deck stands at one height after it. The bores
follow the bore sheet and the plan sheet; what only they or the tunnels ask for stands in
plan_boring.py and plan_tunnels.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from datumbook.equations.bores import bore_before_honing
from datumbook.equations.verdicts import OK
from datumbook.formulas.functions import largest, smallest
from datumbook.messages import ExpectedError
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Cut, End, Limit, least_metal
from datumbook.plan.boring import set_overs
from datumbook.plan.numbers import Numbers
from datumbook.plan.telling import plan_lines
from datumbook.plan.tunnels import tunnels
from datumbook.plan.words import Bore, Bores, Deck, Land, Plan
from datumbook.spec.model import Bank
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

__all__ = ["NoBook", "Plan", "layout_of", "plan", "plan_lines"]

BOTTOM = Cut("bottom", "Off the bottom face")
TILTS = ("tilt_lengthwise", "tilt_crosswise", "twist")


class NoBook(ExpectedError):  # noqa: N818  # a state of the file, not an error here
    """A workbook that cannot be read or is not one of ours; as text what is wrong and what to
    do.
    """


def layout_of(validation: Validation) -> Layout:
    """The layout of a validated book; NoBook with the validator's own sentence where the book is
    not one of ours.
    """
    if validation.layout is not None and validation.readable:
        return validation.layout
    why = next(
        (one.message for one in validation.findings if one.severity == "damage"),
        "It holds no record.",
    )
    raise NoBook(f"{validation.path.name} cannot be used here. {why}")


def plan(validation: Validation) -> Plan:
    """Work out what may be cut from what the book holds today; NoBook where it is unreadable or not
    one of ours.
    """
    work = _Work(layout_of(validation), validation.values)
    shift, limits = work.number("plan.axis_shift"), work.limits()
    moves = half_up(shift or 0.0, GUARD_DIGITS)
    return Plan(
        block=work.layout.job.block,
        engine=work.layout.spec.engine.name,
        damaged=validation.verdict == "untrusted",
        measure=work.measure("heights"),
        axis_shift=shift,
        decks={
            work.cut(bank).key: deck for bank in work.rows if (deck := work.deck(bank)) is not None
        },
        whole=work.whole,
        faces=least_metal(work.cuts(), limits),
        restored=least_metal(work.cuts(), [*limits, *_as_much(moves)])
        if moves > 0 and work.whole
        else None,
        tunnels=tunnels(work),
        tunnel_measure=work.measure("tunnels"),
        bores=work.bores(),
        set_overs=set_overs(work),
        unknown=tuple(work.unknown),
    )


def _as_much(shift: float) -> Iterator[Limit]:
    ends: tuple[End, ...] = ("low", "high")
    for end in ends:
        yield Limit(BOTTOM.words, {BOTTOM.key: 1.0}, 0.0, end, shift, "as much as the axis moves")


def _of(bank: Bank) -> str:
    """What a bank puts before the keys of its heights."""
    return f"{bank.key}_" if bank.key else ""


class _Work(Numbers):
    """What is reckoned of one book."""

    @property
    def rows(self) -> Sequence[Bank]:
        """The rows of cylinders, each under its own deck."""
        return self.layout.spec.rows

    @property
    def whole(self) -> bool:
        """Whether the one deck lies over the bottom face, as in line."""
        return not self.rows[0].key

    def cut(self, bank: Bank) -> Cut:
        """The cut on one deck."""
        return Cut(f"deck{bank.suffix}", bank.title("Off the deck"))

    def cuts(self) -> tuple[Cut, ...]:
        """Every cut the plan may make."""
        return (*(self.cut(bank) for bank in self.rows), *((BOTTOM,) if self.whole else ()))

    def limits(self) -> list[Limit]:
        """Every limit on the faces that can be reckoned."""
        found: list[Limit] = []
        for bank in self.rows:
            found += self.clearance(bank)
        for lowest in (
            ()
            if not self.whole
            else self.known("Overall height after the cuts", "overall.lowest_corner")
        ):
            doubt = self.number("release.ledger.overall_removable.uncertainty")
            both = {"deck": -1.0, "bottom": -1.0}
            found += self.held(
                "Overall height, lowest corner", both, lowest, "plan.overall_after", doubt
            )
        return [*found, *self.bottom()]

    def bottom(self) -> Iterator[Limit]:
        """The limit on crank axis to bottom face, with the axis where a line bore puts it."""
        limited = self.layout.spec.heights.bottom_limit is not None and self.whole
        for height in (
            self.known("Crank axis to bottom face after the cuts", "axis.bottom_height")
            if limited
            else ()
        ):
            doubt, shift = (
                self.number("release.plan.bottom_after.uncertainty"),
                self.number("plan.axis_shift") or 0.0,
            )
            yield from self.held(
                "Crank axis to bottom face",
                {"bottom": -1.0},
                height + shift,
                "plan.bottom_after",
                doubt,
            )

    def clearance(self, bank: Bank) -> list[Limit]:
        """The limits on one deck's clearance, with the axis where a line bore puts it."""
        key, found = f"{_of(bank)}stack.deck_clearance", list[Limit]()
        shift = (
            self.number("plan.axis_shift" if self.whole else f"{_of(bank)}plan.shift_towards_deck")
            or 0.0
        )
        name = bank.title("Deck clearance with the axis moved" if shift else "Deck clearance")
        for clearance in self.known(bank.title("Deck clearance after the cuts"), key):
            doubt = self.number(f"release.{key}.uncertainty")
            found += self.held(name, {self.cut(bank).key: -1.0}, clearance - shift, key, doubt)
        return found

    def deck(self, bank: Bank) -> Deck | None:
        """How much higher a deck's highest corner stands than its lowest; None while a corner is
        not read.
        """
        keys = [f"{_of(bank)}corners.{corner}.deck" for corner in CORNERS]
        corners = self.known(bank.title("Cut that cleans the whole deck"), *keys)
        if not corners:
            return None
        true = all(self.values[self.check(f"{_of(bank)}deck.{key}").verdict] == OK for key in TILTS)
        return Deck(half_up(largest(*corners) - smallest(*corners), GUARD_DIGITS), true, bank.words)

    def bores(self) -> Bores:
        """What the bore and land sheets say of the next size; no sizes and no lands where the spec
        has no oversizes.
        """
        cylinders = self.layout.cylinders()
        for number in cylinders:
            self.known(f"Size that cleans cylinder {number}", f"bore.{number}.clean_up_size")
        bores = [
            Bore(f"Cylinder {number}", self.number(f"bore.{number}.clean_up_size"))
            for number in cylinders
        ]
        size, stock = self.number("rebore.next_oversize"), self.number("rebore.clean_up_stock")
        return Bores(
            bores=tuple(bores),
            size=size,
            bore_to=None if size is None or stock is None else bore_before_honing(size, stock),
            stock=stock,
            largest=self.end("rebore.worst_clean_up", "high"),
            lands=() if size is None else self.lands(),
            measure=self.measure("bores"),
            land_measure=self.measure("lands"),
        )

    def lands(self) -> tuple[Land, ...]:
        """Every land between two bores of one bank."""
        return tuple(
            self.land(bank, *ends) for bank in self.rows for ends in pairwise(bank.cylinders)
        )

    def land(self, bank: Bank, front: int, rear: int) -> Land:
        """One land at the next size, held against its limit."""
        key = f"lands{bank.suffix}.{front}_{rear}.clamping_land"
        words, check = f"Land {front} to {rear}", self.check(key)
        self.known(f"{words}, left to clamp", key)
        return Land(
            words,
            self.number(key),
            self.end(key, "low"),
            str(self.values[check.verdict]),
            check.source,
        )
