"""A liner pressed into a block, both taken for thick rings: the equilibrium of each, solved from
inside out, with what Hooke's law says of strain and stress in a plane.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_bvp

Material = tuple[float, float]
"""Modulus of elasticity (MPa) and Poisson's ratio."""


@dataclass(frozen=True, slots=True)
class Pressed:
    """What the pressed rings come to: stresses (MPa), and movements on the diameter (mm)."""

    pressure: float
    parent_hoop: float
    liner_hoop: float
    liner_hoop_outside: float
    growth: float
    shrinkage: float
    closing: float


def pressed(
    inside: float, joint: float, outside: float, pull: float, liner: Material, parent: Material
) -> Pressed:
    """Return what comes of pressing a liner into a ring, all four sizes on the diameter (mm)."""
    feet, thick = (inside / 2, joint / 2), ((joint - inside) / 2, (outside - joint) / 2)

    def balance(share: np.ndarray, state: np.ndarray) -> np.ndarray:
        """How move and strain of either ring change on the way from its inside to its outside."""
        out = []
        for foot, width, push, stretch in zip(feet, thick, state[::2], state[1::2], strict=True):
            radius = foot + share * width
            out += [width * stretch, width * (push / radius**2 - stretch / radius)]
        return np.array(out)

    def ends(first: np.ndarray, last: np.ndarray) -> np.ndarray:
        """Free inside and outside, one pressure where they touch, the pull taken up there."""
        free = _across(inside, first[:2], liner), _across(outside, last[2:], parent)
        held = _across(joint, last[:2], liner) - _across(joint, first[2:], parent)
        return np.array([*(one / 1e3 for one in (*free, held)), first[2] - last[0] - pull / 2])

    found = solve_bvp(balance, ends, np.linspace(0, 1, 41), np.zeros((4, 41)), tol=1e-10)
    assert found.success, found.message
    first, last = found.y[:, 0], found.y[:, -1]
    return Pressed(
        pressure=-_across(joint, last[:2], liner),
        parent_hoop=_round(joint, first[2:], parent),
        liner_hoop=_round(inside, first[:2], liner),
        liner_hoop_outside=_round(joint, last[:2], liner),
        growth=2 * float(first[2]),
        shrinkage=-2 * float(last[0]),
        closing=-2 * float(first[0]),
    )


def _across(size: float, state: np.ndarray, of: Material) -> float:
    """Stress across a ring where it has moved and is strained by so much."""
    (push, stretch), (modulus, poisson) = state, of
    return float(modulus / (1 - poisson**2) * (stretch + poisson * push / (size / 2)))


def _round(size: float, state: np.ndarray, of: Material) -> float:
    """Stress round it there."""
    (push, stretch), (modulus, poisson) = state, of
    return float(modulus / (1 - poisson**2) * (push / (size / 2) + poisson * stretch))
