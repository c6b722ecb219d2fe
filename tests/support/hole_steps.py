"""The operations of a book's holes, as its sheets have them."""

from __future__ import annotations

from datumbook.stations.holes.hole_groups import Steps
from datumbook.workbook.layout import Layout


def steps_of(layout: Layout) -> Steps:
    """Every operation of every group of holes that a book has."""
    assert layout.stations.holes is not None, "this book has no holes"
    return layout.stations.holes.steps
