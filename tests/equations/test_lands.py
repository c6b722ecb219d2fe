"""The row of bores: sums that must close, and rows that must come out as they were laid out."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import lands

sizes = st.floats(min_value=1, max_value=200)
cuts = st.floats(min_value=0, max_value=2)
Row = tuple[float, list[float], list[float]]  # end wall, bores, lands between them
rows = st.integers(min_value=2, max_value=8).flatmap(
    lambda count: st.tuples(
        sizes,
        st.lists(sizes, min_size=count, max_size=count),
        st.lists(sizes, min_size=count - 1, max_size=count - 1),
    )
)


def centres_of(end_wall: float, bores: list[float], widths: list[float]) -> list[float]:
    """Walk along a row as the sheet does: the first centre, then one after the other."""
    centres = [lands.first_centre(end_wall, bores[0])]
    for front_bore, bore, land in zip(bores, bores[1:], widths, strict=False):
        centres.append(lands.next_centre(centres[-1], front_bore, land, bore))
    return centres


def test_the_worked_row_from_first_centre_to_closure() -> None:
    # geometry, derived: .412 + 4 x 3.100 + (.350 + .348 + .352) + .405 = 14.267
    bores, widths = [3.100] * 4, [0.350, 0.348, 0.352]
    centres = centres_of(0.412, bores, widths)
    assert centres == pytest.approx([1.962, 5.412, 8.860, 12.312])
    pitches = [lands.bore_pitch(rear, front) for front, rear in pairwise(centres)]
    assert pitches == pytest.approx([3.450, 3.448, 3.452])
    assert lands.row_length(0.412, *bores, *widths, 0.405) == pytest.approx(14.267)


def test_first_centre_is_half_a_bore_behind_the_end_wall() -> None:
    assert lands.first_centre(end_wall=15.0, bore=82.0) == 56.0


@given(rows)
def test_next_centre_leaves_room_for_half_of_each_bore_and_the_land(row: Row) -> None:
    end_wall, bores, widths = row
    centres = centres_of(end_wall, bores, widths)
    assert centres[-1] + bores[-1] / 2 == pytest.approx(lands.row_length(end_wall, *bores, *widths))


@given(rows)
def test_bore_pitch_summed_over_the_row_is_last_centre_less_first(row: Row) -> None:
    centres = centres_of(*row)
    pitches = [lands.bore_pitch(rear, front) for front, rear in pairwise(centres)]
    assert math.fsum(pitches) == pytest.approx(centres[-1] - centres[0])


def test_offset_is_nothing_anywhere_in_a_row_that_measures_as_the_demonstration_spec_has_it() -> (
    None
):
    standard_centres = [56.00, 148.00, 246.00, 338.00]
    bores, widths = [82.00] * 4, [10.00, 16.00, 10.00]
    centres = centres_of(15.00, bores, widths)
    assert [lands.offset(*pair) for pair in zip(centres, standard_centres, strict=True)] == [
        0,
        0,
        0,
        0,
    ]
    assert lands.row_closure(lands.row_length(15.00, *bores, *widths, 15.00), 394.00) == 0


def test_offset_is_above_zero_towards_the_rear() -> None:
    assert lands.offset(centre=148.05, standard_centre=148.00) == pytest.approx(0.05)


@given(st.lists(sizes, min_size=3, max_size=17), sizes)
def test_row_closure_is_exactly_the_error_of_one_width(widths: list[float], error: float) -> None:
    deck_length = math.fsum(widths)
    assert lands.row_closure(lands.row_length(*widths), deck_length) == pytest.approx(0, abs=1e-9)
    wrong = [widths[0] + error, *widths[1:]]
    assert lands.row_closure(lands.row_length(*wrong), deck_length) == pytest.approx(
        error, abs=1e-9
    )


@given(st.lists(sizes, min_size=1, max_size=17))
def test_row_length_does_not_depend_on_which_end_one_starts_from(widths: list[float]) -> None:
    assert lands.row_length(*widths) == lands.row_length(*reversed(widths))


def test_four_equal_bores_on_one_bore_pitch_leave_three_equal_lands() -> None:
    bore, pitch = 73.5, 80.0
    land = pitch - bore
    centres = centres_of(20.0, [bore] * 4, [land] * 3)
    assert [lands.bore_pitch(rear, front) for front, rear in pairwise(centres)] == [pitch] * 3
    left = [lands.land_after_boring(land, bore, 74.5, bore, 74.5) for _ in range(3)]
    assert left == [5.5] * 3


def test_land_after_boring_of_the_worked_example() -> None:
    # geometry, derived: pitch 3.450, bores 3.100 to 3.130: land 0.350 to 0.320; chamfers of 0.030
    # leave 0.260
    land = lands.land_after_boring(0.350, 3.100, 3.130, 3.100, 3.130)
    assert land == pytest.approx(0.320)
    assert lands.clamping_land(land, 0.030) == pytest.approx(0.260)


@given(sizes, sizes, sizes, cuts, cuts)
def test_land_after_boring_moves_neither_centre(
    land: float, front: float, rear: float, one: float, two: float
) -> None:
    centre = lands.next_centre(100.0, front, land, rear)
    left = lands.land_after_boring(land, front, front + one, rear, rear + two)
    assert lands.next_centre(100.0, front + one, left, rear + two) == pytest.approx(centre)


@given(sizes, sizes, sizes)
def test_land_after_boring_nothing_is_the_land(land: float, front: float, rear: float) -> None:
    assert lands.land_after_boring(land, front, front, rear, rear) == land


@pytest.mark.parametrize(
    ("height", "angle", "width"), [(0.050, 30, 0.029), (0.050, 45, 0.050), (0.5, 0, 0)]
)
def test_chamfer_width_by_height_and_angle_from_the_bore_axis(
    height: float, angle: float, width: float
) -> None:
    # geometry, derived: 0.050 at 30 degrees is 0.029, at 45 degrees as wide as high; along the axis
    # it has no width
    assert lands.chamfer_width(height, math.radians(angle)) == pytest.approx(width, abs=0.0005)


def test_clamping_land_loses_a_whole_millimetre_to_two_half_millimetre_mouths_at_45_degrees() -> (
    None
):
    width = lands.chamfer_width(0.5, math.radians(45))
    assert 8.5 - lands.clamping_land(8.5, width) == pytest.approx(1.0)


@given(st.floats(4, 30), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_land_set_over_grows_by_what_the_bores_move_apart(
    land: float, front: float, rear: float
) -> None:
    apart = (100.0 + rear) - (0.0 + front) - 100.0  # two centres 100 apart
    assert lands.land_set_over(land, front, rear) == pytest.approx(land + apart, abs=1e-9)


@given(sizes, st.floats(min_value=0, max_value=3), st.floats(min_value=0.1, max_value=3))
def test_gasket_margin_is_nothing_where_the_hole_just_meets_the_chamfer(
    bore: float, margin: float, height: float
) -> None:
    angle = math.radians(45)
    hole = bore + 2 * (lands.chamfer_width(height, angle) + margin)
    assert lands.gasket_margin(hole, bore, height, angle) == pytest.approx(margin, abs=1e-9)
