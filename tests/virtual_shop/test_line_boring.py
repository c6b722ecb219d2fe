"""The boring bar on tunnels whose figures were worked by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hand_made import VEE, block, fixed_chance, with_tunnels
from virtual_shop.blocks import flat_face, random_blocks
from virtual_shop.cutting import PERFECT
from virtual_shop.faces import Line
from virtual_shop.line_boring import BoringSheet, line_bored
from virtual_shop.truth import true_figures

UPRIGHT = [61.090, 61.095, 61.085]


@pytest.mark.parametrize(
    ("lift", "least"), [(0.0425, 0.010), (0.130, 0.010), (0.0424, 0.0099), (0.1301, 0.0099)]
)
def test_the_corridor_of_the_lift_is_as_wide_as_worked(lift: float, least: float) -> None:
    worn = with_tunnels(block([220.0] * 4, None), UPRIGHT, up=[0.0, 0.020, 0.0])
    bored = line_bored(worn, BoringSheet(lift, lift, 61.070, 0.150), PERFECT, fixed_chance())
    assert min(bored.saddle.min(), bored.cap.min()) == pytest.approx(least, abs=1e-9)
    assert bored.blocks.crank_line.z == pytest.approx(lift, abs=1e-12)


def test_a_lift_without_metal_on_the_caps_misses_them() -> None:
    good = with_tunnels(block([220.0] * 4, None), [61.07] * 3)
    bored = line_bored(good, BoringSheet(0.25, 0.25, 61.07, 0.0), PERFECT, fixed_chance())
    assert bored.saddle == pytest.approx(0.25)
    assert bored.cap == pytest.approx(-0.25)
    assert bored.missed.all()


def test_the_cutter_misses_on_the_slant_what_it_meets_at_top_and_side() -> None:
    off = with_tunnels(
        block([220.0] * 4, None), [61.05] * 3, up=[0.0, 0.01, 0.0], left=[0.0, 0.01, 0.0]
    )
    bored = line_bored(off, BoringSheet(0.0, 0.0, 61.075, 0.0), PERFECT, fixed_chance())
    assert bored.saddle[0, 1] == pytest.approx(0.0025, abs=1e-5)
    slanting = 0.0125 - np.hypot(0.01, 0.01)
    assert bored.anywhere[0, 1] == pytest.approx(slanting, abs=1e-5)
    assert bored.anywhere[0, [0, 2]] == pytest.approx(0.0125)


def test_a_tunnel_wide_across_keeps_its_sides() -> None:
    wide = with_tunnels(block([220.0] * 4, None), [61.05] * 3, wide=[61.09] * 3)
    bored = line_bored(wide, BoringSheet(0.0, 0.0, 61.07, 0.0), PERFECT, fixed_chance())
    assert bored.sides == pytest.approx(-0.010)
    assert bored.blocks.tunnels.across == pytest.approx(61.09)
    assert bored.blocks.tunnels.upright == pytest.approx(61.07)


def test_what_the_cap_loses_at_its_joint_is_no_wall_to_be_met() -> None:
    """With 0.2 off the cap its wall starts lower down, the joint's own edge is the saddle's."""
    good = with_tunnels(block([220.0] * 4, None), [61.05] * 3)
    bored = line_bored(good, BoringSheet(0.1, 0.1, 61.07, 0.2), PERFECT, fixed_chance())
    edge = 61.07 / 2 - np.hypot(61.05 / 2, 0.1)
    assert bored.sides == pytest.approx(edge, abs=1e-6)


def test_the_mandrel_rests_in_the_saddles() -> None:
    worn = with_tunnels(block([220.0] * 4, None), [61.10, 61.05, 61.06], wide=[61.11, 61.05, 61.06])
    axis = worn.mandrel_axis()
    assert axis.z[0] == pytest.approx([0.05 / 2, 0.01 / 2])
    assert worn.sizes["mandrel"] == 61.05


def test_in_a_narrow_saddle_the_mandrel_stands_on_both_flanks() -> None:
    narrow = with_tunnels(
        block([220.0] * 4, None), [61.20, 61.05, 61.05], wide=[61.06, 61.05, 61.05]
    )
    seat = narrow.mandrel_axis().z[0, 0]
    angle = np.linspace(0, np.pi, 100_001)
    wall = np.hypot(61.06 / 2 * np.cos(angle), 61.20 / 2 * np.sin(angle) - seat)
    assert wall.min() == pytest.approx(61.05 / 2, abs=1e-7)
    assert seat < (61.20 - 61.05) / 2


def test_a_block_without_a_size_is_not_bored() -> None:
    two = with_tunnels(block([220.0] * 4, None), UPRIGHT).take([0, 0])
    nan = np.nan
    sheet = BoringSheet(
        np.array([0.1, nan]), np.array([0.1, nan]), np.array([61.07, nan]), np.array([0.2, nan])
    )
    after = line_bored(two, sheet, PERFECT, fixed_chance()).blocks
    assert after.tunnels.upright[1] == pytest.approx(UPRIGHT)
    assert after.crank_line.z[:, 0] == pytest.approx([0.1, 0.0])


def test_between_two_banks_a_lift_and_a_move_are_shared() -> None:
    vee = random_blocks(VEE, 3, 1)
    half = np.radians(45)
    faces = {
        name: flat_face(VEE, VEE["deck_width"], np.array([229.0]), lean)
        for name, lean in (("left", half), ("right", -half))
    }
    straight = Line(vee.crank_line.places, np.zeros((1, 2)), np.zeros((1, 2)))
    still = {
        name: replace(bank, across=bank.across * 0, lean=bank.lean * 0)
        for name, bank in vee.banks.items()
    }
    vee = replace(vee, faces=faces, crank_line=straight, banks=still)
    lift, left = 0.10, 0.04
    sheet = BoringSheet(lift, lift, 65.2, 0.2, left_front=left, left_rear=left)
    found = true_figures(line_bored(vee, sheet, PERFECT, fixed_chance()).blocks)
    up, aside = lift * np.cos(half), left * np.sin(half)
    assert found["left.height"] == pytest.approx(229.0 - up - aside)
    assert found["right.height"] == pytest.approx(229.0 - up + aside)
    assert np.abs(found["left.miss"]) == pytest.approx(
        np.full((1, 4), abs(lift * np.sin(half) - left * np.cos(half)))
    )
    assert np.abs(found["right.miss"]) == pytest.approx(
        np.full((1, 4), abs(lift * np.sin(half) + left * np.cos(half)))
    )
