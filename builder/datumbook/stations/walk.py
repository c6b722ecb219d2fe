"""Walk: the sheets of the stations in the order one walks round the block."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from typing import Protocol

from datumbook.cells.tables import Sheet, joined
from datumbook.stations.composition import Stations
from datumbook.stations.finished import finished_stations
from datumbook.stations.received import cam, small_bores

BORES, FACED, TUNNELS = "Cylinder bores", "Heights and faces", "Tunnels"
BUDGET, THREADS = (
    "Metal budget, and how the plan is worked out",
    "Threads, and the metal round them",
)
SEALS = "Rear seal and flywheel housing"
HOLE_WORK, GOES_OUT = "Schedule, tools and stops of the hole work", "The finished block"
SHARED = {  # by the name of a station's sheet: the sheet it shares with others, and its title
    "Bores": ("Bores", BORES),
    "Lands": ("Bores", BORES),
    "Walls": ("Bores", BORES),
    "Liners": ("Bores", BORES),
    "Heights": ("Heights", FACED),
    "Faces": ("Heights", FACED),
    "Tunnels": ("Tunnels", TUNNELS),
    "Cam": ("Tunnels", TUNNELS),
    "Budget": ("Budget", BUDGET),
    "Workings": ("Budget", BUDGET),
    "Opened": ("Threads", THREADS),
    "Threads": ("Threads", THREADS),
    "Fasteners": ("Threads", THREADS),
    "HoleMetal": ("Threads", THREADS),
    "Holes": ("Holes", "Every hole"),
    "OneHole": ("Holes", "Every hole"),
    "Schedule": ("Schedule", HOLE_WORK),
    "Tools": ("Schedule", HOLE_WORK),
    "Stops": ("Schedule", HOLE_WORK),
    "Seals": ("Seals", SEALS),
    "SealsAfter": ("Seals", SEALS),
    "FinishedSeals": ("Seals", SEALS),
} | dict.fromkeys(finished_stations.NAMES, ("Finished", GOES_OUT))


class Walked(Protocol):
    """A station with a sheet of its own."""

    def sheet(self) -> Sheet:
        """Its sheet."""


def walk(stations: Stations) -> Iterator[Sheet]:
    """The sheets of this book, small stations together on one. Their order says where things stand,
    and nothing else.
    """
    for (name, title), shared in groupby(
        _walked(stations), lambda one: SHARED.get(one.name, (one.name, one.title))
    ):
        yield joined(name, title, *shared)


def _walked(at: Stations) -> Iterator[Sheet]:
    """Every station's own sheet, with the station's name where it may be left as it is."""
    if at.identity:
        yield replace(at.identity, station="identity")
    yield from _of("plugs", at.plugs)
    yield from _of("proofs", at.proofs)
    if at.bored:
        yield from _of("bores", at.bored.bores, at.bored.rows)
    yield from _of("walls", at.walls)
    yield from _of("liners", at.dry_liners)
    yield from _of("liners", at.liners)
    yield from _of("heights", at.heights)
    yield from _of("faces", at.faces)
    yield from _of("tunnels", at.tunnels)
    if at.cam_bores and at.cam_centre:
        yield replace(cam.sheet(at.cam_bores, at.cam_centre), station="cam")
    if small := at.small_bores():
        yield small_bores.sheet(small)
    if at.parts and at.parts.parts():
        yield from _of("fits", at.parts)
    yield from (one for one in (at.plan, at.budget.sheet(), at.workings) if one)
    for sheet in at.holes.sheets(drawn=at.basis.has("map")) if at.holes else ():
        yield replace(sheet, station="holes")
    yield from finished_stations.sheets(at)
    if at.fits and at.fits.parts():
        yield from _of("fits", at.fits)
    for station, named in at.named.walked():
        yield from _of(station, named)


def _of(station: str, *walked: Walked | None) -> Iterator[Sheet]:
    """Sheets as those of a station that may be left as it is."""
    return (replace(one.sheet(), station=station) for one in walked if one is not None)
