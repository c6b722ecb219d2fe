"""What may be cut: the least metal off the faces under every limit the book knows today, and the size for the bores.

Cuts and limits are gathered from a validated book; builder/least_metal.py weighs them,
builder/plan_words.py tells them. A deck cut is counted off the lowest corner and lies parallel to the crank axis, so
that the whole deck stands at one height after it. The bores follow the bore sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from builder.equations.bores import bore_before_honing
from builder.equations.verdicts import OK
from builder.functions import GUARD_DIGITS, half_up, largest, smallest
from builder.layout import CheckPlan, Layout
from builder.least_metal import Cut, Limit, Sense, Sizes, least_metal
from builder.plan_words import Bore, Bores, Deck, Land, Measure, Plan, Unknown, plan_lines
from builder.sheets.heights import CORNERS
from builder.validator import Validation, upstream

__all__ = ["NoBook", "Plan", "layout_of", "plan", "plan_lines"]

DECK, BOTTOM = Cut("deck", "Off the deck"), Cut("bottom", "Off the bottom face")
TILTS = ("deck.tilt_lengthwise", "deck.tilt_crosswise", "deck.twist")


class NoBook(ValueError):  # noqa: N818  # a state of the file, not an error here
    """A workbook that cannot be read or is not one of ours; as text what is wrong and what to do."""


def layout_of(validation: Validation) -> Layout:
    """The layout of a validated book; NoBook with the validator's own sentence where the book is not one of ours."""
    if validation.layout is not None and validation.readable:
        return validation.layout
    why = next((one.message for one in validation.findings if one.severity == "damage"), "It holds no record.")
    raise NoBook(f"{validation.path.name} cannot be used here. {why}")


def plan(validation: Validation) -> Plan:
    """Work out what may be cut from what the book holds today; NoBook where it is unreadable or not one of ours."""
    work = _Work(layout_of(validation), validation.values)
    shift, limits = work.number("plan.axis_shift"), work.limits()
    moves = half_up(shift or 0.0, GUARD_DIGITS)
    return Plan(
        block=work.layout.job.block,
        engine=work.layout.spec.engine.name,
        damaged=validation.verdict == "untrusted",
        measure=work.measure("heights"),
        axis_shift=shift,
        deck=work.deck(),
        faces=least_metal((DECK, BOTTOM), limits),
        restored=least_metal((DECK, BOTTOM), [*limits, *_as_much(moves)]) if moves > 0 else None,
        bores=work.bores(),
        unknown=tuple(work.unknown),
    )


def _as_much(shift: float) -> Iterator[Limit]:
    ends: tuple[Sense, ...] = ("not less than", "not more than")
    for sense in ends:
        yield Limit(BOTTOM.words, {BOTTOM.key: 1.0}, 0.0, sense, shift, "as much as the axis moves")


@dataclass
class _Work:
    layout: Layout
    values: Mapping[str, object]
    unknown: list[Unknown] = field(default_factory=list)

    def number(self, key: str | None) -> float | None:
        found = self.values.get(key or "")
        return found if isinstance(found, float) else None

    def end(self, check: str, which: Literal["low", "high"]) -> float | None:
        """One end of what the book holds a check against; None where it has none."""
        held = next((one for one in self.layout.checks if one.key == check), None)
        return None if held is None else self.number(getattr(held, which))

    def measure(self, group: str) -> Measure:
        return Measure(self.layout.unit_of(group), self.layout.decimals_of(group))

    def check(self, key: str) -> CheckPlan:
        return next(one for one in self.layout.checks if one.key == key)

    def known(self, name: str, *keys: str) -> list[float]:
        """The numbers of these keys; empty, with the missing readings noted, unless all are there."""
        found = [number for key in keys if (number := self.number(key)) is not None]
        if len(found) == len(keys):
            return found
        above = {*keys, *(one for key in keys for one in upstream(self.layout, key))}
        missing = [one.label for one in self.layout.readings() if one.key in above and self.number(one.key) is None]
        self.unknown.append(Unknown(name, tuple(missing)))
        return []

    def limits(self) -> list[Limit]:
        """Every limit on the faces that can be reckoned."""
        found: list[Limit] = []
        for clearance in self.known("Deck clearance after the cuts", "stack.deck_clearance"):
            doubt = self.number("release.stack.deck_clearance.uncertainty")
            shift = self.number("plan.axis_shift") or 0.0
            name = "Deck clearance with the axis moved" if shift else "Deck clearance"
            found += self.held(name, {"deck": -1.0}, clearance - shift, "stack.deck_clearance", doubt)
        for lowest in self.known("Overall height after the cuts", "overall.lowest_corner"):
            doubt = self.number("release.ledger.overall_removable.uncertainty")
            both = {"deck": -1.0, "bottom": -1.0}
            found += self.held("Overall height, lowest corner", both, lowest, "plan.overall_after", doubt)
        return found

    def deck(self) -> Deck | None:
        """How much higher the deck's highest corner stands than its lowest; None while a corner is not read."""
        corners = self.known("Cut that cleans the whole deck", *(f"corners.{corner}.deck" for corner in CORNERS))
        if not corners:
            return None
        true = all(self.values[self.check(key).verdict] == OK for key in TILTS)
        return Deck(half_up(largest(*corners) - smallest(*corners), GUARD_DIGITS), true)

    def held(self, name: str, change: Sizes, before: float, check: str, doubt: float | None) -> Iterator[Limit]:
        """One limit for each end of what the book holds a check against."""
        ends: tuple[tuple[Sense, float | None], ...]
        ends = ("not less than", self.end(check, "low")), ("not more than", self.end(check, "high"))
        for sense, bound in ends:
            if bound is not None:
                yield Limit(name, change, before, sense, bound, self.check(check).source, doubt or 0.0)

    def bores(self) -> Bores:
        """What the bore and land sheets say of the next size; no sizes and no lands where the spec has no oversizes."""
        cylinders = self.layout.cylinders()
        for number in cylinders:
            self.known(f"Size that cleans cylinder {number}", f"bore.{number}.clean_up_size")
        bores = [Bore(f"Cylinder {number}", self.number(f"bore.{number}.clean_up_size")) for number in cylinders]
        size, stock = self.number("rebore.next_oversize"), self.number("rebore.clean_up_stock")
        return Bores(
            bores=tuple(bores),
            size=size,
            bore_to=None if size is None or stock is None else bore_before_honing(size, stock),
            stock=stock,
            largest=self.end("rebore.worst_clean_up", "high"),
            lands=() if size is None else tuple(self.land(front) for front in cylinders[:-1]),
            measure=self.measure("bores"),
            land_measure=self.measure("lands"),
        )

    def land(self, front: int) -> Land:
        """One land at the next size, held against its limit."""
        key = f"lands.{front}_{front + 1}.clamping_land"
        words, check = f"Land {front} to {front + 1}", self.check(key)
        self.known(f"{words}, left to clamp", key)
        return Land(words, self.number(key), self.end(key, "low"), str(self.values[check.verdict]), check.source)
