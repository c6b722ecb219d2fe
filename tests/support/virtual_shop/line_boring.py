"""The boring bar: one line through all tunnels, and where its cutter met no metal.

The wall of a tunnel is two half ellipses on the joint, the saddle's above and the cap's below. What
is taken off the cap's joint brings its half up by as much, and of the half only what lies below the
joint is left. The wall is looked at point by point.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from virtual_shop.blocks import Blocks, Tunnels
from virtual_shop.cutting import Shop
from virtual_shop.faces import Floats, Line
from virtual_shop.gauges import errors

POINTS = 181  # of each half, a degree apart
SIDE = np.radians(20)  # nearer to the joint than this counts as the side
SAME = 1e-9


@dataclass(frozen=True)
class BoringSheet:
    """What is printed: how far the line rises at the front and rear tunnel and moves to the left
    there, both from the line of the end tunnels' centres; the size; what comes off the caps
    (a figure, one for each block, or by block and tunnel). A block with size nan is not bored."""

    front: float | Floats
    rear: float | Floats
    size: float | Floats
    caps_off: float | Floats
    left_front: float | Floats = 0.0
    left_rear: float | Floats = 0.0


@dataclass(frozen=True)
class Bored:
    """Blocks after line boring, and by block and tunnel the least metal the cutter took, at the
    top of the saddle, the foot of the cap, the sides and anywhere; below zero it missed."""

    blocks: Blocks
    saddle: Floats
    cap: Floats
    sides: Floats
    anywhere: Floats

    @property
    def missed(self) -> NDArray[np.bool_]:
        """Whether metal is left untouched at some angle."""
        return self.anywhere < 0


def line_bored(
    blocks: Blocks, sheet: BoringSheet, shop: Shop, chance: np.random.Generator
) -> Bored:
    """The blocks bored in line; the line bored is their crank line from now on."""
    count, tunnels = len(blocks), blocks.tunnels
    line = _bar(blocks, sheet, shop, chance)
    left, up = line.at(tunnels.along)
    size = np.broadcast_to(sheet.size, count) + errors(chance, shop.size, count)
    off = np.asarray(sheet.caps_off, float)
    off = np.broadcast_to(off[:, None] if off.ndim == 1 else off, up.shape)
    saddle_y, saddle_z = _half(tunnels, np.linspace(0, np.pi, POINTS), np.zeros_like(off))
    cap_y, cap_z = _half(tunnels, np.linspace(np.pi, 2 * np.pi, POINTS), off)
    of_saddle, of_cap = (
        size[:, None, None] / 2 - np.hypot(y - left[..., None], z - up[..., None])
        for y, z in ((saddle_y, saddle_z), (cap_y, cap_z))
    )
    ground_off = cap_z > tunnels.height[..., None] + SAME
    metal = np.concatenate([of_saddle, np.where(ground_off, np.inf, of_cap)], axis=-1)
    angle = np.linspace(0, np.pi, POINTS)
    near_joint = np.tile(np.minimum(angle, np.pi - angle) < SIDE, 2)
    bored = ~np.isnan(size)
    after = replace(
        blocks,
        tunnels=_opened(tunnels, off, size[:, None], left, up),
        crank_line=Line(
            line.places,
            np.where(bored[:, None], line.y, blocks.crank_line.y),
            np.where(bored[:, None], line.z, blocks.crank_line.z),
        ),
    )
    return Bored(
        after,
        saddle=of_saddle[..., POINTS // 2],
        cap=of_cap[..., POINTS // 2],
        sides=metal[..., near_joint].min(axis=-1),
        anywhere=metal.min(axis=-1),
    )


def _bar(blocks: Blocks, sheet: BoringSheet, shop: Shop, chance: np.random.Generator) -> Line:
    """Where the bar runs: the old line, raised and moved at its ends, and not quite."""
    count, old = len(blocks), blocks.crank_line
    moved = [
        np.column_stack([np.broadcast_to(one, count) for one in ends])
        for ends in ((sheet.left_front, sheet.left_rear), (sheet.front, sheet.rear))
    ]
    off = errors(chance, shop.bar, (count, 4))
    return Line(old.places, old.y + moved[0] + off[:, :2], old.z + moved[1] + off[:, 2:])


def _half(tunnels: Tunnels, angles: Floats, raised: Floats) -> tuple[Floats, Floats]:
    """y and z of the wall's points at these angles, counted from the left."""
    centre = (tunnels.height + raised)[..., None]
    y = tunnels.sideways[..., None] + tunnels.across[..., None] / 2 * np.cos(angles)
    return y, centre + tunnels.upright[..., None] / 2 * np.sin(angles)


def _opened(tunnels: Tunnels, off: Floats, size: Floats, left: Floats, up: Floats) -> Tunnels:
    """The tunnels as they are then: the old wall where the new one does not reach it."""
    top = np.fmax(tunnels.height + tunnels.upright / 2, up + size / 2)
    foot = np.fmin(tunnels.height + np.nan_to_num(off) - tunnels.upright / 2, up - size / 2)
    far = np.fmax(tunnels.sideways + tunnels.across / 2, left + size / 2)
    near = np.fmin(tunnels.sideways - tunnels.across / 2, left - size / 2)
    return Tunnels(tunnels.along, top - foot, far - near, (far + near) / 2, (top + foot) / 2)
