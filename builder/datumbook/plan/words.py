"""A plan of cuts, and how faces and bores are told: every size in its sheet's unit, every limit
with number and source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from datumbook.equations.bores import bore_before_honing
from datumbook.equations.verdicts import OUT
from datumbook.formulas.functions import more_than
from datumbook.numbers.printing import Printer
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Answer, CutSizes, SizeLimit
from datumbook.optimise.least_set_over import SetOver


@dataclass(frozen=True)
class Unknown:
    """Something that could not be worked out, and the readings it wants."""

    name: str
    readings: tuple[str, ...]


@dataclass(frozen=True)
class Deck:
    """How much higher the highest corner stands than the lowest, and whether tilts and twist are
    all OK.

    `name` is the bank's, "" where the engine has one deck.
    """

    spread: float
    true: bool
    name: str = ""


@dataclass(frozen=True)
class Bore:
    """One cylinder: the diameter at which it is clean, and the finish size decided for it; None
    while readings are missing or nothing is decided.
    """

    name: str
    clean_up: float | None
    size: float | None


@dataclass(frozen=True)
class Land:
    """The flat left to clamp on between two bores as planned, the least it may be, and the
    verdict on it.
    """

    name: str
    left: float | None
    least: float | None
    verdict: str
    source: str


@dataclass(frozen=True)
class BoresTold:
    """The bores, the `stock` on the diameter that the bar leaves for the hone, and the lands as
    planned.
    """

    bores: tuple[Bore, ...]
    stock: float | None
    largest: float | None
    lands: tuple[Land, ...]
    measure: Printer
    land_measure: Printer

    @property
    def forbidden(self) -> tuple[Bore, ...]:
        """The bores that not even the largest oversize cleans."""
        most = math.inf if self.largest is None else self.largest
        return tuple(
            one for one in self.bores if one.clean_up is not None and more_than(one.clean_up, most)
        )

    @property
    def unclean(self) -> tuple[Bore, ...]:
        """The bores that their own finish size does not clean: not bored, or planned too small."""
        return tuple(
            one
            for one in self.bores
            if one.clean_up is not None
            and one.size is not None
            and more_than(one.clean_up, one.size)
        )


@dataclass(frozen=True)
class Plan:
    """What may be cut on one block.

    `axis_shift` is None where the line bore's cells are not filled; `decks` holds each deck whose
    corners are read, by the key of its cut; `whole` says that the deck lies over the bottom face,
    as in line. `restored` is the alternative that takes as much off the bottom face as the axis
    moves, None where it moves not at all or away from the deck. `tunnels` is None where the
    engine's tunnels are not measured; `set_overs` stand by the words of their bank.
    """

    block: str
    engine: str
    damaged: bool
    measure: Printer
    axis_shift: float | None
    decks: Mapping[str, Deck]
    whole: bool
    faces: Answer
    restored: Answer | None
    tunnels: Answer | None
    tunnel_measure: Printer
    bores: BoresTold
    set_overs: Mapping[str, SetOver]
    unknown: tuple[Unknown, ...]


def face_lines(plan: Plan) -> Iterator[str]:
    """The cuts on the faces, every limit on them, and what deck and axis ask for."""
    measure, sizes = plan.measure, plan.faces.rounded(plan.measure.decimals)
    yield "Faces"
    if sizes is None:
        yield "  Forbidden: no cuts keep these limits together."
        yield from (f"  {today(one, measure)} ({one.source})" for one in plan.faces.conflict)
    elif not plan.faces.limits:
        yield "  Nothing can be worked out yet."
    else:
        yield from (
            f"  {cut.words}: {_cut_words(cut.key, sizes[cut.key], plan)}" for cut in plan.faces.cuts
        )
        yield from (
            f"  {today(one, measure)}{_kept(one, plan, sizes)}" for one in plan.faces.limits
        )
        if not plan.faces.binding:
            yield "  No limit binds."
    yield from (f"  {line}" for line in (*_deck_lines(plan), *_axis_lines(plan)))


def _cut_words(cut: str, size: float, plan: Plan) -> str:
    """The size of a cut; on the deck at the lowest corner and, where that is known, at the
    highest.
    """
    said = plan.measure.exactly
    deck = plan.decks.get(cut)
    if deck is None:
        return said(size)
    return f"{said(size)} off the lowest corner, that is {said(size + deck.spread)} off the highest"


def _deck_lines(plan: Plan) -> Iterator[str]:
    """From where on a cut cleans the whole deck, and whether the deck needs one for itself."""
    for cut, deck in plan.decks.items():
        needs = (
            "tilt and twist are OK"
            if deck.true
            else "tilt or twist is not OK, so the deck wants this cut"
        )
        whole = f"{deck.name}: whole deck" if deck.name else "Whole deck"
        yield f"{whole} cleans at {_cut_words(cut, 0.0, plan)}; {needs}"


def today(limit: SizeLimit, measure: Printer) -> str:
    """A limit with its numbers, and what may still come off under it or what it asks for."""
    bound = measure.limits(limit.low, limit.high)
    room = half_up(limit.before - limit.bound, GUARD_DIGITS)
    if any(each > 0 for each in limit.coefficients.values()):
        return f"{limit.name}: {bound}"
    if limit.end == "low":
        found = (
            f"{measure.room(room)} may still come off"
            if room >= 0
            else f"short by {measure.beside(-room, 0.0)} already"
        )
    else:
        found = f"asks for {measure.beside(room, 0.0)}" if room > 0 else "asks for no cut"
    return (
        f"{limit.name}: {measure.beside(limit.before, limit.bound)} before a cut, {bound}, {found}"
    )


def _kept(limit: SizeLimit, plan: Plan, sizes: CutSizes) -> str:
    """What the cuts leave of a limited size, and how near to its limit that is."""
    margin = limit.margin(sizes)
    near = (
        f"; within ± {plan.measure.uncertainty(limit.uncertainty)} of its limit, UNSURE"
        if margin < limit.uncertainty
        else ""
    )
    binds = "; binds" if limit in plan.faces.binding else ""
    return (
        f", {plan.measure.beside(limit.after(sizes), limit.bound)} after "
        f"({limit.source}){binds}{near}"
    )


def _axis_lines(plan: Plan) -> Iterator[str]:
    said, shift = plan.measure.exactly, plan.axis_shift
    if shift is None:
        yield (
            "Crank axis: taken as staying where it is, for the cells of the line bore are "
            "not filled."
        )
        return
    way = "towards the deck" if plan.whole else "up in the block"
    yield f"Crank axis moves {way}: {plan.measure.beside(shift, 0.0)}"
    if not plan.whole:
        return
    words = "Bottom cut that restores axis to bottom"
    if plan.restored is None:
        stays = half_up(shift, GUARD_DIGITS) == 0
        yield (
            f"{words}: "
            f"{'none needed' if stays else 'none can, for the axis moves away from the deck'}"
        )
    elif (sizes := plan.restored.rounded(plan.measure.decimals)) is None:
        against = "; ".join(today(one, plan.measure) for one in plan.restored.conflict)
        yield f"{words}: {said(shift)}, forbidden: {against}"
    else:
        least = "; ".join(
            f"{cut.words.lower()} {said(sizes[cut.key])}" for cut in plan.restored.cuts
        )
        yield f"{words}: {said(shift)} ({least})"


def bore_lines(row: BoresTold) -> Iterator[str]:
    """What each bore cleans up at, the finish sizes, and what they leave of the lands."""
    said, most = row.measure.beside, row.largest
    yield "Bores"
    yield from (
        f"  {one.name} cleans up at {said(one.clean_up, most)}"
        for one in row.bores
        if one.clean_up is not None
    )
    if most is not None and all(one.clean_up is None for one in row.bores):
        yield "  Nothing can be worked out yet."
    if most is None and all(one.size is None for one in row.bores):
        yield "  The spec has no oversizes: the bores are not planned."
    for one in row.forbidden:
        yield (
            f"  Forbidden: {one.name} is not clean at the largest oversize, "
            f"{row.measure.given(most or 0.0).quantity(most or 0.0)}"
        )
    yield from (f"  {line}" for line in _finish_lines(row))
    yield from (
        f"  {_land_line(land, row.land_measure)}" for land in row.lands if land.left is not None
    )


def _finish_lines(row: BoresTold) -> Iterator[str]:
    """The finish size of all bores, or of each where they differ, and what is bored so that the
    hone has its stock; which bores it leaves unclean.
    """
    said, alike = row.measure.exactly, len({one.size for one in row.bores}) == 1
    for one in row.bores[:1] if alike else [one for one in row.bores if one not in row.unclean]:
        if one.size is not None and row.stock is not None:
            bar = said(bore_before_honing(one.size, row.stock))
            yield (
                f"{'Finish' if alike else f'{one.name}, finish'} size, honed: {said(one.size)}; "
                f"bore to {bar}, leaving {said(row.stock)} for the hone; "
                "have the pistons at hand and measured first"
            )
    for one in row.unclean:
        yield f"{one.name} planned at {said(one.size or 0.0)}: not clean at that size"


def _land_line(land: Land, measure: Printer) -> str:
    assert land.left is not None
    least = "" if land.least is None else f", {measure.limits(land.least, None)}"
    left = measure.beside(land.left, land.least)
    words = f"{land.name} left to clamp as planned: {left}{least}, {land.verdict} ({land.source})"
    return f"Forbidden: {words}" if land.verdict == OUT else words


def unknown_lines(unknown: Sequence[Unknown]) -> Iterator[str]:
    """What could not be worked out, each with the readings it wants."""
    if unknown:
        yield from ("", "Not worked out, for want of readings")
    for readings in dict.fromkeys(one.readings for one in unknown):
        names = ", ".join(one.name for one in unknown if one.readings == readings)
        yield f"  {names}: {'; '.join(readings) or 'a value it rests on is in error'}"
