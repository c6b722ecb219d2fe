"""What the values of one group of holes say about each other: places, cuts, dangerous holes, rules
and grades by name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, TypeVar

from datumbook.formulas.functions import at_least, less_than
from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec.holes import HoleGroup
from datumbook.spec.positions import Path

if TYPE_CHECKING:
    from datumbook.standards.threads import Thread

Named = TypeVar("Named")

SIZED = ("ream", "spot-face", "countersink")
OF_INSERT = ("insert drill", "insert tap", "insert")


def hole_faults(path: Path, group: HoleGroup, oversize_mm: float | None) -> Iterator[Fault]:
    """Yield every fault between the values of one group of holes.

    oversize_mm: what its drill cuts over its own size, None where neither group nor shop states it.
    """
    from datumbook.standards.hole_rules import engagement_rule  # tables, read when holes are

    if group.places and len(group.places) != len(group.names):
        yield fault_at(
            (*path, "places"), "hole-places", str(len(group.places)), str(len(group.names))
        )
    for at, danger in enumerate(group.danger):
        if danger.hole not in group.names:
            yield fault_at(
                (*path, "danger", at, "hole"), "hole-unknown", danger.hole, ", ".join(group.names)
            )
    if group.thread_depth.exactly("mm") >= group.floor.exactly("mm"):
        yield fault_at(
            (*path, "thread_depth"),
            "thread-beyond-floor",
            group.thread_depth.text,
            group.floor.text,
        )
    yield from turned_down((*path, "engagement"), "unknown-rule", group.engagement, engagement_rule)
    yield from _cuts(path, group)
    yield from _threads(path, group, oversize_mm)


def bank_faults(path: Path, face: str, bank: str | None, banks: Sequence[str]) -> Iterator[Fault]:
    """Yield a deck of which the bank is not said where there are several, and a bank that is none
    of the engine's decks.
    """
    if bank is None and face == "deck" and len(banks) > 1:
        yield fault_at((*path, "bank"), "bank-needed", "deck", ", ".join(banks))
    if bank is not None and (face != "deck" or bank not in banks):
        known = banks if face == "deck" else []
        yield fault_at((*path, "bank"), "bank-unknown", bank, ", ".join(known) or "none")


def _cuts(path: Path, group: HoleGroup) -> Iterator[Fault]:
    for at, name in enumerate(group.operations):
        if name in OF_INSERT and group.insert is None:
            yield fault_at((*path, "operations", at), "cut-missing", name, "insert")
        if name in SIZED and group.cut(name) is None:
            yield fault_at((*path, "operations", at), "cut-missing", name, "cuts")
    for at, cut in enumerate(group.cuts):
        if cut.operation not in group.operations:
            yield fault_at((*path, "cuts", at), "cut-unused", cut.operation)
    if group.insert is not None and not set(OF_INSERT) & set(group.operations):
        yield fault_at((*path, "insert"), "cut-unused", "insert")


def turned_down(
    path: Path, code: str, text: str | None, table: Callable[..., object], *asked: object
) -> Iterator[Fault]:
    """Yield the refusal of a text, where there is one, in the words of the table that refuses it.

    asked: what the table is asked, where that is not the text alone.
    """
    try:
        if text is not None:
            table(*(asked or [text]))
    except (LookupError, ValueError) as refusal:
        yield fault_at(path, code, text or "", str(refusal))


def _known(read: Callable[[str], Named], text: str | None) -> Named | None:
    """What a designation names, None for one that is refused elsewhere."""
    try:
        return None if text is None else read(text)
    except ValueError:
        return None


def _threads(path: Path, group: HoleGroup, oversize_mm: float | None) -> Iterator[Fault]:
    """Yield what does not go with the thread: its drill, the thread before it, what is cut over
    it, its fastener, a length of engagement for which no hole is recommended.
    """
    from datumbook.standards.drill_choice import hole_limits
    from datumbook.standards.drills import choice, drills_for, parse_drill
    from datumbook.standards.threads import parse_thread

    thread, before = (_known(parse_thread, text) for text in (group.thread, group.opened_from))
    if thread is None:
        return
    if before is not None and thread.major_mm <= before.major_mm:
        yield fault_at(
            (*path, "thread"), "thread-not-larger", group.thread, group.opened_from or ""
        )
    stand = drills_for(thread, oversize_mm=oversize_mm)
    if "drill" in group.operations and group.drill is None and not stand:
        yield fault_at((*path, "thread"), "drill-needed", group.thread)
    drill = _known(parse_drill, group.drill)
    if drill and at_least(choice(thread, drill, oversize_mm).hole_mm, thread.effective_mm):
        yield fault_at((*path, "drill"), "drill-leaves-no-thread", drill.name, thread.designation)
    yield from _cuts_over(path, group, thread)
    yield from _insert(path, group, thread)
    yield from _fastener(path, group, thread)
    yield from _tightening(path, group, thread)
    if group.engagement_length is not None:
        yield from turned_down(
            (*path, "engagement_length"),
            "no-recommended-hole",
            group.engagement_length.text,
            hole_limits,
            thread,
            group.engagement_length.to("mm"),
        )


def _insert(path: Path, group: HoleGroup, thread: Thread) -> Iterator[Fault]:
    """Yield an insert whose drill is not known: neither named nor in the table."""
    from datumbook.standards.drills import parse_drill
    from datumbook.standards.inserts import insert_drill

    if group.insert is None:
        return
    path = (*path, "insert", "drill")
    yield from turned_down(path, "unknown-drill", group.insert.drill, parse_drill)
    if group.insert.drill is None:
        yield from turned_down(path, "insert-unknown", group.thread, insert_drill, thread)


def _fastener(path: Path, group: HoleGroup, thread: Thread) -> Iterator[Fault]:
    """Yield what does not go with the fastener: its grade, the thread of its nut end."""
    from datumbook.standards.strength import strength
    from datumbook.standards.threads import parse_thread

    if group.fastener is None:
        return
    grade, nut_end = group.fastener.grade, group.fastener.nut_end
    yield from turned_down((*path, "fastener", "nut_end"), "unknown-thread", nut_end, parse_thread)
    ends = [one for one in (thread, _known(parse_thread, nut_end)) if one is not None]
    for end in ends:
        refusals = list(
            turned_down((*path, "fastener", "grade"), "unknown-grade", grade, strength, grade, end)
        )
        yield from refusals
        if refusals:
            break


def _tightening(path: Path, group: HoleGroup, thread: Thread) -> Iterator[Fault]:
    """Yield what a way of tightening lacks to be reckoned, or what is stated for another."""
    from datumbook.standards.tightening import clamp_scatter

    told = group.tightening
    if told is None:
        return
    path, by, stretched = (*path, "tightening"), clamp_scatter(told.way).by, told.stretched
    friction = (told.thread_friction, told.head_friction, told.head_face)
    if any(friction) and not (all(friction) and group.mating_hole and thread.form.charted):
        yield fault_at(
            path,
            "tightening-lacks",
            "friction of thread and head",
            "thread_friction, head_friction, head_face and mating_hole, with a thread of 60 "
            "degrees",
        )
    for name, value in (("angle", told.angle), ("stretch", told.stretch)):
        if value is not None and by != name:
            yield fault_at((*path, name), "tightening-other-way", name, told.way)
    if by == "angle" and not (
        told.angle and group.torque and stretched and stretched.joint_stiffer
    ):
        yield fault_at(
            path,
            "tightening-lacks",
            "a turn",
            "angle, torque, and stretched with its joint_stiffer",
        )
    if by == "stretch" and not (told.stretch and stretched):
        yield fault_at(path, "tightening-lacks", "a stretch", "stretch and stretched")
    if by == "aim" and not (group.fastener and group.fastener.grade):
        yield fault_at(path, "tightening-lacks", told.way, "the fastener's grade")
    if stretched and bool(stretched.shank) != bool(stretched.shank_diameter):
        yield fault_at(
            (*path, "stretched"), "tightening-lacks", "a shank", "shank and shank_diameter"
        )


def _cuts_over(path: Path, group: HoleGroup, thread: Thread) -> Iterator[Fault]:
    """Yield a cut over a thread that leaves it no land: not over its major diameter. Common
    practice, no source.
    """
    for at, cut in enumerate(group.cuts):
        if cut.operation == "countersink" and less_than(cut.diameter.to("mm"), thread.major_mm):
            yield fault_at(
                (*path, "cuts", at, "diameter"),
                "countersink-too-small",
                cut.diameter.text,
                thread.designation,
            )
    major = Fraction(f"{thread.major_mm:.9f}")
    if group.counterbore and group.counterbore.diameter.exactly("mm") <= major:
        diameter = group.counterbore.diameter
        first, second = _sizes_over(major, metric=diameter.unit == "mm")
        yield fault_at(
            (*path, "counterbore", "diameter"),
            "counterbore-too-small",
            diameter.text,
            group.thread,
            first=first,
            second=second,
        )


def _sizes_over(major: Fraction, metric: bool) -> tuple[str, str]:
    """Return two usual sizes over a diameter in mm: half millimetres, or sixty-fourths of an inch,
    the better first.

    >>> _sizes_over(Fraction(79375, 10000), metric=False), _sizes_over(Fraction(8), metric=True)
    (('11/32 in', '21/64 in'), ('8.5 mm', '9.0 mm'))
    """
    from datumbook.standards.thread_rows import in_words

    if metric:
        halves = floor(major * 2) + 1
        return f"{halves / 2:.1f} mm", f"{(halves + 1) / 2:.1f} mm"
    parts = floor(major / Fraction(254, 10) * 64) + 1
    return f"{in_words(Fraction(parts + 1, 64))} in", f"{in_words(Fraction(parts, 64))} in"
