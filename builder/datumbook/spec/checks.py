"""What the values of a spec say about each other: counts, orders, unique names, counterbores over
their threads.

Each check takes only the parts that were read without a fault, so that all faults of a file are
told at once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import floor

from datumbook.numbers.quantities import Quantity
from datumbook.spec.faults import Problem, problem
from datumbook.spec.hole_checks import bank_problems, hole_problems
from datumbook.spec.holes import FacePlan, HoleGroup
from datumbook.spec.model import Bank, Bores, Engine, Heights, Lands
from datumbook.spec.positions import Path


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts of a spec that hold by themselves; None and missing indexes are those that do
    not.
    """

    engine: Engine | None
    bores: Bores | None
    lands: Lands | None
    heights: Heights | None
    banks: tuple[Bank, ...]
    holes: dict[int, HoleGroup]
    outlines: dict[int, FacePlan]


def problems_between(parts: Parts) -> Iterator[Problem]:
    """Yield every fault between the values of a spec."""
    if parts.bores:
        yield from _bores(parts.bores)
    if parts.lands:
        yield from (
            _banks(parts.banks, parts.engine, parts.bores)
            if parts.banks
            else _lands(parts.lands, parts.engine)
        )
        yield from () if parts.banks else _one_row(parts.lands, parts.heights)
    if parts.lands and parts.bores and not parts.banks:
        yield from _metal_between(
            ("lands",), parts.lands.centres, parts.lands.deck_length, parts.bores
        )
    yield from _repeated(
        ((("holes", at, "key"), group.key) for at, group in parts.holes.items()),
        "over another group",
    )
    names = (
        (("holes", at, "names", n), name)
        for at, group in parts.holes.items()
        for n, name in enumerate(group.names)
    )
    yield from _repeated(names, "on another hole")
    for at, group in parts.holes.items():
        yield from _holes(("holes", at), group)
    if parts.engine:
        decks: list[tuple[Path, HoleGroup | FacePlan]] = [
            (("holes", at), group) for at, group in parts.holes.items()
        ]
        decks += [(("outlines", at), outline) for at, outline in parts.outlines.items()]
        for path, deck in decks:
            yield from bank_problems(path, deck.face, deck.bank, [bank.key for bank in parts.banks])


def _bores(bores: Bores) -> Iterator[Problem]:
    yield from _increasing(("bores", "oversizes"), bores.oversizes)
    yield from _repeated(
        ((("bores", "depths", at, "key"), depth.key) for at, depth in enumerate(bores.depths)),
        "over another depth",
    )
    yield from _increasing(("bores", "depths"), [depth.at for depth in bores.depths])


def _lands(lands: Lands, engine: Engine | None) -> Iterator[Problem]:
    yield from _row(
        ("lands",), lands.centres, lands.deck_length, engine.cylinders if engine else None
    )


def _row(
    path: Path, centres: Sequence[Quantity], deck_length: Quantity | None, cylinders: int | None
) -> Iterator[Problem]:
    """Yield the faults of one row of centres under one deck."""
    yield from _increasing((*path, "centres"), centres)
    if cylinders is not None and len(centres) != cylinders:
        found, expected = _counted(len(centres), "centre"), _counted(cylinders, "cylinder")
        yield problem((*path, "centres"), "centres-count", found, expected)
    for at, centre in enumerate(centres):
        if deck_length is not None and centre.exactly("mm") >= deck_length.exactly("mm"):
            yield problem((*path, "centres", at), "beyond-deck", centre.text, deck_length.text)


def _metal_between(
    path: Path, centres: Sequence[Quantity], deck_length: Quantity | None, bores: Bores
) -> Iterator[Problem]:
    """Yield every bore that leaves no metal before it, or behind it at the deck's end."""
    bore = bores.standard.low
    assert bore is not None  # a Band has both ends
    size, walls = bore.exactly("mm"), [Fraction(0), *(centre.exactly("mm") for centre in centres)]
    for at, (front, rear) in enumerate(pairwise(walls)):
        if rear - front <= (size if at else size / 2):
            yield problem((*path, "centres", at), "no-metal-left", centres[at].text, bore.text)
    if (
        deck_length is not None
        and centres
        and 0 < deck_length.exactly("mm") - walls[-1] <= size / 2
    ):
        yield problem(
            (*path, "centres", len(centres) - 1), "no-metal-left", centres[-1].text, bore.text
        )


def _banks(banks: Sequence[Bank], engine: Engine | None, bores: Bores | None) -> Iterator[Problem]:
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
        found = ", ".join(map(str, every))
        yield problem(("banks", 0, "cylinders"), "cylinders-of-banks", found, str(engine.cylinders))
    if engine and len(banks) > 1 and engine.bank_angle is None:
        yield problem(
            ("engine", "bank_angle"),
            "missing-key",
            "bank_angle",
            description="the angle between the banks",
        )


