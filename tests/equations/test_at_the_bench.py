"""What is mostly worked at the bench, each by another road: counted, turned, tried or integrated.

Source: geometry, where no other is named; the sizes are invented.
"""

from __future__ import annotations

import math
import statistics

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from datumbook.equations import (
    bearings,
    clearances,
    cutting,
    drives,
    flatness,
    liners,
    pistons,
    thread_forms,
    tunnels,
    uncertainties,
    volumes,
    walls,
)
from datumbook.equations import liner_pressure as rings
from painted import beyond, bored, middle, row, width
from pressed_rings import pressed
from witnesses import witness

TURNS = np.linspace(0, 2 * np.pi, 200_001)


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


def girth(size: float) -> float:
    """Round a circle, step by step."""
    return float(np.abs(np.diff(size / 2 * np.exp(1j * TURNS))).sum())


@witness(
    rings.contact_pressure_one_material,
    rings.liner_hoop_stress,
    rings.liner_shrinkage,
    rings.parent_growth,
    rings.bore_after_pressing,
    by="solver",
)
def test_a_liner_pressed_into_a_block_of_its_own_material() -> None:
    inside, joint, outside, pull, iron = 80.0, 86.0, 104.0, 0.075, (110e3, 0.26)
    found = pressed(inside, joint, outside, pull, iron, iron)
    pressure = rings.contact_pressure_one_material(pull, joint, outside, inside, iron[0])
    assert pressure == near(found.pressure, 1e-6)
    factors = rings.parent_hoop_factor(outside, joint), rings.liner_hoop_factor(joint, inside)
    assert rings.liner_hoop_stress(pressure, factors[1]) == near(found.liner_hoop, 1e-5)
    shrinkage = rings.liner_shrinkage(pressure, joint, factors[1], *iron)
    assert shrinkage == near(found.shrinkage, 1e-7)
    assert rings.parent_growth(pressure, joint, factors[0], *iron) == near(found.growth, 1e-7)
    assert rings.bore_after_pressing(inside, found.closing) == near(
        2 * (inside / 2 - found.closing / 2), 1e-9
    )


@witness(
    pistons.bore_for_piston, pistons.gap_to_open, pistons.measured_compression_height, by="counting"
)
def test_a_piston_its_ring_and_its_pin() -> None:
    assert beyond([pistons.bore_for_piston(82.47, 0.04)], [82.47]) == near(0.04)
    for wanted in (0.33, 0.25):
        opened = pistons.gap_to_open(0.28, wanted)
        assert opened == near(beyond([wanted], [0.28]))
    pin = row(34.97, 22.0, 6.0)  # from the crown down
    assert pistons.measured_compression_height(34.97, 22.0) == near(middle(pin, 1))


@witness(
    clearances.core_plug_interference,
    clearances.dowel_projection,
    clearances.tappet_clearance,
    by="counting",
)
def test_plugs_dowels_and_tappets() -> None:
    assert clearances.core_plug_interference(40.15, 40.0) == near(beyond([40.15], [40.0]))
    assert clearances.dowel_projection(22.0, 14.0) == near(beyond([22.0], [14.0]))
    assert clearances.tappet_clearance(20.64, 20.61) == near(beyond([20.64], [20.61]))


@witness(clearances.bore_from_ring_gap, by="coordinates")
def test_a_ring_laid_round_tells_the_bore() -> None:
    gaps = [girth(size) - girth(82.0) + 0.3 for size in (82.004, 82.077)]
    assert clearances.bore_from_ring_gap(82.004, *gaps) == near(82.077, 1e-7)


@witness(tunnels.crush_left, by="coordinates")
def test_shells_laid_round_a_tunnel() -> None:
    shells = girth(61.06) + 0.06
    for size in (61.07, 61.055):
        assert tunnels.crush_left(0.06, 61.06, size) == near(shells - girth(size), 1e-7)


@witness(drives.centre_change_in_short, by="coordinates")
def test_a_crank_line_that_moves_by_next_to_nothing() -> None:
    for angle in (0.0, 0.4, 1.3, 2.5):
        far = 133.35 * np.exp(1j * angle)
        moved = (abs(far - 1e-5) - abs(far + 1e-5)) / 2e-5  # to either side, for a millimetre
        assert drives.centre_change_in_short(0.1, angle) == near(0.1 * moved, 1e-8)


