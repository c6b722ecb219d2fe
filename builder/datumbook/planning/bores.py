"""What each bore cleans up at, the finish size planned for it, and the lands that leaves."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from datumbook.equations.liners import YES
from datumbook.planning.numbers import Numbers
from datumbook.planning.words import Bore, BoresTold, Land
from datumbook.stations.decided.resources import Bored

SET_OVER_TYPED = ("typed_offset", "typed_across")


def bores(work: Numbers) -> BoresTold:
    """What the bore, land and plan sheets say of the bores; no sizes and no lands where the spec
    has nothing to bore to, nothing where this job does not measure them.
    """
    bored, oversizes = work.stations.bored, work.layout.spec.bores.oversizes
    if bored is None:
        return BoresTold((), None, None, (), work.measure("bores"), work.measure("lands"))
    rebore = bored.bores.rebore
    return BoresTold(
        bores=tuple(_bore(work, bored, number) for number in work.layout.cylinders()),
        stock=work.number(rebore.clean_up_stock.key),
        largest=work.end(rebore.worst_clean_up.key, "high") if oversizes else None,
        lands=tuple(_lands(work, bored)),
        measure=work.measure("bores"),
        land_measure=work.measure("lands"),
    )


def _bore(work: Numbers, bored: Bored, number: int) -> Bore:
    own, boring = bored.bores.each.clean_up_size[number], bored.boring
    name, wanted = f"Cylinder {number}", f"Size that cleans cylinder {number}"
    plan = boring.each
    if not boring.decided:
        work.known(wanted, own)
        return Bore(name, work.number(own), None)
    clean = plan.clean_up[number]
    work.known(wanted, clean)
    offset, across, *typed = (
        work.number(plan.column(column)[number]) if plan.has(column, str(number)) else None
        for column in ("offset", "across", *SET_OVER_TYPED)
    )
    return Bore(
        name,
        work.number(clean),
        _finish(work, bored, number),
        work.number(own),
        work.verdict(clean),
        offset or 0.0,
        across or 0.0,
        any(one is not None for one in typed),
        work.number(boring.bore_in_block[number]),
        bool(boring.dry_liners) and work.words(plan.liner[number]) == YES,
    )


def _finish(work: Numbers, bored: Bored, cylinder: int | str) -> float | None:
    """The finish size decided for a cylinder: the one typed, else the one suggested."""
    decided = bored.boring.decided
    return work.number(decided[cylinder]) if decided else None


def _lands(work: Numbers, bored: Bored) -> Iterator[Land]:
    """Every land between two bores of one bank that both have a finish size, held against its
    limit.
    """
    for row in bored.rows.rows if bored.rows else ():
        for front, rear in pairwise(row.cylinders):
            if None not in (_finish(work, bored, front), _finish(work, bored, rear)):
                key, name = row.widths.clamping_land[f"{front}_{rear}"], f"Land {front} to {rear}"
                work.known(f"{name}, left to clamp", key)
                check, left, least = work.checks[key], work.number(key), work.end(key, "low")
                yield Land(name, left, least, str(work.values[check.verdict]), check.source)
