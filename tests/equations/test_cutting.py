"""At the machine: drill points and depth stops, worked by hand and turned round."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import cutting

lengths = st.floats(min_value=0.1, max_value=200)
quills = st.sampled_from(["down", "up"])
OTHER = {"down": "up", "up": "down"}


@pytest.mark.parametrize(("point_angle", "share"), [(118, 0.3004), (135, 0.2071), (90, 0.5)])
def test_drill_point_is_a_fixed_share_of_the_diameter(point_angle: float, share: float) -> None:
    # geometry, derived
    assert cutting.drill_point(1.0, math.radians(point_angle)) == pytest.approx(share, abs=0.00005)


def test_drill_point_of_a_flat_drill_is_nothing() -> None:
    assert cutting.drill_point(12.0, math.pi) == pytest.approx(0, abs=1e-12)


def test_the_worked_blind_hole() -> None:
    # geometry, derived: 0.875 of thread, bottoming tap 1.5 turns of 13 to the inch, 0.0625 for
    # chips; floor at 1.250
    full_depth = 0.875 + 1.5 / 13 + 0.0625
    assert full_depth == pytest.approx(1.0529, abs=0.00005)
    tip = cutting.tip_depth(full_depth, cutting.drill_point(0.4219, math.radians(118)))
    assert tip == pytest.approx(1.180, abs=0.0005)
    assert cutting.floor_left(1.250, tip) == pytest.approx(0.070, abs=0.0005)


@given(lengths, lengths)
def test_tip_depth_is_never_less_than_the_full_depth(full_depth: float, diameter: float) -> None:
    point = cutting.drill_point(diameter, math.radians(118))
    assert cutting.tip_depth(full_depth, point) > full_depth


def test_face_reading_and_stop_reading_of_the_worked_hole() -> None:
    # arithmetic, derived: touched at 2.315 through 0.004, counterbore 0.100 deep; drill 1.0529 deep
    # with a 0.1267 point, to the tip 1.1796, on lines 0.005 apart 1.175
    face = cutting.face_reading(touch_reading=2.315, feeler=0.004, quill="down")
    assert face == pytest.approx(2.319)
    assert cutting.stop_reading(face, 0.100, 0.005, "down") == pytest.approx(2.415)
    tip = cutting.depth_on_scale(cutting.tip_depth(1.0529, 0.1267), 0.005)
    assert tip == pytest.approx(1.175)
    assert cutting.stop_reading(face, tip, 0.005, "down") == pytest.approx(3.490)
    assert cutting.stop_reading(2.311, tip, 0.005, "up") == pytest.approx(1.140)


def test_stop_reading_of_a_sixteenth_below_a_face_at_one_inch() -> None:
    assert cutting.stop_reading(1.000, 1 / 16, 1 / 64, quill="down") == 1.0625
    assert cutting.stop_reading(1.000, 1 / 16, 1 / 64, quill="up") == 0.9375


scales = st.sampled_from([0.001, 0.002, 0.005, 1 / 64, 0.02, 0.05, 0.1, 0.5, 1.0])


@given(lengths, lengths, lengths, scales, quills)
def test_face_reading_and_stop_reading_mirror_on_a_scale_that_runs_the_other_way(
    touch: float, feeler: float, depth: float, scale: float, quill: str
) -> None:
    face = cutting.face_reading(touch, feeler, quill)
    stop = cutting.stop_reading(face, depth, scale, quill)
    other = cutting.face_reading(-touch, feeler, OTHER[quill])
    mirrored = cutting.stop_reading(other, depth, scale, OTHER[quill])
    assert mirrored == pytest.approx(-stop)
    assert -1e-6 <= feeler + depth - abs(stop - touch) < scale + 1e-6


@given(lengths, scales)
def test_depth_on_scale_is_whole_steps_less_than_one_short(depth: float, scale: float) -> None:
    sent = cutting.depth_on_scale(depth, scale)
    assert -1e-8 <= depth - sent < scale
    assert sent / scale == pytest.approx(round(sent / scale), abs=1e-6)


@given(lengths, lengths, scales, quills)
def test_full_depth_reached_is_reached_wherever_the_face_lies(
    face: float, depth: float, scale: float, quill: str
) -> None:
    sent = cutting.depth_on_scale(depth, scale)
    there = abs(cutting.stop_reading(face, sent, scale, quill) - face)
    assert there >= cutting.full_depth_reached(sent, scale, 0.0) - 1e-6 or sent == 0


def test_least_full_depth_is_thread_and_lead() -> None:
    assert cutting.least_full_depth(16.0, 1.5, 1.25) == 17.875
    drilled = cutting.drilled_depth(16.0, 1.5, 1.25, chip_room=1.6)
    assert drilled - cutting.least_full_depth(16.0, 1.5, 1.25) == pytest.approx(1.6)


@given(lengths, quills)
def test_face_reading_of_a_bare_touch_is_the_touch(touch: float, quill: str) -> None:
    assert cutting.face_reading(touch, 0, quill) == touch


@pytest.mark.parametrize("quill", ["", "1", "-1", "downwards", " up"])
def test_face_reading_stop_reading_and_table_face_reading_are_missing_without_down_or_up(
    quill: str,
) -> None:
    assert cutting.face_reading(2.315, 0.004, quill) is None
    assert cutting.stop_reading(2.319, 0.100, 0.005, quill) is None
    assert cutting.table_face_reading(14.480, 12.165, quill) is None


def test_face_reading_takes_down_and_up_in_capitals_as_a_spreadsheet_does() -> None:
    assert cutting.face_reading(2.315, 0.004, "Down") == cutting.face_reading(2.315, 0.004, "down")
    assert cutting.face_reading(2.315, 0.004, "UP") == cutting.face_reading(2.315, 0.004, "up")


def test_engagement_of_the_worked_stud() -> None:
    # arithmetic, derived: 0.875 less 0.100 is 0.775, on a half-inch stud 1.55 diameters
    left = cutting.engagement(thread_depth=0.875, counterbore_depth=0.100)
    assert left == pytest.approx(0.775)
    assert left / 0.5 == pytest.approx(1.55)


def test_floor_left_is_below_zero_once_the_drill_has_broken_through() -> None:
    # geometry, derived: a second tap wants 1.245 of full depth where the floor is at 1.250; the
    # point goes through
    tip = cutting.tip_depth(1.245, cutting.drill_point(0.4219, math.radians(118)))
    assert cutting.floor_left(1.250, tip) < 0


def test_drilled_depth_leaves_room_for_the_taps_lead_and_the_chips() -> None:
    # [geometry], derived: 0.875 in of thread, 1.5 pitches of 1/2-13 lead, 1/16 in of chips
    assert cutting.drilled_depth(0.875, 1.5, 1 / 13, 0.0625) == pytest.approx(1.0529, abs=0.00005)
    assert cutting.drilled_depth(0.875, 0.0, 1 / 13, 0.0) == 0.875


@given(lengths, lengths, quills)
def test_table_face_reading_agrees_with_a_touch_on_a_face_of_that_height(
    table: float, height: float, quill: str
) -> None:
    # geometry: the quill goes down from face to table by the height
    face = cutting.table_face_reading(table, height, quill)
    assert cutting.stop_reading(face, height, 1e-6, quill) == pytest.approx(table, abs=1e-5)


def test_face_disagreement_is_the_feeler_that_was_not_used() -> None:
    # arithmetic, derived: touched at 2.315 on the bare face but 0.004 of feeler added; table at
    # 14.480, face 12.165 up
    touched = cutting.face_reading(2.315, 0.004, "down")
    assert cutting.face_disagreement(
        touched, cutting.table_face_reading(14.480, 12.165, "down")
    ) == pytest.approx(0.004)


@pytest.mark.parametrize(
    ("table", "said"),
    [  # arithmetic: touched at 2.315 through 0.004, face at 2.319; the face 12.165 over the table
        (14.480, "apart by the feeler: counted but not used, or the height is wrong"),
        (14.484, "agree"),
        (14.486, "agree"),  # 0.002 apart, as far as honest touches may be
        (14.487, "apart: touch and measure anew"),
        (14.470, "apart: touch and measure anew"),
    ],
)
def test_touches_in_words_names_the_feeler_where_the_table_agrees_with_the_bare_touch(
    table: float, said: str
) -> None:
    face = cutting.face_reading(2.315, 0.004, "down")
    by_table = cutting.table_face_reading(table, 12.165, "down")
    assert cutting.touches_in_words(face, 2.315, by_table, touch_apart=0.002) == said


def test_depth_at_lowest_corner_loses_the_tilt() -> None:
    # geometry: 0.100 in from the highest corner of a face that falls 0.006 in
    assert cutting.depth_at_lowest_corner(0.100, 0.006) == pytest.approx(0.094)
    assert cutting.depth_at_lowest_corner(0.100, 0.0) == 0.100
