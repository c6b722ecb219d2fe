"""Plan: the cuts intended, and what they leave, before the spindle starts."""

from __future__ import annotations

from builder.layout import Layout
from builder.sheets.heights import Station
from builder.sheets.states import RECEIVED
from builder.table import Sheet


def sheet(layout: Layout) -> Sheet:
    """The sheet of the plan."""
    parts = (Station(layout, RECEIVED).plan(),)
    return Sheet(name="Plan", title="Plan of the cuts", parts=parts, stage="planned", widths={7: 46})
