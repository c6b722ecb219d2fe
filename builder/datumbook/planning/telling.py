"""The plan in plain text, in the order of the work: what is typed, line bore, faces, bores, and
what is missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from datumbook.equations.line_bore import AS_THEY_ARE, BORED
from datumbook.numbers.printing import Printer
from datumbook.planning.telling_bores import bore_lines, decided_bore_lines, set_over_lines
from datumbook.planning.telling_faces import decided_face_lines, face_lines, today
from datumbook.planning.words import IntentionJudged, LineBorePlan, Plan, Unknown

UNKNOWN_NAMED = 4  # on a page of decisions
SAID = {
    "finish size": "Line bore to",
    "caps": "Caps off by",
    "front": "Crank line rises at the front",
    "rear": "Crank line rises at the rear",
}


def plan_lines(plan: Plan) -> list[str]:
    """The plan in plain text, line by line; sizes in the unit and decimals of their sheet."""
    head = [f"What may be cut: {plan.block}, {plan.engine}"]
    if plan.damaged:
        head.append("The book is damaged: validate it first. This rests on its readings alone.")
    head += plan.forbidden
    head += ["As far as the readings go: see the end for what is missing."] if plan.unknown else []
    if plan.judged:
        head += ["", *_judged_lines(plan.judged)]
    if plan.line_bore is not None:
        head += ["", *_line_bore_lines(plan.line_bore, plan.measure)]
    for faces in plan.faces.values():
        head += ["", *face_lines(faces, plan.measure)]
    bores = [*bore_lines(plan.bores), *set_over_lines(plan.set_overs, plan.bores)]
    return [*head, "", *bores, *_unknown_lines(plan.unknown)]


def decision_lines(plan: Plan) -> Iterator[tuple[str, list[str]]]:
    """The plan as a page of decisions: each piece of work with what is to be done and what forbids
    it, the ways not taken left out.
    """
    if plan.judged:
        yield _section(_judged_lines(plan.judged))
    if plan.line_bore is not None:
        yield _section(_line_bore_lines(plan.line_bore, plan.measure))
    for faces in plan.faces.values():
        yield _section(decided_face_lines(faces, plan.measure))
    set_over = set_over_lines(plan.set_overs, plan.bores)
    yield _section([*decided_bore_lines(plan.bores), *set_over])
    if plan.unknown:
        names = "; ".join(one.name for one in plan.unknown[:UNKNOWN_NAMED])
        further = len(plan.unknown) - UNKNOWN_NAMED
        more = f"; and {further} more" if further > 0 else ""
        yield "Not worked out, for want of readings", [f"{names}{more}"]


def _section(lines: Iterable[str]) -> tuple[str, list[str]]:
    """The heading of some lines, and the lines below it."""
    title, *below = lines
    return title, [line.removeprefix("  ") for line in below]


def _judged_lines(judged: Sequence[IntentionJudged]) -> Iterator[str]:
    """What is typed, each with what is to be said against it."""
    yield "What is typed"
    for one in judged:
        if one.wants:
            yield f"  {one.intention}: not all is typed, {one.wants} is wanting."
        elif not one.sentences:
            unseen = f"; {one.unseen}" if one.unseen else ""
            yield f"  {one.intention}: keeps every limit that can be worked out{unseen}."
        yield from (f"  {one.intention}: {sentence}." for sentence in one.sentences)


def _line_bore_lines(plan: LineBorePlan, heights: Printer) -> Iterator[str]:
    """The least line bore, what it takes from the binding tunnel and from the decks, or why none
    goes.
    """
    yield "Line bore"
    if plan.typed == AS_THEY_ARE:
        yield "  None: the tunnels stay as they are."
        return
    if not plan.typed and not plan.asked_by:
        none = "Not known whether one is asked for" if plan.unread else "None asked for"
        yield f"  {none}; what follows is worked out with the crank line where it is."
        return
    if plan.asked_by:
        yield f"  Asked for by: {'; '.join(plan.asked_by)}"
    if plan.conflict:
        why = (
            "the sides forbid it, and no cut off the caps moves a side"
            if plan.forbidden_by_sides
            else "more off the caps, or a larger size"
        )
        yield f"  No line goes: {why}. These limits go not together:"
        yield from (f"    {today(one, plan.measure)} ({one.source})" for one in plan.conflict)
    elif plan.sizes is None:
        yield "  Nothing can be worked out yet."
    else:
        yield from _found(plan, heights)
    if plan.sizes is None and plan.typed != BORED:
        yield "  What follows is worked out with the crank line where it is."


def _found(plan: LineBorePlan, heights: Printer) -> Iterator[str]:
    said = plan.measure.exactly
    for word, words in SAID.items():
        if plan.sizes is not None and word in plan.sizes:
            yield f"  {words}: {said(plan.sizes[word])}"
    if (one := plan.binding) is not None:
        metals = ", ".join(
            f"{words} {plan.measure.quantity(size)}" for words, size in one.metals.items()
        )
        anywhere = "but at the sides" if one in plan.untouched else "anywhere"
        yield (
            f"  Tunnel {one.number} binds: {metals} of metal, "
            f"{plan.measure.limits(one.stock, None)} {anywhere}"
        )
    if plan.untouched:
        numbers = ", ".join(one.number for one in plan.untouched)
        yield (
            f"  The sides stay as they are in tunnel {numbers}: within the tunnel's limits, the "
            "cutter does not clean them (common practice, no source)"
        )
    if plan.tighter:
        yield f"  {plan.tighter[:1].upper()}{plan.tighter[1:]}"
    for bank, (front, rear) in plan.lifts.items():
        deck = f"{bank}: takes" if bank else "Takes"
        yield (
            f"  {deck} {heights.quantity(front)} from the deck height at the front corners, "
            f"{heights.quantity(rear)} at the rear"
        )


def _unknown_lines(unknown: Sequence[Unknown]) -> Iterator[str]:
    """What could not be worked out, each with the readings it wants."""
    if unknown:
        yield from ("", "Not worked out, for want of readings")
    for readings in dict.fromkeys(one.readings for one in unknown):
        names = ", ".join(one.name for one in unknown if one.readings == readings)
        yield f"  {names}: {'; '.join(readings) or 'a value it rests on is in error'}"
