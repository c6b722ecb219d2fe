"""Pistons and rings: each turned round, and the two words for one height kept apart by their
sign.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import pistons
from datumbook.equations.heights import deck_clearance

sizes = st.floats(min_value=40, max_value=200)
rooms = st.floats(min_value=0.01, max_value=0.3)
heights = st.floats(min_value=100, max_value=400)
shares = st.floats(min_value=0.0005, max_value=0.006)


@pytest.mark.parametrize(("per_bore", "clearance"), [(0.0005, 0.0016), (0.001, 0.0033)])
def test_piston_clearance_by_rule_at_three_inches_and_a_quarter(
    per_bore: float, clearance: float
) -> None:
    # common practice, no source: half a thou to one thou to the inch of bore
    assert pistons.piston_clearance_by_rule(3.25, per_bore) == pytest.approx(clearance, abs=5e-5)


@given(sizes, shares)
def test_ring_gap_by_rule_is_the_same_gap_in_inches_and_millimetres(
    bore: float, share: float
) -> None:
    assert pistons.ring_gap_by_rule(bore / 25.4, share) * 25.4 == pytest.approx(
        pistons.ring_gap_by_rule(bore, share)
    )


def test_ring_gap_by_rule_of_four_thou_to_the_inch() -> None:
    # common practice, no source: a bore of 3 1/4 in
    assert pistons.ring_gap_by_rule(3.25, 0.004) == pytest.approx(0.013)


@given(st.floats(min_value=-1, max_value=1), rooms)
def test_gasket_for_protrusion_leaves_the_squish_wanted(protrusion: float, squish: float) -> None:
    assert pistons.gasket_for_protrusion(protrusion, squish) - protrusion == pytest.approx(squish)


@given(st.lists(st.floats(min_value=200, max_value=2000), min_size=1, max_size=12))
def test_weight_spread_is_never_below_zero_and_nothing_for_equal_weights(
    weights: list[float],
) -> None:
    assert pistons.weight_spread(*weights) == max(weights) - min(weights) >= 0
    assert pistons.weight_spread(*(weights[:1] * 4)) == 0


@given(st.lists(st.floats(min_value=-1, max_value=1), min_size=1, max_size=8))
def test_largest_protrusion_is_that_of_the_crown_with_the_least_deck_clearance(
    down: list[float],
) -> None:
    # by the heights of deck and crown over the crank line
    decks = [deck_clearance(100.0 + one, 100.0) for one in down]
    assert pistons.largest_protrusion(*decks) == pytest.approx(
        100.0 - min(100.0 + one for one in down), abs=1e-9
    )
