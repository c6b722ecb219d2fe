"""Gauges err as they are said to, the straight-edge rests as a straight-edge does."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from hand_made import SIZES, block, fixed_chance
from virtual_shop.blocks import flat_face, random_blocks
from virtual_shop.faces import Face
from virtual_shop.gauges import Feelers, Gauge, Gauges, errors, leaves, measured, under_edge
from virtual_shop.standing import standing_on

EXACT = Gauge(0.0, 0.0)
TRUE = Gauges(EXACT, EXACT, EXACT, EXACT, EXACT, Feelers(leaves=(0.02, 0.03, 0.05), reading=0.0))


def test_an_error_has_half_the_stated_figure_and_an_end() -> None:
    drawn = errors(fixed_chance(), 0.004, 100_000)
    assert drawn.std() == pytest.approx(0.002, rel=0.02)  # cut off: 1.3 % less
    assert np.abs(drawn).max() <= 0.006
    assert np.abs(drawn).max() > 0.0055


def test_readings_of_one_setting_are_off_together() -> None:
    read = Gauge(setting=0.006, reading=0.002).reads(fixed_chance(), np.zeros((20_000, 6)))
    mean, difference = read.mean(axis=1), read[:, 0] - read[:, 5]
    assert mean.std() * 2 == pytest.approx(np.hypot(0.006, 0.002 / np.sqrt(6)), rel=0.03)
    assert difference.std() * 2 == pytest.approx(0.002 * np.sqrt(2), rel=0.03)


def test_gauges_without_error_read_the_block() -> None:
    read = measured(block([220.03, 220.02, 219.99, 219.98], [80.0] * 4), TRUE, fixed_chance())
    seat = (61.07 - 61.05) / 2  # the mandrel rests above the tunnels' middle
    assert read["deck.height"][0] + seat == pytest.approx([220.03, 220.02, 219.99, 219.98])
    assert read["bottom.height"][0] - seat == pytest.approx([80.0] * 4)
    assert read["overall"][0] == pytest.approx([300.03, 300.02, 299.99, 299.98])
    assert read["tunnels.upright"][0] == pytest.approx([61.07] * 3)
    assert read["deck.grid"].shape == (1, 45)
    assert float(np.nanmax(read["deck.grid"])) + seat == pytest.approx(220.03)
    assert np.isnan(read["deck.grid"]).any()


def test_the_edge_over_a_hollow_rests_on_its_ends() -> None:
    gap, rocks = under_edge(block([220.0] * 4, None, bow=-0.06).faces["deck"])
    assert gap[0, :2] == pytest.approx(0.06, rel=0.01)
    assert gap[0, 2:4] == pytest.approx(0.0, abs=1e-9)
    assert not rocks.any()


def test_the_edge_rocks_on_a_crown_with_its_gap_at_the_ends() -> None:
    gap, rocks = under_edge(block([220.0] * 4, None, bow=0.06).faces["deck"])
    assert gap[0, :2] == pytest.approx(0.06, rel=0.06)
    assert rocks[0, :2].all()


def test_the_edge_lies_on_nothing_that_stands_above_it() -> None:
    """A tilt or a twist shows no gap along a line; a hollow beside the middle shows whole."""
    gap, rocks = under_edge(block([220.0, 219.9, 219.8, 219.9], None).faces["deck"])
    assert gap[0, :4] == pytest.approx(0.0, abs=1e-9)
    beside = block([220.0] * 4, None, hollow=(118.2, 85.5, 0.04)).faces["deck"]
    gap, rocks = under_edge(beside)
    assert gap[0, 0] == pytest.approx(0.04, rel=0.06)
    assert not rocks[0, 0]


def test_leaves_that_go_and_stop() -> None:
    goes, stops = leaves((0.02, 0.03, 0.05), np.array([0.0, 0.019, 0.02, 0.049, 0.07]))
    assert goes.tolist() == [0.0, 0.0, 0.02, 0.03, 0.05]
    assert stops.tolist() == [0.02, 0.02, 0.03, 0.05, np.inf]


def test_a_face_stands_on_three_points_with_its_weight_between_them() -> None:
    """Against every three points of a small face tried in turn."""
    chance = fixed_chance()
    for _ in range(20):
        face = small_face(chance)
        weight = np.array([[200.0, 0.0]]) + chance.uniform(-30, 30, (1, 2))
        x, y = (one.ravel() for one in face.grid)
        heights = face.height[0].ravel()
        resting = []
        for three in itertools.combinations(range(len(x)), 3):
            columns = np.column_stack([np.ones(3), x[list(three)], y[list(three)]])
            if abs(np.linalg.det(columns)) < 1e-6:
                continue
            plane = np.linalg.solve(columns, heights[list(three)])
            clear = plane[0] + plane[1] * x + plane[2] * y >= heights - 1e-9
            shares = np.linalg.solve(columns.T, [1.0, *weight[0]])
            if clear.all() and (shares >= 0).all():
                resting.append(plane[1:])
        assert len(resting) == 1
        assert standing_on(face, weight)[0] == pytest.approx(resting[0], abs=1e-9)


def small_face(chance: np.random.Generator) -> Face:
    face = flat_face(SIZES, SIZES["bottom_width"], np.array([80.0]), np.pi)
    thin = np.linspace(0, 40, 5).astype(int), np.linspace(0, 20, 4).astype(int)
    height = face.height[:, thin[0]][:, :, thin[1]] + chance.uniform(0, 0.1, (1, 5, 4))
    return Face(
        face.along[thin[0]], face.across[thin[1]], height, face.outward, face.left,
        face.holes, 0.0, face.corners,
    )  # fmt: skip


def test_readings_err_within_their_figures() -> None:
    blocks = random_blocks(SIZES, 5, 300)
    gauges = Gauges()
    read, true = (measured(blocks, one, fixed_chance()) for one in (gauges, TRUE))
    for name in ("deck.height", "bottom.height", "overall", "tunnels.upright", "deck.rod"):
        off = read[name] - true[name]
        assert 0.001 < off.std() < 0.005, name
        assert np.abs(off).max() < 0.0151, name
    assert np.abs(read["tunnels.up"][:, [0, -1]]).max() == 0.0
