"""The sheets of the book, in the order of the work: each module declares one station and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from builder.sheets import bores, heights, holes, job, lands, method, release, schedule, stops, threads
from builder.table import Sheet

if TYPE_CHECKING:
    from builder.layout import Layout


def stations(layout: Layout) -> Iterable[Sheet]:
    """The sheets that the block itself fills, in walking order."""
    work = (threads, schedule, stops, holes) if layout.spec.holes else ()
    for station in (bores, lands, heights, *work):
        yield station.sheet(layout)


def after_stations() -> tuple[Callable[[Layout], Sheet], ...]:
    """The sheets that gather from the stations, in the order they can be made."""
    return (release.sheet, job.sheet, method.sheet)
