"""Finished features: tunnels, faces, cam tunnel, tappet bores and dowels measured again where the
work has moved them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from datumbook.cells.tables import Form, Sheet, Table

if TYPE_CHECKING:
    from datumbook.stations.composition import Stations


def parts(stations: Stations) -> list[Table | Form]:
    """What is measured once more, in the order of the walk round the block."""
    at = stations
    found = [
        (at.finished_walls,),
        at.finished_tunnels.parts() if at.finished_tunnels else (),
        (at.finished_cam_bores,),
        at.finished_cam_centre.parts() if at.finished_cam_centre else (),
        at.finished_faces.parts() if at.finished_faces else (),
        at.finished_liners.parts() if at.finished_liners else (),
        (at.finished_tappet_bores, at.finished_dowels),
    ]
    return [part for each in found for part in each if part]


def sheet(again: list[Table | Form]) -> Sheet:
    """The sheet of the features as finished."""
    return Sheet(
        name="FinishedFeatures",
        title="Further features of the finished block",
        parts=again,
        stage="finished",
    )