@witness(walls.centre_shift, walls.cut_closure, walls.offset_after_shift, by="counting")
def test_a_bore_cut_more_on_one_side() -> None:
    before = row(6.0, 82.0, 6.0)
    for over in (0.04, -0.06):
        after = bored(before, 1, 82.6, over)
        cuts = [width(before, side) - width(after, side) for side in (0, 2)]
        moved = middle(after, 1) - middle(before, 1)
        assert walls.centre_shift(*cuts) == near(moved)
        assert walls.cut_closure(cuts[0] + 0.013, cuts[1], 82.0, width(after, 1)) == near(0.013)
        left = middle(row(6.0 + 0.05 + moved, 82.0), 1) - middle(row(6.0, 82.0), 1)
        assert walls.offset_after_shift(0.05, moved) == near(left)


@witness(cutting.counterbore_depth, cutting.counterbore_diameter, by="counting")
def test_turns_of_thread_taken_away_and_the_room_round_it() -> None:
    turns = [1.25, 1.25, 0.625]  # two and a half
    assert cutting.counterbore_depth(2.5, 1.25) == near(beyond(turns, []))
    assert cutting.counterbore_diameter(8.0, 0.5) == near(len(row(0.25, 8.0, 0.25)) / 1000)


@witness(cutting.feed_speed, by="simulation")
def test_a_drill_goes_down_turn_by_turn() -> None:
    depth = sum(0.1 for _ in range(700))  # of a minute
    assert cutting.feed_speed(0.1, 700 / 60) == near(depth / 60)


@witness(cutting.tilt_allowance, flatness.out_of_square, by="coordinates")
def test_a_round_cut_on_a_leaning_face() -> None:
    lean = math.atan2(0.1, 100.0)
    rim = 10 * np.exp(1j * np.linspace(0, 2 * np.pi, 361))
    deeper = float((rim.real * math.tan(lean)).max())
    assert cutting.tilt_allowance(0.1, 100.0, 10.0) == near(deeper)
    assert flatness.out_of_square(2 * deeper, 20.0) == near(lean, 1e-9)


@witness(flatness.out_of_square_over, by="coordinates")
def test_a_lean_carried_along() -> None:
    axis = 200.0 * np.exp(1j * 0.00025)
    assert flatness.out_of_square_over(0.00025, 200.0) == near(axis.imag, 1e-8)


@witness(flatness.flatness_uncertainty, by="solver")
def test_two_points_about_the_plane_of_very_many() -> None:
    side = np.arange(1000.0) - 499.5
    sums = np.diag([1e6, *[1e3 * (side**2).sum()] * 2])  # of a square of a million points
    apart = np.array([0.0, 1.0, 0.0])
    furthest = math.sqrt(2 - apart @ np.linalg.solve(sums, apart))
    assert flatness.flatness_uncertainty(2.0) == near(2 * furthest, 1e-9)


@witness(thread_forms.mean_stress_area, by="integration")
def test_the_circle_midway_between_two_diameters() -> None:
    radius = float(np.mean([0.2180, 0.1860])) / 2
    area = quad(lambda x: 2 * math.sqrt(radius**2 - x**2), -radius, radius)[0]
    assert thread_forms.mean_stress_area(0.2180, 0.1860) == near(area)


@witness(thread_forms.turns_to_bind, by="counting")
def test_two_unlike_threads_turn_by_turn() -> None:
    for one, other in ((1.0, 25.4 / 24), (1.27, 1.25)):
        turns = np.arange(0, 100, 0.001)
        behind = np.abs(turns * one - turns * other)
        found = float(turns[behind < min(one, other) / 2][-1])
        assert thread_forms.turns_to_bind(one, other) == near(found, 0.0011)
    assert thread_forms.turns_to_bind(1.0, 1.5) == 1, "one turn, and they are half a thread apart"


@witness(thread_forms.largest_pipe_minor, by="printed")
def test_the_largest_minor_diameter_of_a_pipe_thread() -> None:
    # ISO 228-1 as thread tables print it: G1/8, minor diameter 8.566 to 8.848, tolerance 0.282
    assert thread_forms.largest_pipe_minor(8.566, 0.282) == near(8.848)


