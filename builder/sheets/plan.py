"""Plan: the cuts intended, and what they leave, before the spindle starts."""

from __future__ import annotations

from builder.book.layout import Layout
from builder.book.table import Form, Picture, Sheet, Table
from builder.sheets import bore_plan, knock_on
from builder.sheets.heights import Station
from builder.sheets.states import RECEIVED


def sheet(layout: Layout) -> Sheet:
    """The sheet of the plan."""
    stations = [Station(layout, RECEIVED, bank) for bank in layout.spec.rows]
    shared = [] if stations[0].whole else [stations[0].line_bore()]
    parts: list[Table | Form | Picture] = [*shared]
    for station in stations:
        parts += [station.plan(), station.suggested()]
    parts += bore_plan.parts(layout)
    parts += knock_on.parts(layout)
    return Sheet(name="Plan", title="Plan of the cuts", parts=parts, stage="planned")
