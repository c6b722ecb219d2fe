"""Finished features: tunnels, faces, cam tunnel, tappet bores and dowels measured again where the
work has moved them.
"""

from __future__ import annotations

from datumbook.cells.tables import Form, Sheet, Table
from datumbook.workbook.layout import Layout


def parts(layout: Layout) -> list[Table | Form]:
    """What is measured once more, in the order of the walk round the block."""
    if layout.spec.finished is None:
        return []
    found = layout.stations
    return [
        *([found.finished_walls.walls] if found.finished_walls else []),
        *(found.finished_tunnels.parts() if found.finished_tunnels else []),
        *([found.finished_cam_bores] if found.finished_cam_bores else []),
        *(found.finished_cam_centre.parts() if found.finished_cam_centre else []),
        *(found.finished_faces.parts() if found.finished_faces else []),
        *(found.finished_liners.parts() if found.finished_liners else []),
        *(one for one in (found.finished_tappet_bores, found.finished_dowels) if one),
    ]


def sheet(layout: Layout) -> Sheet:
    """The sheet of the features as finished."""
    return Sheet(
        name="FinishedFeatures",
        title="Further features of the finished block",
        parts=parts(layout),
        stage="finished",
    )
