"""Readings taken twice: beside each reading of a group a second one, how far the two lie apart, and
whether that is too far.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from datumbook.cells.columns import Check, Column, Reading, Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import Table
from datumbook.equations.uncertainties import pair_range
from datumbook.workbook.layout import Layout


def take_twice(table: Table, layout: Layout) -> None:
    """Give a table room for a second reading beside each reading of the groups read twice."""
    columns, table.columns = table.columns, ()
    for item in columns:
        table.extend([item])
        group = item.group if isinstance(item, Reading) else None
        if group in layout.spec.repeat.groups and isinstance(item, Reading) and item.unit:
            widest = layout.stations.instruments.gauges.widest_pair[group]
            table.extend(_second(item, widest))


def _second(first: Reading, widest: Key) -> Iterator[Column | Check]:
    again = replace(
        first,
        name=f"{first.name}_again",
        words=f"{first.words}, again",
        wanted=False,
        repeats=first,
        how="Second reader, without sight of the first.",
    )
    apart = Result(
        name=f"{first.name}_apart",
        words=f"{first.words}, apart",
        unit=first.unit,
        decimals=first.decimals,
        rows=first.rows,
        width=first.width,
        equation=pair_range,
        inputs={"first": first, "second": again},
    )
    yield from (again, apart)
    source = "two steps of the gauge; read the place again"
    yield Check(of=apart, high=widest, if_stated=True, rows=first.rows, source=source)


def apart(layout: Layout) -> dict[str, list[Key]]:
    """How far first and second readings lie apart, by group: the cells column by column, so that
    they are read as ranges.
    """
    found: dict[str, list[Key]] = {group: [] for group in layout.spec.repeat.groups}
    walked = sorted(layout.readings(), key=lambda one: (one.at.sheet, one.at.column, one.at.row))
    for place in walked:
        column = place.column
        if isinstance(column, Reading) and column.repeats and column.group is not None:
            apart = column.home.column(f"{column.repeats.name}_apart")
            found[column.group].append(apart[place.row])
    return found
