"""What the bores clean up at, the size for all of them, and the lands that leaves."""

from __future__ import annotations

from itertools import pairwise

from datumbook.cells.handles import Key
from datumbook.equations.bores import bore_before_honing
from datumbook.plan.numbers import Numbers
from datumbook.plan.words import Bore, Bores, Land


def bores(work: Numbers) -> Bores:
    """What the bore and land sheets say of the next size; no sizes and no lands where the spec has
    no oversizes.
    """
    rebore, oversizes = work.stations.bores.rebore, work.layout.spec.bores.oversizes
    size = work.number(rebore.next_oversize.key) if oversizes else None
    stock = work.number(rebore.clean_up_stock.key)
    return Bores(
        bores=tuple(_bore(work, number) for number in work.layout.cylinders()),
        size=size,
        bore_to=None if size is None or stock is None else bore_before_honing(size, stock),
        stock=stock,
        largest=work.end(rebore.worst_clean_up.key, "high") if oversizes else None,
        lands=() if size is None else _lands(work),
        measure=work.measure("bores"),
        land_measure=work.measure("lands"),
    )


def _bore(work: Numbers, number: int) -> Bore:
    key = work.stations.bores.each.clean_up_size[number]
    work.known(f"Size that cleans cylinder {number}", key)
    return Bore(f"Cylinder {number}", work.number(key))


def _lands(work: Numbers) -> tuple[Land, ...]:
    """Every land between two bores of one bank."""
    return tuple(
        _land(work, row.widths.clamping_land[f"{front}_{rear}"], f"Land {front} to {rear}")
        for row in work.stations.lands.rows
        for front, rear in pairwise(row.cylinders)
    )


def _land(work: Numbers, key: Key, words: str) -> Land:
    """One land at the next size, held against its limit."""
    check = work.checks[key]
    work.known(f"{words}, left to clamp", key)
    verdict = str(work.values[check.verdict])
    return Land(words, work.number(key), work.end(key, "low"), verdict, check.source)
