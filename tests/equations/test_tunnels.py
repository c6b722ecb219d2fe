"""The main tunnels: sizes by hand stand in tests/support/published/tunnels.toml; here what must
hold whatever was read.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import tunnels

sizes = st.floats(min_value=30, max_value=120)
small = st.floats(min_value=-0.1, max_value=0.1)
places = st.floats(min_value=0, max_value=100)


@given(st.lists(sizes, min_size=1, max_size=6))
def test_tunnel_out_of_round_is_never_below_nothing(diameters: list[float]) -> None:
    assert tunnels.tunnel_out_of_round(*diameters) == tunnels.size_spread(*diameters) >= 0


@given(sizes, sizes)
def test_tunnel_taper_turned_round_changes_its_sign(front: float, rear: float) -> None:
    assert tunnels.tunnel_taper(front, rear) == -tunnels.tunnel_taper(rear, front)


@given(
    small,
    st.floats(min_value=-1e-3, max_value=1e-3),
    places,
    st.floats(min_value=1, max_value=100),
    small,
)
def test_misalignment_is_what_a_centre_was_moved_off_a_line_however_the_block_lay(
    level: float, slope: float, front: float, gap: float, moved: float
) -> None:
    middle, rear = front + gap, front + 3 * gap
    found = tunnels.misalignment(
        level + slope * middle + moved,
        middle,
        level + slope * front,
        front,
        level + slope * rear,
        rear,
    )
    assert found == pytest.approx(moved, abs=1e-9)


def test_misalignment_of_the_end_tunnels_is_nothing() -> None:
    ends = {"front_centre": 0.01, "front_place": 50.0, "rear_centre": 0.05, "rear_place": 450.0}
    assert tunnels.misalignment(0.01, 50.0, **ends) == 0
    assert tunnels.misalignment(0.05, 450.0, **ends) == pytest.approx(0, abs=1e-15)


@given(st.lists(small, min_size=2, max_size=7))
def test_overall_misalignment_is_no_less_than_any_adjacent_misalignment(row: list[float]) -> None:
    adjacent = [tunnels.adjacent_misalignment(*pair) for pair in pairwise(row)]
    assert tunnels.overall_misalignment(*row) >= max(adjacent)
