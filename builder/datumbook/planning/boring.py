"""What the walls and lands leave of room to set the boring bar over, along the row and across it,
with each bore at its finish size of the plan sheet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import pairwise

from datumbook.equations.liners import YES
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import SizeLimit
from datumbook.optimise.least_set_over import SetOver, across_of, least_set_over
from datumbook.planning.numbers import Numbers
from datumbook.spec.features import WallPlace
from datumbook.stations.received.lands import BoreRow

ROUND = 16  # corners of the figure that stands for a round one, on it and within


def set_overs(work: Numbers) -> Mapping[str, SetOver]:
    """The least set-overs of each bank, by its words; a bank without finish bores or with centres
    unread is left out.
    """
    found: dict[str, SetOver] = {}
    bored = work.stations.bored
    if bored is None or bored.rows is None or not work.layout.spec.bored:
        return found
    boring = bored.boring.each
    for row in bored.rows.rows:
        finish = [work.number(boring.finish_bore[cylinder]) for cylinder in row.cylinders]
        places = [boring.off_place[cylinder] for cylinder in row.cylinders]
        name = row.bank.title("Setting the bar over")
        if None not in finish and (off := work.known(name, *places)):
            limits = [
                *_lands(work, row),
                *(limit for cylinder in row.cylinders for limit in _walls(work, cylinder)),
                *(limit for cylinder in row.cylinders for limit in _clean(work, cylinder)),
            ]
            centres = dict(zip(row.cylinders, off, strict=True))
            found[row.bank.words] = least_set_over(centres, limits)
    return found


def _lands(work: Numbers, row: BoreRow) -> Iterator[SizeLimit]:
    """Every land left to clamp on: a rear bore set over to the rear widens it, a front bore narrows
    it.
    """
    for front, rear in pairwise(row.cylinders):
        key = row.widths.clamping_land[f"{front}_{rear}"]
        left, least = work.number(key), work.end(key, "low")
        if left is not None and least is not None:
            before = left + _set_over(work, front)[0] - _set_over(work, rear)[0]
            yield SizeLimit(
                f"Land {front} to {rear} left to clamp",
                {front: -1.0, rear: 1.0},
                half_up(before, GUARD_DIGITS),
                "low",
                least,
                work.checks[key].source,
            )


def _walls(work: Numbers, cylinder: str) -> Iterator[SizeLimit]:
    """Every position of a bore's wall: the bar set over away from it leaves it thicker."""
    walls = work.stations.walls
    if walls is None or walls.planned is None:
        return
    for place in walls.spec.positions:
        key = walls.planned.column(f"at_{place.key}")[cylinder]
        side = "thrust" if place.thrust else "elsewhere"
        check = walls.each.column(f"left_{side}")[cylinder]
        name, least = f"Wall of cylinder {cylinder}, {place.words}", work.end(check, "low")
        if least is not None:
            for left in work.known(name, key):
                sizes = (work.turned(left, key, "lands"), work.turned(least, key, "lands"))
                yield from _wall(work, cylinder, place, sizes, (name, work.checks[check].source))


def _clean(work: Numbers, cylinder: str) -> Iterator[SizeLimit]:
    """The size that cleans a bore, surely where it can be so at all, about its own axis; the bar
    set over wants twice the way more, whichever it goes.
    """
    plan = work.stations.bore_plan
    if plan is None or plan.room is None or work.words(plan.room.each.bored[cylinder]) != YES:
        return
    check = plan.each.clean_up[cylinder]
    keys = (plan.room.each.own_axis[cylinder], plan.room.each.surely_own[cylinder])
    found = [work.number(key) for key in keys]
    most = work.end(check, "high")
    own, surely, at = (
        None if size is None else work.turned(size, check, "lands") for size in (*found, most)
    )
    if own is None or surely is None or at is None or own > at:
        return  # what no set-over mends is told of the bore itself
    # what the readings may be off by is kept clear of, unless nothing at all is clear of it
    bound = next((size for size in (at - (surely - own), own) if own <= size <= at), at)
    half = math.pi / ROUND
    for side in range(ROUND):
        angle = half * (2 * side + 1)
        ways = {cylinder: math.cos(angle), across_of(cylinder): math.sin(angle)}
        yield SizeLimit(
            f"Clean-up size of cylinder {cylinder}",
            {word: 2 * each / math.cos(half) for word, each in ways.items()},
            half_up(own, GUARD_DIGITS),
            "high",
            half_up(bound, GUARD_DIGITS),
            work.checks[check].source,
        )


def _wall(
    work: Numbers,
    cylinder: str,
    place: WallPlace,
    sizes: tuple[float, float],
    said: tuple[str, str],
) -> Iterator[SizeLimit]:
    """One wall about its bore's own centre, in the unit of the lands; a place of which it is not
    said where it lies may lose all of the way to the new centre, whichever it goes.
    """
    (left, least), (name, source) = sizes, said
    along, across = _set_over(work, cylinder)
    if place.angle is not None:
        angle = place.angle.to("rad")
        ways = [(math.cos(angle), math.sin(angle))]
        before = left - along * ways[0][0] - across * ways[0][1]
    else:
        half = math.pi / ROUND
        angles = [half * (2 * side + 1) for side in range(ROUND)]
        ways = [
            (math.cos(each) / math.cos(half), math.sin(each) / math.cos(half)) for each in angles
        ]
        before = left + math.hypot(along, across)
    for way in ways:
        yield SizeLimit(
            name,
            dict(zip((cylinder, across_of(cylinder)), way, strict=True)),
            half_up(before, GUARD_DIGITS),
            "low",
            half_up(least, GUARD_DIGITS),
            source,
        )


def _set_over(work: Numbers, cylinder: str) -> tuple[float, float]:
    """The set-overs the sheets work with, along the row and across it."""
    plan = work.stations.bore_plan
    assert plan is not None  # its bores have finish sizes
    boring = plan.each
    return (
        work.number(boring.offset[cylinder]) or 0.0,
        work.number(boring.across[cylinder]) or 0.0,
    )
