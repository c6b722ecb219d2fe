"""Volumes: printed cases stand in tests/support/published/volumes.toml; here whole engines, and
what must hold for all.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import bores, volumes

CUBIC_INCH = 16.387064  # cm³ exactly
bore_sizes = st.floats(min_value=50, max_value=150)
strokes = st.floats(min_value=50, max_value=200)
chambers = st.floats(min_value=30_000, max_value=150_000)
clearances = st.floats(min_value=-0.5, max_value=2)
rises = st.floats(min_value=1e-3, max_value=1)


def ratio(
    bore: float,
    stroke: float,
    chamber: float,
    dish: float,
    gasket: tuple[float, float],
    down: float,
) -> float:
    """The whole stack as the sheet works it out."""
    left = volumes.clearance_volume(
        chamber, dish, volumes.gasket_volume(*gasket), volumes.deck_volume(bore, down)
    )
    return volumes.compression_ratio(bores.swept_volume(bore, stroke), left)


def test_compression_ratio_of_a_whole_stack() -> None:
    # geometry, derived: 80 x 79 mm, gasket 82 x 1.2, piston 0.25 down, chamber 28 cm³, dish 3 cm³
    assert ratio(80, 79, 28_000, 3_000, (82, 1.2), 0.25) == pytest.approx(11.2891, abs=5e-5)


@pytest.mark.parametrize(("bore", "down", "printed"), [(3.130, 0.008, 9.65), (3.100, 0.020, 9.25)])
def test_compression_ratio_before_and_after_the_work(
    bore: float, down: float, printed: float
) -> None:
    # geometry, derived: 3.600 in stroke, gasket 3.200 x 0.034 in, chamber 44 cm³, dish 3 cm³
    chamber, dish = 44 / CUBIC_INCH, 3 / CUBIC_INCH
    assert ratio(bore, 3.600, chamber, dish, (3.200, 0.034), down) == pytest.approx(
        printed, abs=0.005
    )


def test_capacity_of_four_cylinders_70_by_75() -> None:
    # a university tutorial sheet; its answer 1154.54 cm³ worked by hand
    assert volumes.capacity(70, 75, 4) == pytest.approx(1_154_540, abs=5)


@given(bore_sizes, strokes, chambers, clearances, rises)
def test_compression_ratio_never_rises_with_the_deck_clearance(
    bore: float, stroke: float, chamber: float, down: float, rise: float
) -> None:
    before, after = (
        ratio(bore, stroke, chamber, 0, (bore + 2, 1.2), one) for one in (down, down + rise)
    )
    assert after < before


@given(bore_sizes, st.floats(min_value=0.001, max_value=2))
def test_deck_volume_is_below_nothing_where_the_crown_stands_proud(
    bore: float, proud: float
) -> None:
    assert volumes.deck_volume(bore, -proud) == -volumes.deck_volume(bore, proud) < 0


@given(bore_sizes, st.floats(min_value=0.1, max_value=3))
def test_gasket_volume_of_a_hole_as_wide_as_the_bore_is_a_deck_volume(
    bore: float, thickness: float
) -> None:
    assert volumes.gasket_volume(bore, thickness) == volumes.deck_volume(bore, thickness)


@given(chambers, st.floats(min_value=-5_000, max_value=5_000), clearances)
def test_clearance_volume_of_a_dome_is_less_by_twice_the_dish(
    chamber: float, dish: float, deck: float
) -> None:
    hollow, dome = (volumes.clearance_volume(chamber, one, 5_000, deck) for one in (dish, -dish))
    assert hollow - dome == pytest.approx(2 * dish, abs=1e-6)


def test_squish_before_and_after_the_work() -> None:
    # arithmetic, derived: 0.020 and then 0.008 down under 0.034
    assert volumes.squish(0.020, 0.034) == pytest.approx(0.054)
    assert volumes.squish(0.008, 0.034) == pytest.approx(0.042)


@given(st.lists(st.floats(min_value=5, max_value=20), min_size=1, max_size=8))
def test_compression_spread_is_nothing_for_a_set_alike_and_never_below_it(
    ratios: list[float],
) -> None:
    assert volumes.compression_spread(*ratios) == max(ratios) - min(ratios) >= 0
    assert volumes.compression_spread(ratios[0], ratios[0]) == 0
