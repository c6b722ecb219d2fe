"""Reamers: the room they leave in a hole, by whole micrometres counted."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import reaming
from witnesses import witness

micrometres = st.integers(2, 300)


@witness(reaming.largest_reamer, reaming.smallest_reamer, by="counting")
def test_a_reamer_cuts_within_the_hole_with_room_to_wear() -> None:
    for tolerance in range(2, 200, 7):
        largest = reaming.largest_reamer(20.0, tolerance / 1000)
        spared = math.ceil(15 * tolerance / 100)  # of a hundred parts fifteen, in micrometres
        worn = math.ceil(35 * tolerance / 100)
        assert round(20_000 - 1000 * largest, 6) == spared
        assert (
            round(1000 * (largest - reaming.smallest_reamer(largest, tolerance / 1000)), 6) == worn
        )


@given(micrometres)
def test_largest_reamer_and_smallest_reamer_are_sizes_of_the_hole(tolerance: int) -> None:
    largest = reaming.largest_reamer(10.0, tolerance / 1000)
    smallest = reaming.smallest_reamer(largest, tolerance / 1000)
    assert 10.0 - tolerance / 1000 - 0.001 <= smallest < largest < 10.0
