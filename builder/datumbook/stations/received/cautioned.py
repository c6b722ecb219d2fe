"""Cautions as a part of the sheet where the work is done."""

from __future__ import annotations

from collections.abc import Iterable

from datumbook.cells.tables import Prose
from datumbook.standards.cautions import Caution
from datumbook.workbook.placed import WHOLE

CODES_BEFORE_ALL = "local codes, the engine maker's limits and licensed practice come first"


def beside_the_work(cautions: Iterable[Caution], more: Iterable[str] = ()) -> list[Prose]:
    """The cautions as one part of a sheet, with lines of the sheet's own behind them; none where
    there are none.
    """
    lines = [f"{one.words}: {line}" for one in cautions for line in one.lines]
    said = [(line,) for line in (*lines, *more)]
    return [Prose(title=f"Mind: {CODES_BEFORE_ALL}", lines=said, widths=(WHOLE,))] if said else []
