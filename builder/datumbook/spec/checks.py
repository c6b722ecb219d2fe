"""What the values of a spec say about each other: counts, orders, unique names, counterbores over
their threads.

Each check takes only the parts that were read without a fault, so that all faults of a file are
told at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from datumbook.messages.refusals import Fault, fault_at
from datumbook.numbers.quantities import Quantity
from datumbook.spec.block import Bank, BoreSpec, Engine, Heights, Lands
from datumbook.spec.hole_checks import bank_faults, hole_faults, turned_down
from datumbook.spec.holes import FacePlan, HoleGroup, Shop
from datumbook.spec.positions import Path
from datumbook.spec.values import falling, repeated


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts of a spec that hold by themselves; None and missing indexes are those that do
    not.
    """

    engine: Engine | None
    bores: BoreSpec | None
    lands: Lands | None
    heights: Heights | None
    banks: tuple[Bank, ...]
    holes: dict[int, HoleGroup]
    outlines: dict[int, FacePlan]
    shop: Shop | None


def faults_between(parts: Parts) -> Iterator[Fault]:
    """Yield every fault between the values of a spec."""
    if parts.bores:
        yield from _bores(parts.bores)
    if parts.banks:
        yield from _banks(parts.banks, parts.engine, parts.bores)
    elif parts.lands:
        yield from _one_row(parts, parts.lands)
    yield from _repeated(
        ((("holes", at, "key"), group.key) for at, group in parts.holes.items()),
        "over another group",
    )
    yield from _repeated(
        (
            (("holes", at, "names", n), name)
            for at, group in parts.holes.items()
            for n, name in enumerate(group.names)
        ),
        "on another hole",
    )
    for at, group in parts.holes.items():
        yield from _holes(("holes", at), group, parts.shop)
    if parts.engine:
        decks: list[tuple[Path, HoleGroup | FacePlan]] = [
            (("holes", at), group) for at, group in parts.holes.items()
        ]
        decks += [(("outlines", at), outline) for at, outline in parts.outlines.items()]
        for path, deck in decks:
            yield from bank_faults(path, deck.face, deck.bank, [bank.key for bank in parts.banks])


def _bores(bores: BoreSpec) -> Iterator[Fault]:
    yield from _increasing(("bores", "oversizes"), bores.oversizes)
    yield from _repeated(
        ((("bores", "depths", at, "key"), depth.key) for at, depth in enumerate(bores.depths)),
        "over another depth",
    )
    yield from _increasing(("bores", "depths"), [depth.at for depth in bores.depths])


def _row(
    path: Path, centres: Sequence[Quantity], deck_length: Quantity | None, cylinders: int | None
) -> Iterator[Fault]:
    """Yield the faults of one row of centres under one deck."""
    yield from _increasing((*path, "centres"), centres)
    if cylinders is not None and len(centres) != cylinders:
        found, expected = _counted(len(centres), "centre"), _counted(cylinders, "cylinder")
        yield fault_at((*path, "centres"), "centres-count", found, expected)
    for at, centre in enumerate(centres):
        if deck_length is not None and centre.exactly("mm") >= deck_length.exactly("mm"):
            yield fault_at((*path, "centres", at), "beyond-deck", centre.text, deck_length.text)


def _metal_between(
    path: Path, centres: Sequence[Quantity], deck_length: Quantity | None, bores: BoreSpec
) -> Iterator[Fault]:
    """Yield every bore that leaves no metal before it, or behind it at the deck's end."""
    bore, size = bores.standard.low, bores.standard.low.exactly("mm")
    walls = [Fraction(0), *(centre.exactly("mm") for centre in centres)]
    for at, (front, rear) in enumerate(pairwise(walls)):
        if rear - front <= (size if at else size / 2):
            yield fault_at((*path, "centres", at), "no-metal-left", centres[at].text, bore.text)
    if (
        deck_length is not None
        and centres
        and 0 < deck_length.exactly("mm") - walls[-1] <= size / 2
    ):
        yield fault_at(
            (*path, "centres", len(centres) - 1), "no-metal-left", centres[-1].text, bore.text
        )


