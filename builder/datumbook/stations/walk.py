"""Walk: the sheets of the stations in the order one walks round the block."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from datumbook.cells.tables import Sheet
from datumbook.stations.composition import Stations
from datumbook.stations.finished import finished_features
from datumbook.stations.received import cam, small_bores


class Walked(Protocol):
    """A station with a sheet of its own."""

    def sheet(self) -> Sheet:
        """Its sheet."""


def walk(stations: Stations) -> Iterator[Sheet]:
    """The sheets this engine has. Their order says where things stand, and nothing else."""
    at = stations
    if at.identity:
        yield at.identity
    yield from _those(at.plugs, at.proofs, at.bores, at.lands, at.walls)
    yield from _those(at.dry_liners, at.liners, at.heights, at.faces, at.tunnels)
    if at.cam_bores and at.cam_centre:
        yield cam.sheet(at.cam_bores, at.cam_centre)
    if small := at.small_bores():
        yield small_bores.sheet(small)
    if at.parts and at.parts.parts():
        yield at.parts.sheet()
    yield from (one for one in (at.plan, at.workings) if one)
    if at.budget.lines:
        yield at.budget.sheet()
    yield at.route.sheet()
    yield from at.holes.sheets() if at.holes else ()
    yield from _those(at.finished)
    if again := finished_features.parts(at):
        yield finished_features.sheet(again)
    for one in (at.fits, at.fitting):
        if one and one.parts():
            yield one.sheet()


def _those(*stations: Walked | None) -> Iterator[Sheet]:
    return (one.sheet() for one in stations if one is not None)
