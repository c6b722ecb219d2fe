"""What the walls and lands leave of room to set the boring bar over, with each bore at its finish
size of the plan sheet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import pairwise

from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Limit
from datumbook.optimise.least_set_over import SetOver, least_set_over
from datumbook.plan.numbers import Numbers
from datumbook.spec.features import WallPlace
from datumbook.spec.model import Bank
from datumbook.stations.received.walls import SIDES


def set_overs(work: Numbers) -> Mapping[str, SetOver]:
    """The least set-overs of each bank, by its words; a bank without finish bores or with centres
    unread is left out.
    """
    found: dict[str, SetOver] = {}
    boring = work.layout.stations.bore_plan.each
    for bank in work.layout.spec.rows if work.layout.spec.bored else ():
        cylinders = [str(number) for number in bank.cylinders]
        if any(work.number(boring.finish_bore[cylinder]) is None for cylinder in cylinders):
            continue
        off = work.known(
            bank.title("Setting the bar over"),
            *(boring.off_place[cylinder] for cylinder in cylinders),
        )
        if off:
            limits = [
                *_lands(work, bank),
                *(limit for cylinder in cylinders for limit in _walls(work, cylinder)),
            ]
            found[bank.words] = least_set_over(dict(zip(cylinders, off, strict=True)), limits)
    return found


def _lands(work: Numbers, bank: Bank) -> Iterator[Limit]:
    """Every land left to clamp on: a rear bore set over to the rear widens it, a front bore narrows
    it.
    """
    for front, rear in pairwise(map(str, bank.cylinders)):
        key = f"lands{bank.suffix}.{front}_{rear}.clamping_land"
        left, least = work.number(key), work.end(key, "low")
        if left is not None and least is not None:
            before = left + _set_over(work, front) - _set_over(work, rear)
            yield Limit(
                f"Land {front} to {rear} left to clamp",
                {front: -1.0, rear: 1.0},
                half_up(before, GUARD_DIGITS),
                "low",
                least,
                work.check(key).source,
            )


def _walls(work: Numbers, cylinder: str) -> Iterator[Limit]:
    """Every position of a bore's wall: the bar set over away from it leaves it thicker."""
    spec = work.layout.spec.walls
    for place in spec.positions if spec is not None else ():
        key = f"wall_left.{cylinder}.at_{place.key}"
        check = f"wall.{cylinder}.left_{list(SIDES)[0 if place.thrust else 1]}"
        name, least = f"Wall of cylinder {cylinder}, {place.words}", work.end(check, "low")
        if least is not None:
            for left in work.known(name, key):
                sizes = (work.turned(left, key, "lands"), work.turned(least, key, "lands"))
                yield from _wall(work, cylinder, place, sizes, (name, work.check(check).source))


def _wall(
    work: Numbers,
    cylinder: str,
    place: WallPlace,
    sizes: tuple[float, float],
    said: tuple[str, str],
) -> Iterator[Limit]:
    """One wall about its bore's own centre, in the unit of the lands; a place whose side is not
    said may lose either way.
    """
    (left, least), (name, source) = sizes, said
    moved = _set_over(work, cylinder)
    ways = (1.0, -1.0) if place.angle is None else (math.cos(place.angle.to("rad")),)
    before = left + abs(moved) if place.angle is None else left - moved * ways[0]
    for way in ways:
        yield Limit(
            name,
            {cylinder: way},
            half_up(before, GUARD_DIGITS),
            "low",
            half_up(least, GUARD_DIGITS),
            source,
        )


def _set_over(work: Numbers, cylinder: str) -> float:
    """The set-over with which the sheets reckon."""
    return work.number(work.layout.stations.bore_plan.each.offset[cylinder]) or 0.0
