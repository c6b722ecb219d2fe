"""Readings taken twice: beside each reading of a group a second one, how far the two lie apart, and
whether that is too far.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from datumbook.cells.columns import Check, Column, Reading, Result
from datumbook.cells.tables import Table
from datumbook.equations.uncertainties import pair_range


def with_repeats(table: Table, groups: Collection[str]) -> Table:
    """The same table with room for a second reading beside each reading of these groups."""
    return replace(table, columns=tuple(_columns(table, groups))) if groups else table


def _columns(table: Table, groups: Collection[str]) -> Iterator[Column | Check]:
    for item in table.columns:
        yield item
        if isinstance(item, Reading) and item.group in groups and item.unit is not None:
            yield from _second(table.key, item)


def _second(table: str, first: Reading) -> Iterator[Column | Check]:
    again, apart = f"{first.name}_again", f"{first.name}_apart"
    yield replace(
        first,
        name=again,
        words=f"{first.words}, again",
        wanted=False,
        again=True,
        how="Second reader, without sight of the first.",
    )
    pair = {"first": f"{table}.{{row}}.{first.name}", "second": f"{table}.{{row}}.{again}"}
    yield Result(
        name=apart,
        words=f"{first.words}, apart",
        unit=first.unit,
        decimals=first.decimals,
        rows=first.rows,
        width=first.width,
        equation=pair_range,
        inputs=pair,
    )
    yield Check(
        of=apart,
        high=f"instruments.{first.group}.widest_pair",
        if_stated=True,
        rows=first.rows,
        source="two steps of the gauge; read the place again",
    )
