"""The metal budget: what was there is what has gone, what the plan takes and what is left.

Sources: geometry; the 8.890 in block is the trade's own reckoning (common practice, no source).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import budget

sizes = st.floats(1.0, 500.0)


def test_taken_so_far_and_still_to_spare_of_a_block_cut_before() -> None:
    assert budget.taken_so_far(8.890, 8.860) == pytest.approx(0.030, abs=1e-12)
    assert budget.still_to_spare(8.860, 8.850) == pytest.approx(0.010, abs=1e-12)


@given(sizes, sizes, sizes, sizes)
def test_taken_by_plan_closes_the_ledger_of_what_shrinks(
    new: float, received: float, after: float, least: float
) -> None:
    spent = (
        budget.taken_so_far(new, received)
        + budget.taken_by_plan(received, after)
        + budget.still_to_spare(after, least)
    )
    assert spent == pytest.approx(new - least, abs=1e-9)


@given(sizes, sizes, sizes, sizes)
def test_grown_so_far_grown_by_plan_and_still_to_grow_close_it_for_a_bore(
    new: float, received: float, after: float, most: float
) -> None:
    grown = (
        budget.grown_so_far(new, received)
        + budget.grown_by_plan(received, after)
        + budget.still_to_grow(after, most)
    )
    assert grown == pytest.approx(most - new, abs=1e-9)


def test_most_of_is_the_widest() -> None:
    assert budget.most_of(8.5, 14.5, 8.6) == 14.5


def test_least_of_is_the_narrowest() -> None:
    assert budget.least_of(8.5, 14.5, 8.6) == 8.5


@given(st.lists(st.floats(0.001, 50.0), min_size=2, max_size=5))
def test_share_of_every_part_together_is_the_whole(parts: list[float]) -> None:
    assert sum(budget.share(part, *parts) for part in parts) == pytest.approx(1.0, abs=1e-9)


def test_what_is_overdrawn_has_no_share_and_the_others_are_more_than_the_whole() -> None:
    parts = (0.030, 0.006, -0.004)
    assert budget.share(parts[2], *parts) == 0
    assert budget.share(parts[0], *parts) + budget.share(parts[1], *parts) == pytest.approx(36 / 32)


def test_as_planned_is_what_is_typed_else_what_is_suggested_else_nothing() -> None:
    assert budget.as_planned(82.5, 82.25) == 82.5
    assert budget.as_planned(math.nan, 82.25) == 82.25
    assert budget.as_planned(0.0, 0.03) == 0.0, "a zero that is typed is a decision"
    assert budget.as_planned(math.nan, math.nan) is None
