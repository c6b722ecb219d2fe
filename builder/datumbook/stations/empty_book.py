"""The empty book: what is OUT before anything is measured is a mistake of the engine file."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.equations.verdicts import OUT
from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec.positions import Path
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan
from datumbook.workbook.printed import printed


def out_when_empty(layout: Layout) -> Iterator[Fault]:
    """Yield every check that is OUT in the book as generated, but for a drill of which the engine
    file says why it is used.
    """
    values = reckon(layout, {})
    for check in layout.checks:
        path = _path(layout, check)
        if values[check.verdict] == OUT and not _meant(layout, path):
            place = layout.place(check.key)
            found = f"{place.label}, {printed(values[check.key], place)},"
            yield fault_at(path, "out-when-empty", found, check.source or "its limit")


def _path(layout: Layout, check: CheckPlan) -> Path:
    """Where in the spec a check has its figures: its group of holes, else its section."""
    place = layout.place(check.key)
    for at, group in enumerate(layout.spec.holes):
        if place.row == group.key or place.row.startswith(f"{group.key}_"):
            drilled = place.column is not None and place.column.name == "hole" and group.drill
            return ("holes", at, "drill") if drilled else ("holes", at)
    return ()


def _meant(layout: Layout, path: Path) -> bool:
    return path[-1:] == ("drill",) and bool(layout.spec.holes[int(path[1])].drill_reason)
