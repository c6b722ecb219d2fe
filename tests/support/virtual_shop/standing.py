"""What a block is set parallel to: the slopes of the table, the bar or the clock."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from virtual_shop.blocks import Blocks
from virtual_shop.faces import Face, Floats

CRANK_LINE, OPPOSITE_FACE, ITSELF = "crank line", "opposite face", "the face itself"
OPPOSITE_SHIMMED = "opposite face, shimmed"  # stood on four shims, true to its four corners
ENOUGH = 1e-10


def slopes_for(blocks: Blocks, name: str, parallel_to: str) -> Floats:
    """Slope along and across of a plane over the named face that is parallel to this."""
    face = blocks.faces[name]
    match parallel_to:
        case "crank line":
            # Level along the mandrel; across, the block stands as its bores do.
            line = blocks.mandrel_axis()
            front, rear = (face.over(line, np.array([x]))[:, 0] for x in line.places)
            along = (rear - front) / (line.places[1] - line.places[0])
            return np.stack([along, np.zeros_like(along)], axis=1)
        case "the face itself":
            return through_corners(face)
        case "opposite face":
            other = _opposite(blocks, name)
            return -standing_on(other, blocks.weight_at)
        case "opposite face, shimmed":
            return -through_corners(_opposite(blocks, name))
    raise ValueError(f"a face is not cut parallel to {parallel_to!r}")


def through_corners(face: Face) -> Floats:
    """Slopes of the plane that runs closest to the four corners, least squares."""
    x, y = face.corner_places
    columns = np.column_stack([np.ones(4), x, y])
    fitted = np.linalg.lstsq(columns, face.corner_heights().T, rcond=None)[0]
    return np.asarray(fitted[1:].T)


def standing_on(face: Face, weight_at: Floats) -> Floats:
    """Slopes of the table under a face: it touches three points of metal, the weight between them.

    From three outer corners: as long as a point stands out of the plane, it becomes one of the
    three, in place of the one without which the weight still lies between them.
    """
    x, y = face.grid
    metal = face.is_metal(x, y)
    x, y, height = x[metal], y[metal], face.height[:, metal]
    xy = np.column_stack([x, y])
    corner = [int(np.argmin(sx * x + sy * y)) for sx, sy in ((1, -1), (1, 1), (-1, -1), (-1, 1))]
    starts = np.array([[corner[0], corner[1], corner[2]], [corner[1], corner[2], corner[3]]])
    held = np.stack([_inside(xy[np.tile(s, (len(height), 1))], weight_at) for s in starts], axis=1)
    feet = starts[held.argmax(axis=1)]
    slopes, active = np.empty((len(height), 2)), np.arange(len(height))
    for _ in range(len(x)):
        plane = _through(xy[feet[active]], np.take_along_axis(height[active], feet[active], 1))
        slopes[active] = plane[:, 1:]
        above = height[active] - plane[:, :1] - plane[:, 1:] @ xy.T
        highest = above.argmax(axis=1)
        stands_out = above.max(axis=1) > ENOUGH
        active, highest = active[stands_out], highest[stands_out]
        if not active.size:
            return slopes
        feet[active] = _exchanged(xy, feet[active], highest, weight_at[active])
    raise RuntimeError("the block comes to no rest: its weight stands over an edge of its support")


def _exchanged(
    xy: Floats, feet: NDArray[np.intp], new: NDArray[np.intp], weight_at: Floats
) -> NDArray[np.intp]:
    """The three feet with one given up for the new one, the weight still between them."""
    choices = np.repeat(feet[:, None], 3, axis=1)
    choices[:, range(3), range(3)] = new[:, None]
    held = np.stack([_inside(xy[choices[:, i]], weight_at) for i in range(3)], axis=1)
    return np.asarray(choices[np.arange(len(feet)), held.argmax(axis=1)])


def _inside(triangle: Floats, at: Floats) -> Floats:
    """Least share of the weight that one of three feet bears; below zero the block tips."""
    a, b, c = (triangle[:, i] for i in range(3))
    whole = _turn(a, b, c)
    flat = np.abs(whole) < ENOUGH
    parts = np.stack([_turn(at, b, c), _turn(a, at, c), _turn(a, b, at)])
    return np.where(flat, -np.inf, (parts / np.where(flat, 1, whole)).min(axis=0))


def _turn(a: Floats, b: Floats, c: Floats) -> Floats:
    """Twice the area of a triangle, with its sense."""
    u, v = b - a, c - a
    return np.asarray(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])


def _through(places: Floats, height: Floats) -> Floats:
    """The planes through three points each: height at x = y = 0, slope along, slope across."""
    columns = np.concatenate([np.ones((len(places), 3, 1)), places], axis=2)
    return np.asarray(np.linalg.solve(columns, height[..., None])[..., 0])


def _opposite(blocks: Blocks, name: str) -> Face:
    """The face that the block is stood on while the named one is cut."""
    others = [face for other, face in blocks.faces.items() if other != name]
    if len(others) != 1 or "bottom" not in blocks.faces:
        raise ValueError("a deck has an opposite face only where it is the one deck over a bottom")
    return others[0]