def _banks(banks: Sequence[Bank], engine: Engine | None, bores: BoreSpec | None) -> Iterator[Fault]:
    """Yield the faults of an engine's banks: each cylinder once, each bank a sound row, the angle
    between them known.
    """
    for at, bank in enumerate(banks):
        yield from _row(("banks", at), bank.centres, bank.deck_length, len(bank.cylinders))
        if bores:
            yield from _metal_between(("banks", at), bank.centres, bank.deck_length, bores)
    yield from _repeated(
        ((("banks", at, "key"), bank.key) for at, bank in enumerate(banks)), "over another bank"
    )
    every = sorted(number for bank in banks for number in bank.cylinders)
    if engine and every != list(range(1, engine.cylinders + 1)):
        yield fault_at(
            ("banks", 0, "cylinders"),
            "cylinders-of-banks",
            ", ".join(map(str, every)),
            str(engine.cylinders),
        )
    if engine and len(banks) > 1 and engine.bank_angle is None:
        yield fault_at(
            ("engine", "bank_angle"),
            "missing-key",
            "bank_angle",
            description="the angle between the banks",
        )


def _one_row(parts: Parts, lands: Lands) -> Iterator[Fault]:
    """Yield the faults of an engine without banks, and what it lacks."""
    cylinders = parts.engine.cylinders if parts.engine else None
    yield from _row(("lands",), lands.centres, lands.deck_length, cylinders)
    if parts.bores:
        yield from _metal_between(("lands",), lands.centres, lands.deck_length, parts.bores)
    if lands.deck_length is None:
        yield fault_at(
            ("lands", "deck_length"),
            "missing-key",
            "deck_length",
            description="the length of the deck",
        )
    for name in ("overall", "overall_limit", "bottom") if parts.heights else ():
        if getattr(parts.heights, name) is None:
            yield fault_at(
                ("heights", name),
                "missing-key",
                name,
                description=f"the {name.replace('_', ' ')} of the heights",
            )


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _increasing(path: Path, sizes: Sequence[Quantity]) -> Iterator[Fault]:
    for at, before, size in falling(sizes):
        yield fault_at((*path, at), "not-increasing", size.text, before.text)


def _repeated(places: Iterator[tuple[Path, str]], where: str) -> Iterator[Fault]:
    for path, name in repeated(places):
        yield fault_at(path, "duplicate", name, where)


def _holes(path: Path, group: HoleGroup, shop: Shop | None) -> Iterator[Fault]:
    from datumbook.standards.drills import parse_drill  # tables, read when holes are
    from datumbook.standards.threads import parse_thread

    for key in ("thread", "opened_from"):
        yield from turned_down((*path, key), "unknown-thread", getattr(group, key), parse_thread)
    yield from turned_down((*path, "drill"), "unknown-drill", group.drill, parse_drill)
    yield from _repeated(
        (((*path, "operations", at), name) for at, name in enumerate(group.operations)),
        "among these operations",
    )
    if group.drill and "drill" not in group.operations:
        yield fault_at((*path, "drill"), "drill-unused", group.drill)
    if group.drill_oversize and "drill" not in group.operations:
        yield fault_at((*path, "drill_oversize"), "oversize-unused", group.drill_oversize.text)
    yield from _counterbore(path, group)
    yield from hole_faults(path, group, group.oversize_mm(shop))


def _counterbore(path: Path, group: HoleGroup) -> Iterator[Fault]:
    wanted = "counterbore" in group.operations
    if wanted and group.counterbore is None:
        yield fault_at((*path, "operations"), "counterbore-missing")
    if group.counterbore and not wanted:
        yield fault_at(
            (*path, "counterbore"), "counterbore-unused", group.counterbore.diameter.text
        )
