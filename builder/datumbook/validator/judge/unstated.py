"""Gauges of which nobody said how far they may be off: which, and how much hangs on that."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from datumbook.cells.columns import Reading, Sensitivity, Uncertainty
from datumbook.cells.handles import Key
from datumbook.cells.tables import Stage
from datumbook.equations.verdicts import OK, UNSURE
from datumbook.messages.findings import Finding
from datumbook.validator.locate.location import Located
from datumbook.workbook.evaluation import AsTyped
from datumbook.workbook.flow import downstream, upstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan

OFF_BY = (Uncertainty, Sensitivity)  # the columns of what sizes may be off by
DIVISIONS = 2  # of its smallest, that a gauge may be off where nothing is known: the sheet's rule


def unstated(
    layout: Layout,
    located: Located,
    typed: Mapping[str, object],
    values: Mapping[str, object],
    reached: tuple[Stage, ...],
) -> Iterator[Finding]:
    """One note, where checks that are OK lie nearer to their limits than gauges can tell that are
    stated with no uncertainty: were each off by two of its smallest divisions.
    """
    gauges = layout.stations.instruments.gauges
    off: dict[str, float] = {}
    for row in gauges.rows:
        if all(values[each[row.key]] is None for each in (gauges.uncertainty, gauges.setting)):
            step = values[gauges.resolution[row.key]]
            printed = 10.0 ** -layout.decimals_of(row.key)
            off[row.key] = DIVISIONS * (step if isinstance(step, float) and step else printed)
    near = list(_near(layout, typed, values, {gauges.uncertainty[one]: off[one] for one in off}))
    near = [check for check in near if check.stage in reached]
    under = {group for check in near for group in _read_with(layout, check.key)}
    asked = [row for row in gauges.rows if row.key in off and row.key in under]
    if asked:
        names = ", ".join(row.words for row in asked)
        place = layout.place(gauges.uncertainty[asked[0].key])
        yield located.about("gauge-unstated", place, found=names, count=len(near))


def _near(
    layout: Layout,
    typed: Mapping[str, object],
    values: Mapping[str, object],
    off: Mapping[str, float],
) -> Iterator[CheckPlan]:
    """The checks that are OK and could not be told, were these gauges off by so much."""
    if not off:
        return
    doubts = {one.key for one in layout.places.values() if isinstance(one.column, OFF_BY)}
    moved: set[str] = {*off, *doubts}
    moved |= downstream(layout, moved)
    known: dict[str, Any] = {key: value for key, value in values.items() if key not in moved}
    then = AsTyped(layout, {**typed, **off}, known)
    for check in layout.checks:
        if values[check.verdict] == OK and then[check.verdict] == UNSURE:
            yield check


def _read_with(layout: Layout, key: Key) -> Iterator[str]:
    """The groups of readings that a value is worked out from, each the row of its gauge."""
    for one in (key, *upstream(layout, key)):
        column = layout.place(one).column
        if isinstance(column, Reading) and column.group:
            yield column.group
