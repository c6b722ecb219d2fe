"""Cuts on blocks whose figures were worked by hand: the points of the grid must come out so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hand_made import SIZES, block, fixed_chance
from virtual_shop.cutting import HIGHEST, LOWEST_CORNER, PERFECT, CuttingSheet, Shop, face_cut
from virtual_shop.faces import Floats
from virtual_shop.line_boring import BoringSheet, line_bored
from virtual_shop.standing import CRANK_LINE, ITSELF, OPPOSITE_FACE, OPPOSITE_SHIMMED, standing_on
from virtual_shop.truth import true_figures

TILTED = [220.03, 220.03, 219.99, 219.99]
UNDER_IT = [79.97, 79.97, 80.05, 80.05]


def cut(
    deck: list[float], bottom: list[float], parallel_to: str, infeed: float = 0.02
) -> dict[str, Floats]:
    sheet = CuttingSheet("deck", parallel_to, LOWEST_CORNER, infeed)
    return true_figures(face_cut(block(deck, bottom), sheet, PERFECT, fixed_chance()))


@pytest.mark.parametrize(
    ("parallel_to", "deck", "overall"),
    [
        (CRANK_LINE, [219.97] * 4, [299.94, 299.94, 300.02, 300.02]),
        (OPPOSITE_FACE, [220.01, 220.01, 219.93, 219.93], [299.98] * 4),
        (ITSELF, [220.01, 220.01, 219.97, 219.97], [299.98, 299.98, 300.02, 300.02]),
    ],
)
def test_a_tilted_deck_over_a_tilted_bottom(
    parallel_to: str, deck: list[float], overall: list[float]
) -> None:
    found = cut(TILTED, UNDER_IT, parallel_to)
    assert found["deck.height"][0] == pytest.approx(deck, abs=1e-9)
    assert found["overall"][0] == pytest.approx(overall, abs=1e-9)
    assert found["overall.least"][0] <= min(overall) + 1e-9


def test_a_face_cut_parallel_to_itself_loses_its_twist() -> None:
    found = cut([220.00, 219.97, 219.97, 220.00], [80.0] * 4, ITSELF)
    assert found["deck.height"][0] == pytest.approx([219.95] * 4, abs=1e-9)
    assert found["deck.twist"] == pytest.approx(0, abs=1e-9)


def test_a_twisted_bottom_on_shims_hands_its_plane_on() -> None:
    found = cut([220.0] * 4, [80.00, 80.00, 80.00, 79.94], OPPOSITE_SHIMMED)
    assert found["deck.height"][0] == pytest.approx([219.92, 219.95, 219.95, 219.98], abs=1e-9)
    assert found["overall"][0] == pytest.approx([299.92, 299.95, 299.95, 299.92], abs=1e-9)


@pytest.mark.parametrize(("towards", "aloft"), [(-20.0, "rear right"), (20.0, "front left")])
def test_a_twisted_bottom_without_shims_stands_on_three_corners(towards: float, aloft: str) -> None:
    """On the two high ones and on that of the others to which its weight leans."""
    face = block([220.0] * 4, [80.00, 80.00, 80.00, 79.94]).faces["bottom"]
    middle = SIZES["length"] / 2
    along, across = standing_on(face, np.array([[middle + towards, 0.0]]))[0]
    x, y = face.grid
    off_table = along * x + across * y - face.height[0]
    off_table -= off_table.min()
    at = {
        "front left": (0, -1),
        "front right": (0, 0),
        "rear left": (-1, -1),
        "rear right": (-1, 0),
    }
    lifted = {name for name, place in at.items() if off_table[place] > 1e-9}
    assert lifted == {aloft}


def test_the_bottom_is_cut_as_the_deck_is() -> None:
    sheet = CuttingSheet("bottom", CRANK_LINE, LOWEST_CORNER, 0.02)
    found = true_figures(face_cut(block(TILTED, UNDER_IT), sheet, PERFECT, fixed_chance()))
    assert found["bottom.height"][0] == pytest.approx([79.95] * 4, abs=1e-9)
    sheet = CuttingSheet("bottom", OPPOSITE_FACE, LOWEST_CORNER, 0.02)
    found = true_figures(face_cut(block(TILTED, UNDER_IT), sheet, PERFECT, fixed_chance()))
    assert found["overall"][0] == pytest.approx([299.98] * 4, abs=1e-9)


def test_a_tilted_lift_is_taken_off_where_it_is_least() -> None:
    bored = line_bored(
        block([220.0] * 4, [80.0] * 4), BoringSheet(0.05, 0.13, 61.1, 0.2), PERFECT, fixed_chance()
    )
    before = true_figures(bored.blocks)["deck.height"][0]
    assert before == pytest.approx([219.95, 219.95, 219.87, 219.87], abs=1e-9)
    sheet = CuttingSheet("deck", CRANK_LINE, LOWEST_CORNER, 0.02)
    done = face_cut(bored.blocks, sheet, PERFECT, fixed_chance())
    assert true_figures(done)["deck.height"][0] == pytest.approx([219.85] * 4, abs=1e-9)
    off = bored.blocks.faces["deck"].corner_heights() - done.faces["deck"].corner_heights()
    assert off[0] == pytest.approx([0.10, 0.10, 0.02, 0.02], abs=1e-9)


def test_touched_on_its_hump_a_crowned_face_needs_the_hump_in_the_infeed() -> None:
    crowned = block([220.0, 220.0, 219.98, 219.98], [80.0] * 4, crown=0.04)
    corner = CuttingSheet("deck", CRANK_LINE, 2, 0.02)
    by_corner = face_cut(crowned, corner, PERFECT, fixed_chance())
    face = crowned.faces["deck"]
    highest = face.height[:, face.is_metal(*face.grid)].max()
    hump = CuttingSheet("deck", CRANK_LINE, HIGHEST, 0.02 + highest - 219.98)
    by_hump = face_cut(crowned, hump, PERFECT, fixed_chance())
    assert by_hump.faces["deck"].height == pytest.approx(by_corner.faces["deck"].height, abs=1e-5)
    short = replace(hump, infeed=0.02)
    assert true_figures(face_cut(crowned, short, PERFECT, fixed_chance()))["deck.uncut"][0] > 0.02


def test_what_a_cut_leaves_of_a_hollow() -> None:
    sunk = block([220.0] * 4, [80.0] * 4, hollow=(197.0, 0.0, 0.05))
    for infeed, left in ((0.02, 0.03), (0.05, 0.0), (0.06, 0.0)):
        sheet = CuttingSheet("deck", ITSELF, 0, infeed)
        found = true_figures(face_cut(sunk, sheet, PERFECT, fixed_chance()))
        assert found["deck.uncut"][0] == pytest.approx(left, abs=1e-6)


@pytest.mark.parametrize(("infeed", "left"), [(0.020, 0.00083), (0.0209, 0.0), (0.030, 0.0)])
def test_a_hollow_along_a_tilted_deck_is_clean_at_its_lower_end_less_the_gap(
    infeed: float, left: float
) -> None:
    """Worked: 219.99 − 0.01·u − 0.03·(1 − u²) is least at u = 1/6, 0.02083 under the low corner."""
    sunk = block([220.0, 220.0, 219.98, 219.98], None, bow=-0.03)
    sheet = CuttingSheet("deck", CRANK_LINE, LOWEST_CORNER, infeed)
    found = true_figures(face_cut(sunk, sheet, PERFECT, fixed_chance()))
    assert found["deck.uncut"][0] == pytest.approx(left, abs=2e-5)


def test_a_slanting_deck_stands_lowest_at_the_rim_over_a_piston() -> None:
    found = cut(TILTED, UNDER_IT, OPPOSITE_FACE)
    slope = -0.08 / (SIZES["corners"][1] - SIZES["corners"][0])
    at = np.asarray(SIZES["banks"]["deck"]["along"])
    over_it = 220.01 + slope * (at - SIZES["corners"][0])
    stack = SIZES["stroke"] / 2 + SIZES["rod"] + SIZES["piston"]
    worked = over_it - SIZES["bore"] / 2 * abs(slope) - stack
    assert found["deck.clearance"][0] == pytest.approx(worked, abs=1e-9)
    assert found["deck.rim"][0] == pytest.approx(worked, abs=1e-9)


def test_work_that_errs_stays_within_its_figures() -> None:
    one = block([220.0] * 4, [80.0] * 4)
    many = one.take(np.zeros(2000, int))
    sheet = CuttingSheet("deck", CRANK_LINE, 0, 0.10)
    shop = Shop(infeed=0.010, touch=0.0, clocking=0.0)
    height = true_figures(face_cut(many, sheet, shop, fixed_chance()))["deck.height"]
    assert height.mean() == pytest.approx(219.90, abs=0.0005)
    assert height[:, 0].std() == pytest.approx(0.005, rel=0.05)
    assert np.abs(height - 219.90).max() <= 0.015
    shop = Shop(infeed=0.0, touch=0.0, clocking=0.010)
    found = true_figures(face_cut(many, sheet, shop, fixed_chance()))
    assert found["deck.tilt"].std() == pytest.approx(0.005, rel=0.06)
    assert found["deck.height"][:, 0] == pytest.approx(219.90, abs=1e-9)


def test_what_cannot_be_stood_upon_is_refused() -> None:
    alone = block([220.0] * 4, None)
    with pytest.raises(ValueError, match="one deck over a bottom"):
        face_cut(alone, CuttingSheet("deck", OPPOSITE_FACE, 0, 0.1), PERFECT, fixed_chance())
    with pytest.raises(ValueError, match="parallel to 'the wall'"):
        face_cut(alone, CuttingSheet("deck", "the wall", 0, 0.1), PERFECT, fixed_chance())
