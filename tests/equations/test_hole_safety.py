"""What is left round a hole, worked by hand and by geometry; source: geometry, where no other is
named.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import cutting, faces, hole_safety
from witnesses import witness

lengths = st.floats(min_value=0.1, max_value=200)
LEADS = {"taper_lead": 7, "second_lead": 3, "bottoming_lead": 1}  # from memory


def test_groove_left_is_nothing_where_the_new_hole_swallows_the_old_thread() -> None:
    # 7/16 opened to 1/2-13 with 27/64 leaves grooves; 3/8 opened to 1/2-13 does not
    assert hole_safety.groove_left(old_major=0.4375, new_hole=27 / 64) == pytest.approx(
        0.0078, abs=5e-5
    )
    assert hole_safety.groove_left(old_major=0.375, new_hole=27 / 64) == 0
    assert hole_safety.groove_left(old_major=0.4375, new_hole=0.4375) == 0


def test_centre_distance_of_a_three_four_five_triangle() -> None:
    assert hole_safety.centre_distance(10, 20, 40, 60) == 50


@given(lengths, lengths, lengths, lengths)
def test_centre_distance_is_the_same_from_either_hole(
    a: float, b: float, c: float, d: float
) -> None:
    assert hole_safety.centre_distance(a, b, c, d) == hole_safety.centre_distance(c, d, a, b)
    assert hole_safety.centre_distance(a, b, c, d) == pytest.approx(math.hypot(a - c, b - d))


def test_wall_to_neighbour_is_below_zero_where_two_holes_meet() -> None:
    assert hole_safety.wall_to_neighbour(
        centre_distance=50, diameter=12.7, other_diameter=80
    ) == pytest.approx(3.65)
    assert hole_safety.wall_to_neighbour(centre_distance=10, diameter=12, other_diameter=10) == -1


@given(lengths, lengths, lengths)
def test_wall_after_opening_is_the_wall_to_the_neighbour_of_the_larger_hole(
    centre: float, old: float, grown: float
) -> None:
    wall = hole_safety.wall_to_neighbour(centre, old, 8.0)
    opened = hole_safety.wall_after_opening(wall, old, old + grown)
    assert opened == pytest.approx(
        hole_safety.wall_to_neighbour(centre, old + grown, 8.0), abs=1e-9
    )


def test_edge_distance_and_edge_in_diameters_of_a_half_inch_hole() -> None:
    # common practice, no source: centre to edge at least 1.5 diameters
    distance = hole_safety.edge_distance(position=11.25, edge=12.0)
    assert distance == 0.75
    assert hole_safety.edge_in_diameters(distance, 0.5) == 1.5


def test_depth_after_skim_of_a_relief_and_of_one_that_the_cut_takes_away() -> None:
    assert hole_safety.depth_after_skim(0.100, 0.015) == pytest.approx(0.085)
    assert hole_safety.depth_after_skim(0.010, 0.015) == 0


def test_depth_after_skim_leaves_the_engagement_below_a_relief_as_it_was() -> None:
    # thread 0.875 and relief 0.100 from the old face, 0.015 skimmed off: 0.860 and 0.085, still
    # 0.775 of thread
    thread, relief = (hole_safety.depth_after_skim(depth, 0.015) for depth in (0.875, 0.100))
    assert cutting.engagement(thread, relief) == pytest.approx(0.775)
    # deepened again to 0.100 from the new face it costs what was skimmed
    assert cutting.engagement(thread, 0.100) == pytest.approx(0.760)


def test_deepest_tip_leaves_exactly_the_least_floor() -> None:
    # floor at 1.250 in, 1/8 in to stay
    tip = hole_safety.deepest_tip(floor=1.250, least_floor=0.125)
    assert cutting.floor_left(1.250, tip) == pytest.approx(0.125)


def test_lead_room_turns_drilled_depth_round() -> None:
    full = cutting.drilled_depth(thread_depth=0.875, tap_lead=1.5, pitch=1 / 13, chip_room=0.0625)
    assert hole_safety.lead_room(full, 0.875, 0.0625, 1 / 13) == pytest.approx(1.5)


@pytest.mark.parametrize(
    ("room", "tap"),
    [(9, "taper"), (7, "taper"), (6.9, "second"), (3, "second"), (1.5, "bottoming"), (0.9, "none")],
)
def test_tap_that_fits_is_the_one_with_the_longest_lead(room: float, tap: str) -> None:
    assert hole_safety.tap_that_fits(room, **LEADS) == tap


def test_length_in_hole_and_room_below_fastener_of_a_bolt_that_bottoms() -> None:
    inside = hole_safety.length_in_hole(fastener_length=2.5, grip=1.5)
    assert inside == 1.0
    assert hole_safety.room_below_fastener(
        usable_depth=0.875, length_in_hole=inside
    ) == pytest.approx(-0.125)


@pytest.mark.parametrize(
    ("inside", "thread", "relief", "engaged"),
    [(0.75, 0.875, 0.1, 0.65), (1.0, 0.875, 0.1, 0.775), (0.05, 0.875, 0.1, 0)],
)
def test_engaged_length_ends_with_the_shorter_of_bolt_and_thread(
    inside: float, thread: float, relief: float, engaged: float
) -> None:
    assert hole_safety.engaged_length(inside, thread, relief) == pytest.approx(engaged)


def test_engagement_by_diameters_multiplies_the_major_diameter() -> None:
    # common practice, no source: 1.25 and 1.5 diameters in grey iron
    assert hole_safety.engagement_by_diameters(0.5, 1.5) == 0.75
    assert hole_safety.engagement_by_diameters(8.0, 1.25) == 10.0


def test_widest_relief_is_the_narrower_of_gasket_hole_and_boss() -> None:
    assert hole_safety.widest_relief(0.531, 1.125) == 0.531
    assert hole_safety.widest_relief(1.125) == 1.125


def test_depth_in_pitches_of_a_relief_on_fourteen_threads() -> None:
    assert hole_safety.depth_in_pitches(depth=3 / 32, pitch=1 / 14) == pytest.approx(1.3125)


@pytest.mark.parametrize(
    ("along", "across", "nearest"), [(18, 28, 18), (376, 100, 18), (200, 5, 5), (200, 187, 3)]
)
def test_nearest_edge_is_the_least_of_four(along: float, across: float, nearest: float) -> None:
    assert hole_safety.nearest_edge(along, across, length=394, width=190) == nearest


def test_shown_where_done_and_shown_where_open_are_never_both_in_the_picture() -> None:
    for tick in ("done", "DONE", "", "not done"):
        places = [
            mark(tick, 28.0, -1900.0)
            for mark in (hole_safety.shown_where_done, hole_safety.shown_where_open)
        ]
        assert sorted(places) == [-1900.0, 28.0]
    assert hole_safety.shown_where_done("done", 28.0, -1900.0) == 28.0


@witness(hole_safety.deepest_below_cut, by="counting")
def test_deepest_below_cut_takes_slices_off_until_the_least_is_left() -> None:
    for floor, skim, least in ((1250, 25, 125), (900, 0, 90), (640, 31, 64)):  # slices of 0.001
        metal = list(range(floor))[skim:]  # what stands over the gallery once the face is cut
        depth = 0
        while len(metal) > least:
            metal.pop(0)
            depth += 1
        found = hole_safety.deepest_below_cut(floor / 1000, skim / 1000, least / 1000)
        assert found == pytest.approx(depth / 1000)


@witness(faces.gone_since_drawn, by="counting")
def test_gone_since_drawn_counts_the_slices_that_no_longer_stand_over_a_floor() -> None:
    for gone, off, cut in ((30, 4, 0), (30, -4, 12), (0, 4, 12), (3, 0, 0)):  # slices of 0.001
        metal = list(range(1250))[gone:]  # what an earlier cut has left over the gallery
        read = 3555 - gone - off  # as far off as it may be
        found = faces.gone_since_drawn(3.555, read / 1000, abs(off) / 1000, cut / 1000)
        left = len(metal[cut:]) / 1000
        # never more than there is; less by twice what a reading is off to the safe side already
        assert 1.250 - found == pytest.approx(left - (abs(off) + off) / 1000)
    # a face proud of its drawing: the cut is counted whole
    assert faces.gone_since_drawn(3.555, 3.560, 0.001, 0.004) == pytest.approx(0.004)


@witness(hole_safety.deepest_thread, by="counting")
def test_deepest_thread_is_the_last_slice_of_full_width_over_the_floor() -> None:
    for tip, point, deepest in ((1100, 127, 1125), (1000, 90, 800), (852, 80, 937)):
        widths = [min(1.0, (tip - at) / point) for at in range(tip)]  # of the drilled hole
        full = sum(width >= 1.0 for width in widths) - 1  # the one at which the point begins
        found = hole_safety.deepest_thread(deepest / 1000, tip / 1000, point / 1000)
        assert found == pytest.approx(min(full, deepest) / 1000, abs=1e-3 / 2)
    assert hole_safety.deepest_thread(1.125, math.nan, 0.127) == 1.125
    assert hole_safety.deepest_thread(1.125, 1.1, math.nan) is None
