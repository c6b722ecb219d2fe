"""A plan of cuts, and how it is told: every size in the unit of its sheet, every limit with its number and its source."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from builder.equations.verdicts import OUT
from builder.functions import GUARD_DIGITS, half_up, more_than
from builder.least_metal import Answer, Limit, Sizes
from builder.units import shown


@dataclass(frozen=True)
class Measure:
    """How sizes of one group are written: the unit and decimals of their sheet, two more where a size needs them."""

    unit: str
    decimals: int

    def said(self, size: float) -> str:
        """A size as a person would write it."""
        whole = abs(half_up(size, self.decimals) - size) <= 10.0**-GUARD_DIGITS
        decimals = self.decimals if whole else self.decimals + 2
        return f"{half_up(size, decimals) + 0.0:.{decimals}f} {shown(self.unit)}"


@dataclass(frozen=True)
class Unknown:
    """Something that could not be reckoned, and the readings it wants."""

    name: str
    readings: tuple[str, ...]


@dataclass(frozen=True)
class Bore:
    """One cylinder and the diameter at which it is clean; None while readings are missing."""

    name: str
    clean_up: float | None


@dataclass(frozen=True)
class Land:
    """The flat left to clamp on between two bores at the size for all, the least it may be, and the verdict on it."""

    name: str
    left: float | None
    least: float | None
    verdict: str
    source: str


@dataclass(frozen=True)
class Bores:
    """The row of bores: what each cleans up at, the first oversize that cleans all (None: none does, or unknown)."""

    bores: tuple[Bore, ...]
    size: float | None
    largest: float | None
    lands: tuple[Land, ...]
    measure: Measure
    land_measure: Measure

    @property
    def forbidden(self) -> tuple[Bore, ...]:
        """The bores that not even the largest oversize cleans."""
        most = math.inf if self.largest is None else self.largest
        return tuple(one for one in self.bores if one.clean_up is not None and more_than(one.clean_up, most))


@dataclass(frozen=True)
class Plan:
    """What may be cut on one block.

    `axis_shift` is None where the line bore's cells are not filled; `restored` is the alternative that takes as much
    off the bottom face as the axis moves, None where it moves not at all or away from the deck.
    """

    block: str
    engine: str
    damaged: bool
    measure: Measure
    axis_shift: float | None
    faces: Answer
    restored: Answer | None
    bores: Bores
    unknown: tuple[Unknown, ...]


def plan_lines(plan: Plan) -> list[str]:
    """The plan in plain text, line by line; sizes in the unit and decimals of their sheet."""
    head = [f"What may be cut: {plan.block}, {plan.engine}"]
    if plan.damaged:
        head.append("The book is damaged: validate it first. This rests on its readings alone.")
    head += ["As far as the readings go: see the end for what is missing."] if plan.unknown else []
    return [*head, "", *_face_lines(plan), "", *_bore_lines(plan.bores), *_unknown_lines(plan.unknown)]


def _face_lines(plan: Plan) -> Iterator[str]:
    measure, sizes = plan.measure, plan.faces.rounded_up(plan.measure.decimals)
    yield "Faces"
    if sizes is None:
        yield "  Forbidden: no cuts keep these limits together."
        yield from (f"  {_today(one, measure)} ({one.source})" for one in plan.faces.conflict)
    elif not plan.faces.limits:
        yield "  Nothing can be reckoned yet."
    else:
        yield from (f"  {cut.words}: {measure.said(sizes[cut.key])}" for cut in plan.faces.cuts)
        yield from (f"  {_today(one, measure)}{_kept(one, plan, sizes)}" for one in plan.faces.limits)
        if not plan.faces.binding:
            yield "  No limit binds."
    yield from (f"  {line}" for line in _axis_lines(plan))


def _today(limit: Limit, measure: Measure) -> str:
    """A limit with its numbers, and what it leaves to cut or asks for."""
    said, bound = measure.said, f"{limit.sense} {measure.said(limit.bound)}"
    if any(each > 0 for each in limit.coefficients.values()):
        return f"{limit.name}: {bound}"
    room = half_up(limit.before - limit.bound, GUARD_DIGITS)
    spare, asks = (f"room for {said(room)}" if room >= 0 else f"short by {said(-room)} already"), f"asks for {said(room)}"
    found = spare if limit.sense == "not less than" else asks if room > 0 else "asks for no cut"
    return f"{limit.name}: {said(limit.before)} before a cut, {bound}, {found}"


def _kept(limit: Limit, plan: Plan, sizes: Sizes) -> str:
    """What the cuts leave of a limited size, and how near to its limit that is."""
    margin = limit.margin(sizes)
    near = f"; within ± {plan.measure.said(limit.uncertainty)} of its limit, UNSURE" if margin < limit.uncertainty else ""
    binds = "; binds" if limit in plan.faces.binding else ""
    return f", {plan.measure.said(limit.after(sizes))} after ({limit.source}){binds}{near}"


def _axis_lines(plan: Plan) -> Iterator[str]:
    said, shift = plan.measure.said, plan.axis_shift
    if shift is None:
        yield "Crank axis: reckoned as staying where it is, for the cells of the line bore are not filled."
        return
    yield f"Crank axis moves towards the deck: {said(shift)}"
    words = "Bottom cut that restores axis to bottom"
    if plan.restored is None:
        stays = half_up(shift, GUARD_DIGITS) == 0
        yield f"{words}: {'none needed' if stays else 'none can, for the axis moves away from the deck'}"
    elif plan.restored.sizes is None:
        against = "; ".join(_today(one, plan.measure) for one in plan.restored.conflict)
        yield f"{words}: {said(shift)}, forbidden: {against}"
    else:
        least = "; ".join(f"{cut.words.lower()} {said(plan.restored.sizes[cut.key])}" for cut in plan.restored.cuts)
        yield f"{words}: {said(shift)} ({least})"


def _bore_lines(row: Bores) -> Iterator[str]:
    said = row.measure.said
    yield "Bores"
    yield from (f"  {one.name} cleans up at {said(one.clean_up)}" for one in row.bores if one.clean_up is not None)
    if row.largest is not None and all(one.clean_up is None for one in row.bores):
        yield "  Nothing can be reckoned yet."
    if row.largest is None:
        yield "  The spec has no oversizes: the bores are not planned."
    for one in row.forbidden:
        yield f"  Forbidden: {one.name} is not clean at the largest oversize, {said(row.largest or 0.0)}"
    if row.size is not None:
        yield f"  Bore all to {said(row.size)}, the least size that cleans every bore"
    yield from (f"  {_land_line(land, row.land_measure)}" for land in row.lands if land.left is not None)


def _land_line(land: Land, measure: Measure) -> str:
    assert land.left is not None
    least = "" if land.least is None else f", not less than {measure.said(land.least)}"
    words = f"{land.name} left to clamp at that size: {measure.said(land.left)}{least}, {land.verdict} ({land.source})"
    return f"Forbidden: {words}" if land.verdict == OUT else words


def _unknown_lines(unknown: Sequence[Unknown]) -> Iterator[str]:
    if unknown:
        yield from ("", "Not reckoned, for want of readings")
    for readings in dict.fromkeys(one.readings for one in unknown):
        names = ", ".join(one.name for one in unknown if one.readings == readings)
        yield f"  {names}: {'; '.join(readings) or 'a value it rests on is in error'}"
