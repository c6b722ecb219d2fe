"""Parts in the block: cases by hand stand in tests/support/published/clearances.toml; here what
must hold for all sizes.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import clearances

sizes = st.floats(min_value=10, max_value=150)
small = st.floats(min_value=-0.5, max_value=0.5)


@given(sizes, small)
def test_cam_clearance_tappet_clearance_and_end_float_are_the_room_left(
    size: float, room: float
) -> None:
    for clearance in (clearances.cam_clearance, clearances.tappet_clearance, clearances.end_float):
        assert clearance(size + room, size) == pytest.approx(room, abs=1e-9)


@given(sizes, small)
def test_core_plug_interference_and_liner_interference_are_what_the_part_is_larger(
    size: float, over: float
) -> None:
    for interference in (clearances.core_plug_interference, clearances.liner_interference):
        assert interference(size + over, size) == pytest.approx(over, abs=1e-9)


@given(sizes, small)
def test_oil_clearance_grows_with_the_tunnel_and_twice_with_a_thinner_shell(
    journal: float, change: float
) -> None:
    room = clearances.oil_clearance(journal + 4.05, 2, journal)
    assert room == pytest.approx(0.05)
    assert clearances.oil_clearance(journal + 4.05 + change, 2, journal) == pytest.approx(
        room + change, abs=1e-9
    )
    assert clearances.oil_clearance(journal + 4.05, 2 - change, journal) == pytest.approx(
        room + 2 * change, abs=1e-9
    )


@given(sizes, small)
def test_ring_gap_change_is_the_growth_of_the_girth(bore: float, growth: float) -> None:
    assert clearances.ring_gap_change(growth) == pytest.approx(
        math.pi * (bore + growth) - math.pi * bore, abs=1e-9
    )


def test_dowel_projection_grows_by_a_cut_on_the_face() -> None:
    cut = 0.25
    assert clearances.dowel_projection(22.0, 14.0 - cut) - clearances.dowel_projection(
        22.0, 14.0
    ) == pytest.approx(cut)


def test_stand_out_grows_with_shims_and_shrinks_with_the_depth_of_the_counterbore() -> None:
    flush = clearances.stand_out(8.0, 8.0, 0.0)
    assert flush == 0
    assert clearances.stand_out(8.0, 8.0, 0.1) == pytest.approx(0.1)
    assert clearances.stand_out(8.0, 8.05, 0.0) == pytest.approx(-0.05)


@given(sizes, small, small)
def test_ring_gap_closure_is_nothing_where_feeler_and_gauge_see_one_taper(
    bore: float, taper: float, slip: float
) -> None:
    gap = 0.4
    opened = gap + clearances.ring_gap_change(taper)
    assert clearances.ring_gap_closure(opened, gap, bore + taper, bore) == pytest.approx(
        0, abs=1e-9
    )
    assert clearances.ring_gap_closure(opened, gap, bore + taper + slip, bore) == pytest.approx(
        -math.pi * slip, abs=1e-9
    )


def test_ring_gap_closure_of_a_manuals_own_rule() -> None:
    # TM 5-6115-593-34: 0.001 in of wear adds 0.003 in of gap, which is pi rounded
    assert clearances.ring_gap_closure(0.018, 0.015, 3.4310, 3.4300) == pytest.approx(
        0, abs=0.00015
    )


@given(sizes, sizes)
def test_size_to_fit_is_the_finished_size_once_there_is_one(
    finished: float, planned: float
) -> None:
    assert (
        clearances.size_to_fit(finished, planned)
        == clearances.size_to_fit(finished, math.nan)
        == finished
    )
    assert clearances.size_to_fit(math.nan, planned) == planned
    assert clearances.size_to_fit(math.nan, math.nan) is None
