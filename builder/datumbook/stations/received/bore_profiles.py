"""Pictures of the bores: each from the top of ring travel down, along both axes; all to one
scale.
"""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Picture, Series, Table
from datumbook.stations.received.scales import bore_scale
from datumbook.stations.received.states import State

AXES = {"thrust": "across the crank", "axial": "along the crank"}


def bore_profiles(
    basis: Basis, state: State, readings: Table, depths: Sequence[str]
) -> list[Picture]:
    """The picture of every bore; none where it is read at one depth alone."""
    scale = bore_scale(basis, state.key("bore_scale"))
    return [
        Picture(
            title=f"Cylinder {number}, from the top down",
            kind="lines",
            series=[
                Series(words, [readings.column(axis)[number, at] for at in depths])
                for axis, words in AXES.items()
            ],
            scale=scale,
            value_words=scale.unit,
            lines=11,
            beside=place % 2,
        )
        for place, number in enumerate(basis.cylinders() if len(depths) > 1 else ())
    ]
