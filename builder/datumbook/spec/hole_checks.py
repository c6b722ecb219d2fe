"""What the values of one group of holes say about each other: places, cuts, dangerous holes, rules
and grades by name.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.formulas.functions import at_least, less_than
from datumbook.spec.faults import Problem, problem
from datumbook.spec.holes import HoleGroup
from datumbook.spec.positions import Path

SIZED = ("ream", "spot-face", "countersink")
OF_INSERT = ("insert drill", "insert tap", "insert")


def hole_problems(path: Path, group: HoleGroup) -> Iterator[Problem]:
    """Yield every fault between the values of one group of holes that needs no table of
    counterbores or drills.
    """
    if group.places and len(group.places) != len(group.names):
        yield problem(
            (*path, "places"), "hole-places", str(len(group.places)), str(len(group.names))
        )
    for at, danger in enumerate(group.danger):
        if danger.hole not in group.names:
            yield problem(
                (*path, "danger", at, "hole"), "hole-unknown", danger.hole, ", ".join(group.names)
            )
    yield from _cuts(path, group)
    yield from _rules(path, group)
    yield from _drill(path, group)
    yield from _recommended(path, group)
    yield from _diameters(path, group)


def bank_problems(
    path: Path, face: str, bank: str | None, banks: Sequence[str]
) -> Iterator[Problem]:
    """Yield a deck of which the bank is not said where there are several, and a bank that is none
    of the engine's decks.
    """
    if bank is None and face == "deck" and len(banks) > 1:
        yield problem((*path, "bank"), "bank-needed", "deck", ", ".join(banks))
    if bank is not None and (face != "deck" or bank not in banks):
        known = ", ".join(banks) if face == "deck" and banks else "none"
        yield problem((*path, "bank"), "bank-unknown", bank, known)


def _cuts(path: Path, group: HoleGroup) -> Iterator[Problem]:
    for at, name in enumerate(group.operations):
        sized = (
            group.insert is not None
            if name in OF_INSERT
            else name not in SIZED or group.cut(name) is not None
        )
        if not sized:
            entry = "insert" if name in OF_INSERT else "cuts"
            yield problem((*path, "operations", at), "cut-missing", name, entry)
    for at, cut in enumerate(group.cuts):
        if cut.operation not in group.operations:
            yield problem((*path, "cuts", at), "cut-unused", cut.operation)
    if group.insert is not None and not set(OF_INSERT) & set(group.operations):
        yield problem((*path, "insert"), "cut-unused", "insert")


def _rules(path: Path, group: HoleGroup) -> Iterator[Problem]:
    from datumbook.standards.hole_rules import engagement_rule  # tables, read when holes are
    from datumbook.standards.strength import strength
    from datumbook.standards.threads import parse_thread

    try:
        if group.engagement is not None:
            engagement_rule(group.engagement)
    except LookupError as refusal:
        yield problem((*path, "engagement"), "unknown-rule", group.engagement or "", str(refusal))
    grade = group.fastener.grade if group.fastener else None
    try:
        if grade is not None:
            strength(grade, parse_thread(group.thread))
    except LookupError as refusal:
        yield problem((*path, "fastener", "grade"), "unknown-grade", grade or "", str(refusal))
    except ValueError:
        return  # the thread itself is refused elsewhere


def _diameters(path: Path, group: HoleGroup) -> Iterator[Problem]:
    """Yield sizes that leave no thread: a countersink under it, a drill up to its flanks, a depth
    beyond the metal.
    """
    from datumbook.standards.drills import parse_drill
    from datumbook.standards.threads import parse_thread

    if group.thread_depth.exactly("mm") >= group.floor.exactly("mm"):
        yield problem(
            (*path, "thread_depth"),
            "thread-beyond-floor",
            group.thread_depth.text,
            group.floor.text,
        )
    try:
        thread, drill = (
            parse_thread(group.thread),
            parse_drill(group.drill) if group.drill else None,
        )
    except ValueError:
        return  # refused elsewhere
    for at, cut in enumerate(group.cuts):
        if cut.operation == "countersink" and less_than(cut.diameter.to("mm"), thread.major_mm):
            yield problem(
                (*path, "cuts", at, "diameter"),
                "countersink-too-small",
                cut.diameter.text,
                thread.designation,
            )
    if drill is not None and at_least(drill.diameter_mm, thread.effective_mm):
        yield problem((*path, "drill"), "drill-leaves-no-thread", drill.name, thread.designation)


def _recommended(path: Path, group: HoleGroup) -> Iterator[Problem]:
    """Yield a length of engagement for which no hole is recommended."""
    from datumbook.standards.drill_choice import hole_limits
    from datumbook.standards.threads import parse_thread

    if group.engagement_length is None:
        return
    try:
        thread = parse_thread(group.thread)
    except ValueError:
        return  # the thread itself is refused elsewhere
    try:
        hole_limits(thread, group.engagement_length.to("mm"))
    except ValueError as refusal:
        yield problem(
            (*path, "engagement_length"),
            "no-recommended-hole",
            group.engagement_length.text,
            str(refusal),
        )


def _drill(path: Path, group: HoleGroup) -> Iterator[Problem]:
    """Yield a group that is drilled for a thread of which no drill is known, and names none."""
    from datumbook.standards.drills import drills_for
    from datumbook.standards.threads import parse_thread

    try:
        if (
            "drill" in group.operations
            and group.drill is None
            and not drills_for(parse_thread(group.thread))
        ):
            yield problem((*path, "thread"), "drill-needed", group.thread)
    except ValueError:
        return  # the thread itself is refused elsewhere
