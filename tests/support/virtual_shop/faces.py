"""A machined face as a grid of points, and the line that everything is measured from.

A face stands in a frame of its own: x along the block from the front, y across it to the left,
and the height outward from the face's zero. For an upright deck outward is up, for a leaning bank
along its bores, for the bottom down. In the frame of the world z is up and the crank as drawn lies
on y = z = 0.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any, ClassVar, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
FRONT_LEFT, FRONT_RIGHT, REAR_LEFT, REAR_RIGHT = range(4)


def by_block(places: ArrayLike) -> Floats:
    """Places with the block as first axis: a plain row of places is the same for all blocks."""
    places = np.asarray(places, float)
    return places[None] if places.ndim == 1 else places


def spread(figures: NDArray[Any], places: NDArray[Any]) -> NDArray[Any]:
    """One figure a block, shaped to meet places that have the block as first axis."""
    return figures.reshape(-1, *[1] * (places.ndim - 1))


class Lot:
    """Arrays whose first axis is the block; names in `shared` belong to all blocks alike."""

    shared: ClassVar[frozenset[str]] = frozenset()

    def take(self, rows: ArrayLike) -> Self:
        """The blocks at these places of the lot."""
        rows = np.asarray(rows)
        own = (one.name for one in fields(self) if one.name not in self.shared)  # type: ignore[arg-type]
        return replace(self, **{name: _taken(getattr(self, name), rows) for name in own})  # type: ignore[type-var]


def _taken(thing: Any, rows: NDArray[Any]) -> Any:
    match thing:
        case Lot():
            return thing.take(rows)
        case Mapping():
            return {name: _taken(one, rows) for name, one in thing.items()}
        case None:
            return None
    return thing[rows]


@dataclass(frozen=True)
class Line(Lot):
    """A straight line near the crank: its y and z at two places along x."""

    shared = frozenset({"places"})
    places: Floats
    y: Floats
    z: Floats

    def at(self, x: ArrayLike) -> tuple[Floats, Floats]:
        """y and z at the places x."""
        x = by_block(x)
        share = (x - self.places[0]) / (self.places[1] - self.places[0])
        y, z = (
            spread(one[:, 0], x) * (1 - share) + spread(one[:, 1], x) * share
            for one in (self.y, self.z)
        )
        return y, z


@dataclass(frozen=True)
class Face(Lot):
    """A grid of points: `height[block, i, j]` outward at `along[i]`, `across[j]`.

    `outward` and `left` are the directions (y, z) of the face's height and of its y in the world.
    `holes` are circles (x, y, radius) and `rail` the width of metal round the edge, if the face is
    no more than that. `corners` are the x of front and rear and the y of the left ones.
    `plane` is the last cut: height at x = y = 0, slope along, slope across.
    """

    shared = frozenset({"along", "across", "outward", "left", "holes", "rail", "corners"})
    along: Floats
    across: Floats
    height: Floats
    outward: Floats
    left: Floats
    holes: Floats
    rail: float
    corners: Floats
    plane: Floats | None = None

    @property
    def grid(self) -> tuple[Floats, Floats]:
        """x and y of the grid's points."""
        x, y = np.meshgrid(self.along, self.across, indexing="ij")
        return x, y

    @property
    def corner_places(self) -> tuple[Floats, Floats]:
        """x and y of the four corners where a person reads."""
        front, rear, half = self.corners
        return np.array([front, front, rear, rear]), np.array([half, -half, half, -half])

    def is_metal(self, x: Floats, y: Floats) -> NDArray[np.bool_]:
        """Whether the face has metal there: not in a bore, not inside the rail."""
        there = np.ones(np.broadcast_shapes(x.shape, y.shape), bool)
        for middle, aside, radius in self.holes:
            there &= np.hypot(x - middle, y - aside) >= radius
        if self.rail:
            edge = np.minimum(
                np.minimum(x - self.along[0], self.along[-1] - x), self.across[-1] - np.abs(y)
            )
            there &= edge <= self.rail
        return there

    def height_at(self, x: ArrayLike, y: ArrayLike) -> Floats:
        """Height outward of the face's zero at places between the points."""
        i, u = _between(self.along, by_block(x))
        j, v = _between(self.across, by_block(y))
        h, block = self.height, spread(np.arange(len(self.height)), i)
        near = h[block, i, j] * (1 - v) + h[block, i, j + 1] * v
        far = h[block, i + 1, j] * (1 - v) + h[block, i + 1, j + 1] * v
        return np.asarray(near * (1 - u) + far * u)

    def corner_heights(self) -> Floats:
        """Heights at the four corners, from the face's zero."""
        return self.height_at(*self.corner_places)

    def over(self, line: Line, x: ArrayLike) -> Floats:
        """How far the line lies outward of the face's zero at x: what a height over it lacks."""
        y, z = line.at(x)
        return np.asarray(y * self.outward[0] + z * self.outward[1])

    def points(self) -> Floats:
        """The points in the world: (blocks, i, j, xyz)."""
        x, y = (np.broadcast_to(one, self.height.shape) for one in self.grid)
        world_y = self.height * self.outward[0] + y * self.left[0]
        world_z = self.height * self.outward[1] + y * self.left[1]
        return np.stack([x, world_y, world_z], axis=-1)

    def raised(self, by: Floats) -> Self:
        """The face moved outward, a figure for each block."""
        return replace(self, height=self.height + by[:, None, None])


def _between(ticks: Floats, places: Floats) -> tuple[NDArray[np.intp], Floats]:
    """The tick before each place, and the share of the step beyond it."""
    step = np.clip(np.searchsorted(ticks, places, side="right") - 1, 0, len(ticks) - 2)
    return step, (places - ticks[step]) / (ticks[step + 1] - ticks[step])


def plane_at(plane: Floats, x: ArrayLike, y: ArrayLike) -> Floats:
    """Height of each block's plane (height at x = y = 0, slope along, slope across) at places."""
    x, y = by_block(x), by_block(y)
    start, along, across = (spread(plane[:, i], x) for i in range(3))
    return np.asarray(start + along * x + across * y)
