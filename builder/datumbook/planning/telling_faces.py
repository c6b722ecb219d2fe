"""The faces in plain text: every set-up beside the others, the one proposed, what it leaves of each
limit and above each piston.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from datumbook.equations import crowns
from datumbook.grouping import grouped
from datumbook.numbers.printing import Printer
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import CutSizes, SizeLimit
from datumbook.planning.limits import LIMIT_ENDS
from datumbook.planning.words import Crown, FaceSet, FacesPlanned, Tried
from datumbook.stations.decided.face_corners import HOLLOWS_UNREAD

SIZES_FROM = {
    crowns.AS_DRAWN: "parts as drawn",
    crowns.PARTLY_IN_HAND: "parts as measured where they are, else as drawn",
    crowns.IN_HAND: "parts as measured",
}


def face_lines(plan: FacesPlanned, measure: Printer) -> Iterator[str]:
    """What may come off the faces of one bank."""
    yield _heading(plan)
    if nothing := _nothing_forecast(plan, measure):
        yield f"  {nothing}"
        return
    for face, sets in groupby(plan.sets, key=lambda one: one.way.face):
        yield f"  {face}"
        yield from (f"    {line}" for one in sets for line in _set_lines(one, measure))
        refused = [one for one in plan.refused if one[0].startswith(face)]
        yield from (f"    {words[len(face) + 1 :]}: no, for {why}" for words, why in refused)
    yield from (f"  {line}" for line in _proposed(plan, measure))


def decided_face_lines(plan: FacesPlanned, measure: Printer) -> Iterator[str]:
    """The set-ups and cuts proposed for the faces of one bank, and the limits that they reach;
    where none serves, the limits that forbid it.
    """
    yield _heading(plan)
    if nothing := _nothing_forecast(plan, measure):
        yield f"  {nothing}"
        return
    told = [one for one in plan.sets if one.proposed or plan.chosen is None]
    for one in told:
        first, *forbidding = _set_lines(one, measure)
        yield f"  {one.way.face}, {first}"
        yield from (f"  {line}" for line in forbidding)
    if plan.chosen is None:
        yield "  Forbidden: no set-up keeps its limits."
        return
    if plan.hollows_unread:
        yield f"  {HOLLOWS_UNREAD.capitalize()}."
    kept = list(_limits_kept(plan, plan.chosen, measure))
    near = [line for line, reached in kept if reached]
    yield from (f"  {line}" for line in near)
    if len(kept) > len(near):
        yield f"  {len(kept) - len(near)} further limits have more to spare."


def _heading(plan: FacesPlanned) -> str:
    return f"Faces, {plan.bank}" if plan.bank else "Faces"


def _nothing_forecast(plan: FacesPlanned, measure: Printer) -> str:
    """Why nothing is forecast of the faces of one bank, "" where something is."""
    if plan.closure is not None:
        return (
            f"Overall less deck and bottom is {measure.beside(plan.closure, 0.0)}: a height is "
            "misread, and no cut is forecast. Read them again."
        )
    return "" if any(one.answer for one in plan.tried) else "Nothing can be worked out yet."


def _set_lines(one: FaceSet, measure: Printer) -> Iterator[str]:
    """One set-up: what cleans, the least cut under all limits, what the machine is set to."""
    proposed = "proposed" if one.way.hollows_read else "least by the corners"
    words, mark = one.way.set_up, f" ({proposed})" if one.proposed else ""
    if one.way.typed:
        mark = " (as typed)"
    if not one.way.cuts:
        yield from _left_alone(f"{words}{mark}: nothing comes off", one, measure)
        return
    if one.size is None:
        answer = one.tried.answer
        conflict = answer.conflict if answer else ()
        by = " by this limit" if len(conflict) == 1 else ", these limits go not together"
        yield f"{words}{mark}: {_cleans(one, measure)}forbidden{by}:"
        for limit in conflict:
            yield f"  {today(limit, measure)} ({limit.source})"
        return
    said = measure.exactly
    infeed = "" if one.infeed is None else f", infeed {measure.quantity(one.infeed)}"
    more = _asks_for_more(one)
    yield (
        f"{words}{mark}: {_cleans(one, measure)}cut {said(one.size)} off the lowest corner "
        f"({one.counted_off}){more}; touch on the {one.touch_on} corner{infeed}; "
        f"{_tilts(one, measure)}"
    )


def _left_alone(said: str, one: FaceSet, measure: Printer) -> Iterator[str]:
    """A face that is not cut, which is never forbidden: what it does not keep is so without a
    cut, and what another face's cut breaks is told of that face.
    """
    answer = one.tried.answer
    if one.size is not None:
        seen = "" if one.way.hollows_read else "; hollows not read"
        yield f"{said}, every limit holds{seen}"
    elif answer is None or any(way.cuts for way in one.tried.ways):
        yield said
    else:
        yield f"{said}; so these limits are not kept:"
        for limit in answer.conflict:
            yield f"  {today(limit, measure)} ({limit.source})"


def _cleans(one: FaceSet, measure: Printer) -> str:
    if one.clean is None:
        return ""
    margin = one.tried.margins.get(one.way.cut, 0.0)
    doubt = f", may be off by {measure.uncertainty(margin)}" if margin else ""
    cleans = "cleans at" if one.way.hollows_read else "by the corners"
    return f"{cleans} {measure.needed(one.clean.bound)} ({one.clean.source}){doubt}; "


def _asks_for_more(one: FaceSet) -> str:
    """The limits for which a cut is deeper than what cleans the face."""
    answer, clean = one.tried.answer, one.clean
    if answer is None or answer.sizes is None or clean is None:
        return ""
    bound = half_up(clean.bound + one.tried.margins.get(one.way.cut, 0.0), GUARD_DIGITS)
    deeper = half_up(answer.sizes[one.way.cut] - bound, GUARD_DIGITS) > 0
    asking = [limit.name for limit in one.tried.binding if deeper]
    return f", asked for by {', '.join(dict.fromkeys(asking))}" if asking else ""


def _tilts(one: FaceSet, measure: Printer) -> str:
    tilts = [measure.quantity(abs(tilt)) for tilt in one.tilts]
    if not any(half_up(tilt, measure.decimals) for tilt in one.tilts):
        return "no tilt left"
    return f"tilt left {' lengthwise, '.join(tilts)} crosswise"


def _proposed(plan: FacesPlanned, measure: Printer) -> Iterator[str]:
    """The set-ups proposed and what their cuts leave of every limit."""
    if plan.chosen is None:
        yield "Forbidden: no set-up keeps its limits."
        return
    sizes = plan.chosen.rounded(measure.decimals) or {}
    ways = [
        f"{way.words}, {measure.exactly(sizes[way.cut])}" if way.cuts else way.words
        for way in plan.chosen.ways
    ]
    yield (
        f"By the corners: {'; '.join(ways)}; {HOLLOWS_UNREAD}. It leaves"
        if plan.hollows_unread
        else f"Proposed: {'; '.join(ways)}. The least that serves; it leaves"
    )
    yield from (f"  {line}" for line, _ in _limits_kept(plan, plan.chosen, measure))
    if plan.chosen.unheld:
        yield f"  Not held yet, for want of readings: {', '.join(plan.chosen.unheld)}"
    if not plan.chosen.binding:
        yield "  No limit binds."


def _limits_kept(plan: FacesPlanned, chosen: Tried, measure: Printer) -> Iterator[tuple[str, bool]]:
    """What the cuts leave of every limit, and whether they reach it or may; of what is limited at
    every corner the worst.
    """
    sizes = chosen.rounded(measure.decimals) or {}
    rooms = {f"Crown of cylinder {one.cylinder}": one for one in plan.crowns}
    families = grouped((limit.name.partition(" at the ")[0], limit) for limit in chosen.held)
    for same in families.values():
        each = [list(ends) for _, ends in groupby(same, key=lambda limit: limit.name)]
        worst = min(each, key=lambda ends: min(one.margin(sizes) for one in ends))
        reached = any(one in chosen.binding or one.margin(sizes) < one.uncertainty for one in worst)
        yield _kept(worst, chosen, sizes, rooms.get(worst[0].name), measure), reached


def today(limit: SizeLimit, measure: Printer) -> str:
    """A limit with its numbers before a cut, and what may still come off under it or what it asks
    for.
    """
    bound = measure.limits(limit.low, limit.high)
    if not limit.coefficients:
        return f"{limit.name}: {measure.beside(limit.before, limit.bound)}, {bound}"
    if any(each > 0 for each in limit.coefficients.values()):
        return f"{limit.name}: {bound}"
    read = limit.before if limit.as_read is None else limit.as_read
    short = half_up(limit.bound - read, GUARD_DIGITS)
    if limit.end == "high":
        asked = -limit.room
        found = f"asks for {measure.beside(asked, 0.0)}" if asked > 0 else "asks for no cut"
    elif limit.room >= 0:
        found = f"{measure.room(limit.room)} may still come off"
    elif short > 0:
        found = f"short by {measure.beside(short, 0.0)} already, whatever is cut"
    else:
        found = f"short by {measure.beside(-limit.room, 0.0)} as soon as the face is cut so"
    return f"{limit.name}: {measure.beside(read, limit.bound)} before, {bound}, {found}"


def _kept(
    ends: Sequence[SizeLimit], tried: Tried, sizes: CutSizes, crown: Crown | None, measure: Printer
) -> str:
    """What the cuts leave of a limited size, where, how much of that is left to the nearer end of
    its limits, and whether the gauge can tell.
    """
    limit = min(ends, key=lambda one: one.margin(sizes))
    after, margin = limit.after(sizes), limit.margin(sizes)
    low, high = (next((one.bound for one in ends if one.end == end), None) for end in LIMIT_ENDS)
    if crown is None:
        found = f"{measure.beside(after, low, high)} after"
    elif after < 0:
        found = f"{measure.beside(-after, 0.0)} proud of the deck"
    else:
        found = f"{measure.beside(after, low, high)} below the deck"
    parts = f", {SIZES_FROM[crown.sizes_from]}" if crown else ""
    binds = "; binds" if any(one in tried.binding for one in ends) else ""
    near = (
        f"; within ± {measure.uncertainty(limit.uncertainty)} of its limit, UNSURE"
        if margin < limit.uncertainty
        else ""
    )
    return (
        f"{limit.name}: {found}{parts}, {measure.limits(low, high)}, {measure.spare(margin)} left "
        f"({limit.source}){binds}{near}"
    )
