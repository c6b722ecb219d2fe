"""What each bore cleans up at, the finish size planned for it, and the lands that leaves."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from datumbook.plan.numbers import Numbers
from datumbook.plan.words import Bore, BoresTold, Land


def bores(work: Numbers) -> BoresTold:
    """What the bore, land and plan sheets say of the bores; no sizes and no lands where the spec
    has nothing to bore to.
    """
    rebore, oversizes = work.stations.bores.rebore, work.layout.spec.bores.oversizes
    each = tuple(_bore(work, number) for number in work.layout.cylinders())
    return BoresTold(
        bores=each,
        stock=work.number(rebore.clean_up_stock.key),
        largest=work.end(rebore.worst_clean_up.key, "high") if oversizes else None,
        lands=tuple(_lands(work)),
        measure=work.measure("bores"),
        land_measure=work.measure("lands"),
    )


def _bore(work: Numbers, number: int) -> Bore:
    key = work.stations.bores.each.clean_up_size[number]
    work.known(f"Size that cleans cylinder {number}", key)
    return Bore(f"Cylinder {number}", work.number(key), _finish(work, number))


def _finish(work: Numbers, cylinder: int | str) -> float | None:
    """The finish size decided for a cylinder: the one typed, else the one suggested."""
    each = work.stations.bore_plan.each
    return work.number(each.finish_bore[cylinder]) if work.layout.spec.bored else None


def _lands(work: Numbers) -> Iterator[Land]:
    """Every land between two bores of one bank that both have a finish size, held against its
    limit.
    """
    for row in work.stations.lands.rows:
        for front, rear in pairwise(row.cylinders):
            if _finish(work, front) is not None and _finish(work, rear) is not None:
                key, name = row.widths.clamping_land[f"{front}_{rear}"], f"Land {front} to {rear}"
                work.known(f"{name}, left to clamp", key)
                check, left, least = work.checks[key], work.number(key), work.end(key, "low")
                yield Land(name, left, least, str(work.values[check.verdict]), check.source)
