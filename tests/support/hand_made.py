"""Blocks made by hand for the virtual shop: known corners, tunnels in line, parts as drawn."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from virtual_shop.blocks import Bank, Blocks, Tunnels, centre_line, flat_face
from virtual_shop.faces import Face

SUPPORT = Path(__file__).parent
_SIZES: dict[str, dict[str, Any]] = tomllib.loads(
    (SUPPORT / "virtual_shop" / "sizes.toml").read_text("utf-8")
)
SIZES, VEE = _SIZES["four_in_line"], _SIZES["vee_eight"]


def fixed_chance() -> np.random.Generator:
    return np.random.default_rng(20)


def block(
    deck: Sequence[float],
    bottom: Sequence[float] | None,
    crown: float = 0.0,
    bow: float = 0.0,
    hollow: tuple[float, float, float] | None = None,
) -> Blocks:
    """One block with these heights over a straight crank line at the corners FL, FR, RL, RR.

    The deck may be raised in the middle (crown: all ways, bow: along only) and sunk at x, y by a
    depth. Tunnels of 61.07 for a mandrel of 61.05, the end ones under the corners.
    """
    front, rear, _ = SIZES["corners"]
    sizes = {**SIZES, "tunnels_along": [front, (front + rear) / 2, rear], "mandrel": 61.05}
    top = flat_face(sizes, sizes["deck_width"], np.array([0.0]))
    along = sizes["banks"]["deck"]["along"]
    holes = np.array([(x, 0.0, sizes["bore"] / 2) for x in along])
    top = _with_corners(top if hollow or crown or bow else replace(top, holes=holes), deck)
    x, y = top.grid
    u, v = (2 * x - front - rear) / (rear - front), y / sizes["corners"][2]
    shape = crown * (1 - u**2) * (1 - v**2 / 2) + bow * (1 - u**2)
    if hollow:
        at_x, at_y, depth = hollow
        shape = shape - depth * np.exp(-((x - at_x) ** 2 + (y - at_y) ** 2) / (2 * 20.0**2))
    faces = {"deck": replace(top, height=top.height + shape)}
    if bottom is not None:
        under = flat_face(sizes, sizes["bottom_width"], np.array([0.0]), np.pi, sizes["rail"])
        faces["bottom"] = _with_corners(under, bottom)
    cylinders = np.zeros((1, len(along)))
    bank = Bank(
        bore=sizes["bore"],
        along=cylinders + along,
        across=cylinders,
        lean=cylinders,
        throw=cylinders + sizes["stroke"] / 2,
        rod=cylinders + sizes["rod"],
        piston=cylinders + sizes["piston"],
    )
    size, middle = np.full((1, 3), 61.07), np.zeros((1, 3))
    tunnels = Tunnels(np.asarray(sizes["tunnels_along"]), size, size, middle, middle)
    weight = np.array([[sizes["length"] / 2 + 3.0, 2.0]])
    return Blocks(sizes, faces, tunnels, {"deck": bank}, centre_line(tunnels), weight)


def with_tunnels(
    blocks: Blocks,
    upright: Sequence[float],
    wide: Sequence[float] | None = None,
    up: Sequence[float] = (0.0, 0.0, 0.0),
    left: Sequence[float] = (0.0, 0.0, 0.0),
) -> Blocks:
    """The block with other tunnels: size upright and across (round if left out), centres."""
    figures = (upright, upright if wide is None else wide, left, up)
    tunnels = Tunnels(blocks.tunnels.along, *(np.array([one], float) for one in figures))
    return replace(blocks, tunnels=tunnels, crank_line=centre_line(tunnels))


def _with_corners(face: Face, heights: Sequence[float]) -> Face:
    """The face bent to these heights at its corners, straight along and across."""
    front, rear, half = face.corners
    x, y = face.grid
    back, aside = (x - front) / (rear - front), (half - y) / (2 * half)
    shares = [(1 - back) * (1 - aside), (1 - back) * aside, back * (1 - aside), back * aside]
    height = sum(one * share for one, share in zip(heights, shares, strict=True))
    return replace(face, height=np.asarray(height)[None])