def _one_row(lands: Lands, heights: Heights | None) -> Iterator[Problem]:
    """Yield what an engine without banks lacks."""
    if lands.deck_length is None:
        yield problem(
            ("lands", "deck_length"),
            "missing-key",
            "deck_length",
            description="the length of the deck",
        )
    for name in ("overall", "overall_limit", "bottom") if heights else ():
        if getattr(heights, name) is None:
            yield problem(
                ("heights", name),
                "missing-key",
                name,
                description=f"the {name.replace('_', ' ')} of the heights",
            )


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _increasing(path: Path, sizes: Sequence[Quantity]) -> Iterator[Problem]:
    for at, (before, size) in enumerate(pairwise(sizes), start=1):
        if size.exactly("mm") <= before.exactly("mm"):
            yield problem((*path, at), "not-increasing", size.text, before.text)


def _repeated(places: Iterator[tuple[Path, str]], where: str) -> Iterator[Problem]:
    """Yield each name that stood before; names of cells are compared without regard to capitals."""
    seen: set[str] = set()
    for path, name in places:
        if name.lower() in seen:
            yield problem(path, "duplicate", name, where)
        seen.add(name.lower())


def _holes(path: Path, group: HoleGroup) -> Iterator[Problem]:
    from datumbook.standards.drills import parse_drill  # tables, read when holes are
    from datumbook.standards.threads import parse_thread

    yield from _unreadable((*path, "thread"), "unknown-thread", group.thread, parse_thread)
    yield from _unreadable(
        (*path, "opened_from"), "unknown-thread", group.opened_from, parse_thread
    )
    yield from _unreadable((*path, "drill"), "unknown-drill", group.drill, parse_drill)
    yield from _repeated(
        (((*path, "operations", at), name) for at, name in enumerate(group.operations)),
        "among these operations",
    )
    yield from _smaller_thread((*path, "thread"), group)
    if group.drill and "drill" not in group.operations:
        yield problem((*path, "drill"), "drill-unused", group.drill)
    yield from _counterbore(path, group)
    yield from hole_problems(path, group)


def _smaller_thread(path: Path, group: HoleGroup) -> Iterator[Problem]:
    """Yield a thread that is not larger than the one it is to be opened from."""
    from datumbook.standards.threads import parse_thread

    try:
        if (
            group.opened_from
            and parse_thread(group.thread).major_mm <= parse_thread(group.opened_from).major_mm
        ):
            yield problem(path, "thread-not-larger", group.thread, group.opened_from)
    except ValueError:
        return


def _unreadable(
    path: Path, code: str, text: str | None, read: Callable[[str], object]
) -> Iterator[Problem]:
    """Yield the refusal of a designation in the words of the table that refuses it."""
    try:
        if text is not None:
            read(text)
    except ValueError as refusal:
        yield problem(path, code, text or "", str(refusal))


def _counterbore(path: Path, group: HoleGroup) -> Iterator[Problem]:
    wanted = "counterbore" in group.operations
    if wanted and group.counterbore is None:
        yield problem((*path, "operations"), "counterbore-missing")
    if group.counterbore is None:
        return
    if not wanted:
        yield problem((*path, "counterbore"), "counterbore-unused", group.counterbore.diameter.text)
    yield from _counterbore_over_thread(
        (*path, "counterbore", "diameter"), group.counterbore.diameter, group.thread
    )


def _counterbore_over_thread(path: Path, diameter: Quantity, thread: str) -> Iterator[Problem]:
    """Yield a counterbore that cuts no land: not over the thread's major diameter. Common practice,
    no source.
    """
    from datumbook.standards.threads import parse_thread

    try:
        major = Fraction(f"{parse_thread(thread).major_mm:.9f}")
    except ValueError:
        return
    if diameter.exactly("mm") <= major:
        first, second = _sizes_over(major, metric=diameter.unit == "mm")
        yield problem(
            path, "counterbore-too-small", diameter.text, thread, first=first, second=second
        )


def _sizes_over(major: Fraction, metric: bool) -> tuple[str, str]:
    """Return two usual sizes over a diameter in mm: half millimetres, or sixty-fourths of an inch,
    the better first.

    >>> _sizes_over(Fraction(79375, 10000), metric=False), _sizes_over(Fraction(8), metric=True)
    (('11/32 in', '21/64 in'), ('8.5 mm', '9.0 mm'))
    """
    if metric:
        halves = floor(major * 2) + 1
        return f"{halves / 2:.1f} mm", f"{(halves + 1) / 2:.1f} mm"
    parts = floor(major / Fraction(254, 10) * 64) + 1
    return _inches(Fraction(parts + 1, 64)), _inches(Fraction(parts, 64))


def _inches(size: Fraction) -> str:
    whole, part = divmod(size, 1)
    return f"{' '.join(str(one) for one in (whole, part) if one)} in"
