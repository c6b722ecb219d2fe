"""The block measured exactly, as no gauge can."""

from __future__ import annotations

import numpy as np

from virtual_shop.blocks import Bank, Blocks
from virtual_shop.faces import (
    FRONT_LEFT,
    FRONT_RIGHT,
    REAR_LEFT,
    REAR_RIGHT,
    Face,
    Floats,
    plane_at,
)
from virtual_shop.gauges import heights_over

ROUND = 72  # places round the mouth of a bore


def true_figures(blocks: Blocks) -> dict[str, Floats]:
    """Heights over the true crank line, forms, and what is left, all by block.

    `FACE.height` at the four corners; `FACE.tilt` along (rear less front, of the sides' means) and
    `FACE.twist` (half of what the diagonals' ends differ by); `FACE.uncut`: how far the deepest
    metal lies below the last cutter's plane (nan before a cut). `overall` at the corners and
    `overall.least` over all metal. By cylinder: `NAME.least` the lowest place round the bore,
    `NAME.clearance` that less the crown's middle at the top, `NAME.middle` the same from the mean
    height round the bore, `NAME.rim` the least between the rim of a crown that leans with its bore
    and the deck beside it; `NAME.miss` how far the bore's
    middle passes left of the crank line.
    """
    found: dict[str, Floats] = {}
    line = blocks.crank_line
    for name, face in blocks.faces.items():
        corners = heights_over(face, line, *face.corner_places)
        found[f"{name}.height"] = corners
        left, right = (
            corners[:, rear] - corners[:, front]
            for front, rear in ((FRONT_LEFT, REAR_LEFT), (FRONT_RIGHT, REAR_RIGHT))
        )
        found[f"{name}.tilt"] = (left + right) / 2
        found[f"{name}.twist"] = (right - left) / 2
        found[f"{name}.uncut"] = _uncut(face)
    if "bottom" in blocks.faces:
        deck, bottom = (blocks.faces[name] for name in (*blocks.banks, "bottom"))
        found["overall"] = deck.corner_heights() + bottom.corner_heights()
        found["overall.least"] = _thinnest(deck, bottom)
    for name, bank in blocks.banks.items():
        found |= _over_pistons(name, blocks, bank)
    return found


def _uncut(face: Face) -> Floats:
    """How far the deepest metal lies below the cutter's plane."""
    if face.plane is None:
        return np.full(len(face.height), np.nan)
    x, y = face.grid
    metal = face.is_metal(x, y)
    below = plane_at(face.plane, x[metal], y[metal]) - face.height[:, metal]
    return np.asarray(below.max(axis=1))


def _thinnest(deck: Face, bottom: Face) -> Floats:
    """The least thickness where both faces have metal."""
    x, y = deck.grid
    both = deck.is_metal(x, y) & bottom.is_metal(x, y) & (np.abs(y) <= bottom.across[-1])
    x, y = x[both], y[both]
    return np.asarray((deck.height[:, both] + bottom.height_at(x, y)).min(axis=1))


def _over_pistons(name: str, blocks: Blocks, bank: Bank) -> dict[str, Floats]:
    face = blocks.faces[name]
    angle = np.linspace(0, 2 * np.pi, ROUND, endpoint=False)
    x = bank.along[..., None] + bank.bore / 2 * np.cos(angle)
    aside = bank.bore / 2 * np.sin(angle)
    crank_y, crank_z = blocks.crank_line.at(bank.along)
    at_crank = crank_y * face.left[0] + crank_z * face.left[1]
    out_crank = face.over(blocks.crank_line, bank.along)
    # The lean is a slope to the left on the way out from the drawing's crank to the deck.
    miss = bank.across - bank.lean * blocks.sizes["deck"] - at_crank
    # The pin runs in the bore's own line: crank and rod reach it as the two sides of a triangle.
    crown = out_crank + np.sqrt((bank.throw + bank.rod) ** 2 - miss**2) + bank.piston
    rim = face.height_at(x, bank.across[..., None] + aside)
    least = rim.min(axis=-1)
    leaning = crown[..., None] - bank.lean[..., None] * aside
    return {
        f"{name}.least": least - out_crank,
        f"{name}.clearance": least - crown,
        f"{name}.middle": rim.mean(axis=-1) - crown,
        f"{name}.rim": (rim - leaning).min(axis=-1),
        f"{name}.miss": miss,
    }
