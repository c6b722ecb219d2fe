"""The machine: cuts a face as the printed sheet says, no better than a shop does it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from virtual_shop.blocks import Blocks
from virtual_shop.faces import Face, Floats, plane_at
from virtual_shop.gauges import errors
from virtual_shop.standing import slopes_for

HIGHEST, LOWEST_CORNER = -1, -2  # touched where the face is highest | where the clock says lowest


@dataclass(frozen=True)
class Shop:
    """What the work itself may be off, ± mm, k = 2.

    Infeed; finding the touch; clocking, over the distance between the corners, along and across
    each for itself; an end of the boring bar, up and sideways each; the bored size.
    """

    infeed: float = 0.010
    touch: float = 0.005
    clocking: float = 0.010
    bar: float = 0.006
    size: float = 0.004


PERFECT = Shop(0.0, 0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True)
class CuttingSheet:
    """What is printed for one face; a figure or word for all blocks, or one for each.

    `touch` is a corner (0 to 3), HIGHEST or LOWEST_CORNER. `infeed` is counted from there. A block
    whose infeed is nan is not cut.
    """

    face: str
    parallel_to: str | NDArray[np.str_]
    touch: int | NDArray[np.int64]
    infeed: float | Floats


def face_cut(
    blocks: Blocks, sheet: CuttingSheet, shop: Shop, chance: np.random.Generator
) -> Blocks:
    """The blocks with the face cut: every point above the cutter's plane is gone."""
    face, count = blocks.faces[sheet.face], len(blocks)
    front, rear, half = face.corners
    slopes = set_up(blocks, sheet.face, sheet.parallel_to)
    slopes = slopes + errors(chance, shop.clocking, (count, 2)) / (rear - front, 2 * half)
    touched = _touched(face, slopes, np.broadcast_to(sheet.touch, count))
    start = touched + errors(chance, shop.touch, count)
    start = start - sheet.infeed - errors(chance, shop.infeed, count)
    plane = np.column_stack([start, slopes])
    height = np.fmin(face.height, plane_at(plane, *(one[None] for one in face.grid)))
    return blocks.with_face(sheet.face, replace(face, height=height, plane=plane))


def set_up(blocks: Blocks, name: str, parallel_to: str | NDArray[np.str_]) -> Floats:
    """Slopes that each block is set up to, by its own word."""
    words = np.broadcast_to(np.asarray(parallel_to), len(blocks))
    slopes = np.empty((len(blocks), 2))
    for word in np.unique(words):
        rows = np.flatnonzero(words == word)
        slopes[rows] = slopes_for(blocks.take(rows), name, str(word))
    return slopes


def _touched(face: Face, slopes: Floats, touch: NDArray[np.int64]) -> Floats:
    """Where the cutter's plane stands at x = y = 0 when it just touches what the sheet names."""
    x, y = face.grid
    metal = face.is_metal(x, y)
    highest = _over(face.height[:, metal], slopes, x[metal], y[metal]).max(axis=1)
    corners = _over(face.corner_heights(), slopes, *face.corner_places)
    named = corners[np.arange(len(touch)), np.clip(touch, 0, 3)]
    return np.select([touch == HIGHEST, touch == LOWEST_CORNER], [highest, corners.min(1)], named)


def _over(height: Floats, slopes: Floats, x: ArrayLike, y: ArrayLike) -> Floats:
    """Heights over the plane through zero with these slopes."""
    through_nought = np.column_stack([np.zeros(len(slopes)), slopes])
    return np.asarray(height - plane_at(through_nought, x, y))
