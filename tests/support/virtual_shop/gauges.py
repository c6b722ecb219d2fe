"""Gauges that err, and what a machinist reads of a block with them.

A gauge has two stated figures, both expanded (k = 2): what its setting may be off, drawn once for
all readings of one setting, and what one reading may be off, drawn for each. Both are normal with
half the stated figure as standard deviation, and nothing lies beyond three of those.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from virtual_shop.blocks import Bank, Blocks, centre_line
from virtual_shop.faces import Face, Floats, Line

Readings = dict[str, NDArray[np.float64] | NDArray[np.bool_]]
BEYOND = 3.0
SAMPLES = 42  # of a line under the edge: even, so that the middle lies between two
MIDDLE = 0.5  # of half the edge: two points nearer than this are a place to rock on
# The six lines of a straight-edge by the corners they join: left, right, front, rear, diagonals.
EDGE_LINES = ((0, 2), (1, 3), (0, 1), (2, 3), (0, 3), (1, 2))


def errors(
    chance: np.random.Generator, expanded: float, shape: int | tuple[int, ...]
) -> NDArray[np.float64]:
    """Normal errors with half the expanded figure as standard deviation, none beyond three."""
    drawn = chance.standard_normal(shape)
    while (far := np.abs(drawn) > BEYOND).any():
        drawn[far] = chance.standard_normal(int(far.sum()))
    return np.asarray(drawn * expanded / 2)


@dataclass(frozen=True)
class Gauge:
    """What its setting and what one reading may be off, ± mm."""

    setting: float
    reading: float

    def reads(self, chance: np.random.Generator, true: Floats, off: Floats | None = None) -> Floats:
        """True figures as read, block by block; `off` is a setting made before, else a new one."""
        off = self.set(chance, len(true)) if off is None else off
        own = errors(chance, self.reading, true.shape)
        return true + off.reshape(-1, *[1] * (true.ndim - 1)) + own

    def set(self, chance: np.random.Generator, count: int) -> Floats:
        """One setting for each block: how far it is off."""
        return errors(chance, self.setting, count)


@dataclass(frozen=True)
class Feelers:
    """A set of leaves, thinnest first, and how far a leaf that just goes may mislead."""

    leaves: Sequence[float] = tuple(round(0.01 * i, 2) for i in range(1, 31))
    reading: float = 0.003


@dataclass(frozen=True)
class Gauges:
    """What the shop measures with."""

    mandrel: Gauge = field(default_factory=lambda: Gauge(0.004, 0.004))
    thickness: Gauge = field(default_factory=lambda: Gauge(0.004, 0.004))
    bore_gauge: Gauge = field(default_factory=lambda: Gauge(0.002, 0.002))
    alignment: Gauge = field(default_factory=lambda: Gauge(0.002, 0.002))
    parts: Gauge = field(default_factory=lambda: Gauge(0.006, 0.004))
    feelers: Feelers = field(default_factory=Feelers)


def measured(blocks: Blocks, gauges: Gauges, chance: np.random.Generator) -> Readings:
    """All readings of a block as received, or again after work.

    Heights over the mandrel share one setting: `NAME.height` of each deck and `bottom.height` at
    the four corners, `NAME.grid` over a net of places (nan over a bore). `overall` is the
    thickness at the corners. `FACE.goes` and `FACE.stops` are the thickest leaf that goes under
    the straight-edge along the six lines and the next one; `FACE.rocks` where a leaf goes and it
    rocks on the middle. `tunnels.*` are size upright and across and the centres off the line of
    the ends (up, left). Parts in hand: `NAME.throw`, `NAME.rod`, `NAME.piston` by cylinder.
    """
    read: Readings = {}
    axis, off = blocks.mandrel_axis(), gauges.mandrel.set(chance, len(blocks))
    for name, face in blocks.faces.items():
        heights = heights_over(face, axis, *face.corner_places)
        read[f"{name}.height"] = gauges.mandrel.reads(chance, heights, off)
        read[f"{name}.grid"] = gauges.mandrel.reads(chance, _net(face, axis), off)
        gap, rocks = under_edge(face)
        gap = np.maximum(gap + errors(chance, gauges.feelers.reading, gap.shape), 0)
        read[f"{name}.goes"], read[f"{name}.stops"] = leaves(gauges.feelers.leaves, gap)
        read[f"{name}.rocks"] = rocks & (read[f"{name}.goes"] > 0)
    if "bottom" in blocks.faces:
        thick = sum(face.corner_heights() for face in blocks.faces.values())
        read["overall"] = gauges.thickness.reads(chance, np.asarray(thick))
    tunnels, ends = blocks.tunnels, centre_line(blocks.tunnels)
    left, up = ends.at(tunnels.along)
    size = gauges.bore_gauge.set(chance, len(blocks))
    read["tunnels.upright"] = gauges.bore_gauge.reads(chance, tunnels.upright, size)
    read["tunnels.across"] = gauges.bore_gauge.reads(chance, tunnels.across, size)
    read["tunnels.up"] = _off_line(chance, gauges.alignment, tunnels.height - up)
    read["tunnels.left"] = _off_line(chance, gauges.alignment, tunnels.sideways - left)
    for name, bank in blocks.banks.items():
        read |= _parts(chance, gauges.parts, name, bank)
    return read


def heights_over(face: Face, line: Line, x: Floats, y: Floats) -> Floats:
    """Heights of a face over a line, outward."""
    return face.height_at(x, y) - face.over(line, x)


def under_edge(face: Face) -> tuple[Floats, NDArray[np.bool_]]:
    """The widest gap under a straight-edge along the six lines, and whether it rocks there.

    The edge rests where its weight wants it: on the two points, one each side of its middle, whose
    chord passes highest under the middle. It rocks on the middle where both stand in the middle
    half and the widest gap lies outside of them.
    """
    gaps, rocks = zip(*(_one_line(face, *ends) for ends in EDGE_LINES), strict=True)
    return np.stack(gaps, axis=1), np.stack(rocks, axis=1)


def leaves(thickness: Sequence[float], gap: Floats) -> tuple[Floats, Floats]:
    """The thickest leaf that goes (0: none) and the thinnest that does not (inf: all go)."""
    steps = np.concatenate([[0.0], thickness, [np.inf]])
    goes = np.searchsorted(steps, gap + 1e-9, side="right") - 1
    return steps[goes], steps[goes + 1]


def _one_line(face: Face, start: int, end: int) -> tuple[Floats, NDArray[np.bool_]]:
    x, y = (np.linspace(one[start], one[end], SAMPLES) for one in face.corner_places)
    metal = face.is_metal(x, y)
    height = np.where(metal, face.height_at(x, y), -np.inf)
    place = np.linspace(-1, 1, SAMPLES)
    half = SAMPLES // 2
    before, after = place[:half, None], place[None, half:]
    chord = height[:, :half, None] * after - height[:, None, half:] * before
    best = (chord / (after - before)).reshape(len(height), -1).argmax(axis=1)
    i, j = best // half, half + best % half
    rows = np.arange(len(height))
    slope = (height[rows, j] - height[rows, i]) / (place[j] - place[i])
    edge = height[rows, i, None] + slope[:, None] * (place - place[i, None])
    gap = np.where(metal, edge - height, 0.0)
    steps = np.arange(SAMPLES)
    inside = (steps >= i[:, None]) & (steps <= j[:, None])
    within, outside = (np.where(part, gap, 0.0).max(axis=1) for part in (inside, ~inside))
    middle = (place[i] >= -MIDDLE) & (place[j] <= MIDDLE)
    return np.maximum(within, outside), middle & (outside > within)


def _net(face: Face, axis: Line, along: int = 9, across: int = 5) -> Floats:
    """Heights over a net of places between the corners, row by row; nan where there is no metal."""
    front, rear, half = face.corners
    rows = np.meshgrid(np.linspace(front, rear, along), np.linspace(half, -half, across))
    x, y = (one.ravel() for one in rows)
    return np.where(face.is_metal(x, y), heights_over(face, axis, x, y), np.nan)


def _off_line(chance: np.random.Generator, gauge: Gauge, true: Floats) -> Floats:
    """Offsets from the line of the ends; the ends are zero because the line is theirs."""
    read = gauge.reads(chance, true)
    read[:, [0, -1]] = 0.0
    return read


def _parts(chance: np.random.Generator, gauge: Gauge, name: str, bank: Bank) -> Readings:
    kinds = {"throw": bank.throw, "rod": bank.rod, "piston": bank.piston}
    return {f"{name}.{kind}": gauge.reads(chance, true) for kind, true in kinds.items()}
