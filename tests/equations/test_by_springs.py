"""Fasteners as springs, and the torque by the work of one turn.

Sources: Hooke's law and the balance of work; the sizes are invented.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from datumbook.equations import tightening
from witnesses import witness


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


@witness(
    tightening.bolt_stiffness,
    tightening.bolt_stretch,
    tightening.clamp_at_stretch,
    tightening.joint_stiffness,
    tightening.joint_squeeze,
    tightening.clamp_after_turn,
    tightening.clamp_to_gain,
    by="integration",
)
def test_a_stud_slice_by_slice_and_its_joint_as_two_springs() -> None:
    modulus, force = 205e3, 30_000.0

    def area(at: float) -> float:
        return 113.1 if at < 60.0 else 84.27

    stretch = sum(
        quad(lambda at: force / (modulus * area(at)), *part)[0]
        for part in ((0, 60.0), (60.0, 85.0))
    )
    spring = tightening.bolt_stiffness(60.0, 113.1, 25.0, 84.27, modulus)
    assert spring == near(force / stretch, 1e-4)
    assert tightening.bolt_stretch(force, spring) == near(stretch)
    assert tightening.clamp_at_stretch(stretch, spring) == near(force, 1e-6)
    # parts four times as stiff: they give a quarter of it
    parts = tightening.joint_stiffness(spring, 4.0)
    assert tightening.joint_squeeze(force, parts) == near(stretch / 4)
    # a turn from snug: one force stretches the stud and squeezes the parts, together the advance
    turn, pitch, snug = math.radians(90), 1.5, 9_000.0
    sides = np.array([(1.0, 1.0, 0.0), (spring, 0.0, -1.0), (0.0, parts, -1.0)])
    more = float(np.linalg.solve(sides, (pitch / 4, 0.0, 0.0))[2])
    clamp = tightening.clamp_after_turn(snug, turn, pitch, spring, parts)
    assert clamp == near(snug + more, 1e-6)
    assert tightening.clamp_to_gain(clamp, snug) == near(more, 1e-6)


@witness(tightening.friction_lever, tightening.nut_factor_by_friction, by="simulation")
def test_the_work_of_one_turn_goes_into_lift_and_rubbing() -> None:
    pitch, effective, face, thread, head = 1.5, 15.0257, 20.0, 0.12, 0.10
    force, steps = 50_000.0, 3600
    turn = 2 * math.pi / steps
    flank = force / math.cos(math.radians(30))  # across the flanks, of sixty degrees
    work = sum(
        force * pitch / steps
        + thread * flank * effective / 2 * turn
        + head * force * face / 2 * turn
        for _ in range(steps)
    )
    torque = work / (2 * math.pi)
    lever = tightening.friction_lever(pitch, effective, face, thread, head)
    assert lever == near(torque / force)
    factor = tightening.nut_factor_by_friction(pitch, effective, face, thread, head, 16.0)
    assert factor == near(torque / (force * 16.0))


@witness(tightening.round_area, tightening.weaker_area, by="integration")
def test_a_round_shank_in_thin_strips_and_the_end_that_breaks_first() -> None:
    areas = [
        quad(lambda x: 2 * math.sqrt(radius**2 - x**2), -radius, radius)[0]  # noqa: B023
        for radius in (6.0, 5.5)
    ]
    assert [tightening.round_area(size) for size in (12.0, 11.0)] == near(areas, 1e-6)
    # pulled harder and harder: the first end to reach 800 MPa
    pull = next(force for force in np.arange(0, 2e5, 10.0) if max(force / a for a in areas) > 800)
    weaker = tightening.weaker_area(*areas)
    assert (pull - 10) / weaker <= 800 < pull / weaker
    assert weaker == min(areas) == tightening.weaker_area(*areas[::-1])


@witness(
    tightening.shear_of_iron,
    tightening.incomplete_mouth,
    tightening.thread_on_fastener,
    by="counting",
)
def test_full_thread_turn_by_turn() -> None:
    # down the hole in hundredths: what has a relief, a countersink or a run-out beside it
    down = np.arange(0, 30, 0.01)
    for mouth in ((2.4, 1.0, 3.8), (2.4, 1.0), (1.0, 2.4, 0.5)):
        bare = np.any([down < deep - 1e-9 for deep in mouth], axis=0)
        assert tightening.incomplete_mouth(*mouth) == near(np.count_nonzero(bare) / 100)
    full = down[(down < 22.0 - 1e-9) & (down < 22.0 - 1.25 - 1.25 - 1e-9)]
    assert tightening.thread_on_fastener(22.0, 2.0, 1.25) == near(len(full) / 100)
    assert tightening.shear_of_iron(250.0, 1.1) == near(sum([250.0, *[2.5] * 10]))
