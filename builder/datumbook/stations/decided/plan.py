"""Plan: the cuts intended, and what they leave, before the spindle starts."""

from __future__ import annotations

from datumbook.cells.tables import Form, Picture, Sheet, Table
from datumbook.stations.decided import knock_on
from datumbook.stations.received.heights import Station
from datumbook.stations.received.states import RECEIVED
from datumbook.workbook.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the plan."""
    stations = [Station(layout, RECEIVED, bank) for bank in layout.spec.rows]
    shared = [] if stations[0].whole else [stations[0].line_bore()]
    parts: list[Table | Form | Picture] = [*shared]
    for station in stations:
        parts += [station.plan(), station.suggested()]
    parts += layout.stations.bore_plan.parts()
    parts += knock_on.parts(layout)
    return Sheet(name="Plan", title="Plan of the cuts", parts=parts, stage="planned")
