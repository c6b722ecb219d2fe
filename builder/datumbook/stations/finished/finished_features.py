"""Finished features: tunnels, faces, cam tunnel, tappet bores and dowels measured again where the
work has moved them.
"""

from __future__ import annotations

from datumbook.cells.tables import Form, Sheet, Table
from datumbook.stations.received import cam, small_bores, tunnels
from datumbook.stations.received.features import Feature
from datumbook.workbook.layout import Layout


def parts(layout: Layout) -> list[Table | Form]:
    """What is measured once more, in the order of the walk round the block."""
    if layout.spec.finished is None:
        return []
    lined, stations = Feature(layout, "tunnels"), layout.stations
    return [
        *([stations.finished_walls.walls] if stations.finished_walls else []),
        *(tunnels.measured(lined.finished()) if lined.again else []),
        *cam.measured(layout, finished=True),
        *(stations.finished_faces.parts() if stations.finished_faces else []),
        *(stations.finished_liners.parts() if stations.finished_liners else []),
        *small_bores.measured(layout, finished=True),
    ]


def sheet(layout: Layout) -> Sheet:
    """The sheet of the features as finished."""
    return Sheet(
        name="FinishedFeatures",
        title="Further features of the finished block",
        parts=parts(layout),
        stage="finished",
    )
