"""Finished stations: the block measured again, station by station, where the work has moved it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from datumbook.cells.tables import Form, Sheet, Table

if TYPE_CHECKING:
    from datumbook.stations.composition import Stations

TITLES = {  # by the name of the sheet: its title, and the station that may be left as it is
    "CutsMade": ("Cuts made", ""),
    "FinishedBores": ("Bores, as finished", "bores"),
    "FinishedWalls": ("Walls, as finished", "walls"),
    "FinishedHeights": ("Heights, as finished", "heights"),
    "FinishedFaces": ("Faces, as finished", "faces"),
    "FinishedTunnels": ("Main tunnels, as finished", "tunnels"),
    "FinishedCam": ("Cam tunnel, as finished", "cam"),
    "FinishedLiners": ("Liners, as finished", "liners"),
    "FinishedTappetBores": ("Tappet bores, as finished", "tappet_bores"),
    "FinishedDowels": ("Dowels, as finished", "dowels"),
    "LastTest": ("Last test", "proofs"),
    "CorePlugs": ("Core plugs in", "core_holes"),
    "PlugsIn": ("Gallery plugs in", "plugs"),
}
NAMES = tuple(TITLES)


def sheets(at: Stations) -> Iterator[Sheet]:
    """What is measured once more, in the order of the walk round the block."""
    if at.finished is None:
        return
    fitting = at.fitting
    parts: dict[str, Sequence[Table | Form | None]] = {
        "CutsMade": [at.finished.cuts, at.finished.recorded],
        "FinishedBores": at.finished_bores.parts() if at.finished_bores else (),
        "FinishedWalls": [at.finished_walls],
        "FinishedHeights": at.finished.height_parts(),
        "FinishedFaces": at.finished_faces.parts() if at.finished_faces else (),
        "FinishedTunnels": at.finished_tunnels.parts() if at.finished_tunnels else (),
        "FinishedCam": [
            at.finished_cam_bores,
            *(at.finished_cam_centre.parts() if at.finished_cam_centre else ()),
        ],
        "FinishedLiners": at.finished_liners.parts() if at.finished_liners else (),
        "FinishedTappetBores": [at.finished_tappet_bores],
        "FinishedDowels": [at.finished_dowels],
        "LastTest": fitting.test if fitting else (),
        "CorePlugs": fitting.core_plugs if fitting else (),
        "PlugsIn": fitting.plugs if fitting else (),
    }
    for name, (title, station) in TITLES.items():
        if again := [part for part in parts[name] if part]:
            yield Sheet(name=name, title=title, parts=again, stage="finished", station=station)
