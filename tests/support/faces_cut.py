"""A face at its four corners and what a cut leaves of it: by the equations, from cell to cell as on
a sheet, and by planes of least squares that know nothing of corners.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import strategies as st

from datumbook.equations import faces, heights

# front left, front right, rear left, rear right: x from the front, y to the left
POINTS = np.array([(20.0, 90.0), (20.0, -90.0), (480.0, 90.0), (480.0, -90.0)])
CUTS = [faces.ALONG_AXIS, faces.ALONG_OPPOSITE, faces.ALONG_ITSELF]

NAMES = ["front left", "front right", "rear left", "rear right"]

Corners = Sequence[float]

corners_of = st.lists(st.floats(-0.15, 0.15), min_size=4, max_size=4)
decks = corners_of.map(lambda off: [220.0 + one for one in off])
bottoms = corners_of.map(lambda off: [80.0 + one for one in off])
metal = st.floats(0.0, 0.5)


def planes(corners: Corners) -> list[float]:
    return [
        faces.on_plane(corners[at], corners[at ^ 2], corners[at ^ 1], corners[at ^ 3])
        for at in range(4)
    ]


def bases(corners: Corners, parallel_to: str, opposite: Corners) -> list[float]:
    found = zip(corners, planes(corners), planes(opposite), strict=True)
    return [faces.base(parallel_to, *one) for one in found]


def above(corners: Corners, parallel_to: str, opposite: Corners) -> list[float]:
    return list(map(faces.above_base, corners, bases(corners, parallel_to, opposite)))


def after(
    corners: Corners, parallel_to: str, cut: float, opposite: Corners = (80.0,) * 4
) -> list[float]:
    stand = above(corners, parallel_to, opposite)
    lowest, highest = heights.lowest_corner(*stand), faces.highest_corner(*stand)
    down = faces.infeed(faces.cut_taken(parallel_to, cut), highest, lowest)
    return [
        faces.height_after(parallel_to, highest, down, base, 0.0)
        for base in bases(corners, parallel_to, opposite)
    ]


def to(corners: Corners) -> object:
    return pytest.approx(list(corners), abs=1e-9)


def fitted(corners: Corners) -> np.ndarray:
    """The least-squares plane through the four points, at these points."""
    design = np.column_stack([np.ones(4), POINTS])
    return np.asarray(design @ np.linalg.lstsq(design, np.array(corners), rcond=None)[0])


def milled(corners: Corners, parallel_to: str, cut: float, opposite: Corners) -> np.ndarray:
    """A cutting plane brought down, of a given direction, until it stands `cut` under the lowest
    corner.
    """
    direction = {
        faces.ALONG_AXIS: np.zeros(4),
        faces.ALONG_OPPOSITE: -fitted(opposite),
        faces.ALONG_ITSELF: fitted(corners),
    }[parallel_to]
    return np.asarray(direction + (np.array(corners) - direction).min() - cut)