@witness(thread_forms.cycle_effective_diameter, by="coordinates")
def test_a_cycle_thread_rounded_by_a_sixth_of_its_pitch() -> None:
    pitch = 25.4 / 26
    sharp = pitch / 2 / math.tan(math.radians(30))
    # a circle that touches both flanks near their sharp tip, and how far its own tip lies from it
    flank = np.exp(1j * math.radians(60)) * np.linspace(0, pitch, 200_001)
    up = brentq(lambda y: np.abs(flank - 1j * y).min() - pitch / 6, 0, pitch)
    deep = sharp - 2 * (up - pitch / 6)
    # half the depth above it, half below: the standard prints 0.5327 p
    assert thread_forms.cycle_effective_diameter(6.35, pitch) == near(6.35 - deep, 1e-5)


@witness(
    bearings.journal_wear,
    bearings.shell_for_clearance,
    bearings.washer_for_end_float,
    bearings.oil_clearance_by_rule,
    by="counting",
)
def test_journals_shells_and_washers() -> None:
    assert bearings.journal_wear(57.15, 57.142, 57.148, 57.141) == near(beyond([57.15], [57.141]))
    shell = bearings.shell_for_clearance(61.06, 57.0, 0.05)
    assert shell + shell == near(beyond([61.06], [57.0, 0.05]))
    washer = bearings.washer_for_end_float(38.15, 33.38, 0.15)
    assert washer + washer == near(beyond([38.15], [33.38, 0.15]))
    laid = sum(0.001 for _ in np.arange(0, 2.25, 0.25)) / 4  # so much to each inch
    assert bearings.oil_clearance_by_rule(2.25, 0.001) == near(laid)


@witness(liners.ledge_cup, liners.liner_land, liners.parent_wall, by="counting")
def test_liners_side_by_side() -> None:
    assert liners.ledge_cup(8.02, 8.012) == near(beyond([8.02], [8.012]))
    painted = row(5.5, 82.0, 10.0, 82.0, 5.5)
    holes = bored(bored(painted, 1, 86.0), 3, 87.0)
    pitch = middle(holes, 3) - middle(holes, 1)
    assert liners.liner_land(pitch, 86.0, 87.0) == near(width(holes, 2))
    assert liners.parent_wall(5.5, 82.0, 86.0) == near(width(holes, 0))


@witness(liners.wall_needed, liners.wall_counted, by="every case")
def test_walls_with_limits_of_their_own() -> None:
    for said, needed in (("yes", 2.3), ("no", 3.8), ("", 3.8)):
        assert liners.wall_needed(said, 2.3, 3.8) == needed
    # three walls above their own limits; as the worst would stand over this one's
    stands = [3.8 + spare for spare in (0.9, 0.4, 1.2)]
    assert liners.wall_counted(3.8, 0.9, 0.4, 1.2) == near(min(stands))


@witness(uncertainties.mean_range, by="library")
def test_the_mean_of_the_ranges() -> None:
    ranges = [0.0001, 0.0001, 0.0, 0.0002, 0.0001]
    assert uncertainties.mean_range(*ranges) == near(statistics.fmean(ranges))


@witness(uncertainties.repeatability_from_pairs, by="integration")
def test_the_factor_of_five_pairs_from_the_normal_distribution() -> None:
    # two readings lie sqrt 2 as far apart as one strays: of the range its mean and its square
    apart = statistics.NormalDist(0, math.sqrt(2))
    mean, square = (
        quad(lambda d: 2 * d**power * apart.pdf(d), 0, 15)[0]  # noqa: B023
        for power in (1, 2)
    )
    factor = math.sqrt(mean**2 + (square - mean**2) / 5)
    assert factor == near(1.19, 0.005), "as the quick method rounds it"
    assert uncertainties.repeatability_from_pairs(0.001) == near(0.001 / factor, 2e-6)


@witness(uncertainties.share_of_tolerance, by="library")
def test_the_scatter_that_all_but_three_in_a_thousand_keep_to() -> None:
    scatter = statistics.NormalDist(0, 0.000084)
    tail = statistics.NormalDist().cdf(-3)
    wide = scatter.inv_cdf(1 - tail) - scatter.inv_cdf(tail)
    assert uncertainties.share_of_tolerance(0.000084, 0.001) == near(wide / 0.001, 1e-9)


@witness(volumes.capacity, by="integration")
def test_four_pistons_swept_one_after_the_other() -> None:
    swept = quad(lambda _: math.pi * 35.0**2, 0, 75.0)[0]
    assert volumes.capacity(swept, 4) == near(sum(swept for _ in range(4)))
