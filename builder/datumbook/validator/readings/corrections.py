"""Readings that were struck and corrected, as the Job sheet tells them: what was read first is
kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from datumbook.workbook.layout import Layout


@dataclass(frozen=True)
class Struck:
    """One correction in the words it was entered with; what was left blank is ""."""

    where: str
    was: str
    now: str
    reason: str
    initials: str
    struck_on: str


def struck_readings(layout: Layout, values: Mapping[str, object]) -> Iterator[Struck]:
    """Every line of which something is entered, in the order of the sheet."""
    table = layout.stations.job.corrections
    for line in table.rows:
        entered = {
            name: str(values[table.column(name)[line.key]] or "")
            for name in Struck.__dataclass_fields__
        }
        if any(entered.values()):
            yield Struck(**entered)
