"""The plane, step by step as on a sheet: in Python against printed numbers, and as
formulas in every engine.

Sources: NIST StRD, data set Norris, as certified; the plane through nine points of ISO 12781-1
worked by hand, and planes that are known because the points were laid on them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import flatness as flat
from datumbook.formulas.spelling import Address, spell
from datumbook.formulas.tracing import parameters, trace
from datumbook.formulas.tree import Cell
from datumbook.numbers.units import from_coherent, to_coherent
from engines import Results
from witnesses import witness

Group = list[Any]

NORRIS_PLACES = (
    "0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 "
    "447.5 11.6 556.0 228.1 "
    "995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5"
)
NORRIS_READINGS = (
    "0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 "
    "448.9 10.8 557.7 228.3 "
    "998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2"
)
NORRIS = [[float(one) for one in column.split()] for column in (NORRIS_PLACES, NORRIS_READINGS)]
# every point of it twice, in two rows across: the plane through them is the line, level across
TWO_ROWS = (NORRIS[0] * 2, [0.0] * 36 + [100.0] * 36, NORRIS[1] * 2)

# NIST StRD, Norris, certified values: level, slope, residual standard deviation
CERTIFIED = (-0.262323073774029, 1.00211681802045, 0.884796396144373)

# Three rows of three points, mm lengthwise and crosswise, µm up; its plane worked by hand
NINE = [
    [0.0, 150.0, 300.0] * 3,
    [0.0] * 3 + [100.0] * 3 + [200.0] * 3,
    [0.0, 4.0, 2.0, 3.0, 9.0, 6.0, 5.0, 8.0, 4.0],
]
NINE_PLANE = (2.055556, 0.00444444, 0.0183333)  # µm, µm/mm, µm/mm
NINE_LEFT = [-2.0556, 1.2778, -1.3889, -0.8889, 4.4444, 0.7778, -0.7222, 1.6111, -3.0556]


class Steps:
    """One equation after the other, as a sheet lays them; the plain functions in the coherent
    set.
    """

    def entered(self, values: Sequence[float], unit: str) -> Group:
        return [to_coherent(value, unit) for value in values]

    def step(self, equation: Callable[..., Any], *given: Any, unit: str = "mm") -> Any:  # noqa: ARG002  # a sheet needs it
        return equation(*given)


class Sheet(Steps):
    """The same steps as the cells of one workbook: a column down, each formula made of the cells
    before it.
    """

    def __init__(self) -> None:
        self.contents: list[float | str] = []
        self.units: dict[str, str] = {}

    def entered(self, values: Sequence[float], unit: str) -> Group:
        return [self._cell(value, unit) for value in values]

    def step(self, equation: Callable[..., Any], *given: Any, unit: str = "mm") -> Any:
        before, group, _ = parameters(equation)
        arguments: dict[str, Any] = (
            {group: list(given)} if group else dict(zip(before, given, strict=True))
        )
        return self._cell(
            f"={spell(trace(equation, arguments, unit), self._address, 'Steps')}", unit
        )

    @staticmethod
    def _address(key: str) -> Address:
        return Address("Steps", int(key), 1)

    def _cell(self, content: float | str, unit: str) -> Cell:
        self.contents.append(content)
        return Cell(str(len(self.contents)), unit)

    def write(self, path: Path) -> Path:
        with xlsxwriter.Workbook(path) as book:
            sheet = book.add_worksheet("Steps")
            for row, content in enumerate(self.contents):
                if isinstance(content, str):
                    sheet.write_formula(row, 0, content, None, "")
                else:
                    sheet.write_number(row, 0, content)
        return path


def plane(
    steps: Steps, lengthwise: Group, crosswise: Group, readings: Group
) -> tuple[Any, Any, Any, Group, Any]:
    """Level, both slopes, what is left at each point, and flatness, as a sheet works them out."""
    means = [
        steps.step(flat.mean_reading, *group, unit=unit)
        for group, unit in ((lengthwise, "mm"), (crosswise, "mm"), (readings, "um"))
    ]
    along, across, up = (
        [steps.step(flat.deviation, one, mean, unit=unit) for one in group]
        for group, mean, unit in zip(
            (lengthwise, crosswise, readings), means, ("mm", "mm", "um"), strict=True
        )
    )

    def products(ones: Group, others: Group) -> Any:
        each = [
            steps.step(flat.deviation_product, *pair, unit="mm**2")
            for pair in zip(ones, others, strict=True)
        ]
        return steps.step(flat.sum_of_products, *each, unit="mm**2")

    squares = [steps.step(flat.sum_of_squares, *group, unit="mm**2") for group in (along, across)]
    cross, with_along, with_across = (
        products(along, across),
        products(along, up),
        products(across, up),
    )
    slope = steps.step(
        flat.plane_slope, squares[0], squares[1], cross, with_along, with_across, unit=""
    )
    other = steps.step(
        flat.plane_slope, squares[1], squares[0], cross, with_across, with_along, unit=""
    )
    level = steps.step(flat.plane_level, means[2], slope, means[0], other, means[1], unit="um")
    points = zip(lengthwise, crosswise, readings, strict=True)
    left = [
        steps.step(flat.above_plane, up, level, slope, x, other, y, unit="um")
        for x, y, up in points
    ]
    return level, slope, other, left, steps.step(flat.flatness, *left, unit="um")


def plane_of(
    lengthwise: Sequence[float], crosswise: Sequence[float], readings: Sequence[float]
) -> tuple[Any, ...]:
    return plane(Steps(), list(lengthwise), list(crosswise), list(readings))


@witness(
    flat.plane_level,
    flat.plane_slope,
    flat.above_plane,
    flat.mean_reading,
    flat.deviation,
    flat.deviation_product,
    flat.sum_of_products,
    flat.sum_of_squares,
    by="printed",
)
def test_a_plane_through_one_line_in_two_rows_is_the_certified_line() -> None:
    level, slope, across, left, _ = plane_of(*TWO_ROWS)
    scatter = math.sqrt(sum(one**2 for one in left[:36]) / 34)  # two of 36 went into the line
    assert (level, slope, scatter) == pytest.approx(CERTIFIED, rel=1e-12)
    assert across == pytest.approx(0.0, abs=1e-15)


def test_plane_level_plane_slope_above_plane_and_flatness_of_nine_points_worked_by_hand() -> None:
    steps = Steps()
    level, slope, other, left, flatness = plane(
        steps, NINE[0], NINE[1], steps.entered(NINE[2], "um")
    )
    found = (from_coherent(level, "um"), slope * 1000, other * 1000)
    assert found == pytest.approx(NINE_PLANE, rel=3e-6)  # half of the last digit printed
    assert [from_coherent(one, "um") for one in left] == pytest.approx(NINE_LEFT, abs=5e-5)
    assert from_coherent(flatness, "um") == pytest.approx(7.5, abs=1e-12)


def test_the_plane_as_formulas_are_the_same_in_an_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    sheet = Sheet()
    level, slope, *_ = plane(sheet, *(sheet.entered(column, "mm") for column in TWO_ROWS))
    places = [sheet.entered(column, "mm") for column in NINE[:2]]
    nine = plane(sheet, *places, sheet.entered(NINE[2], "um"))
    found = engine(sheet.write(tmp_path / "steps.xlsx"))

    def shown(cell: Cell) -> Any:
        return found["Steps", f"A{cell.key}"]

    assert (shown(level) / 1000, shown(slope)) == pytest.approx(CERTIFIED[:2], rel=1e-9)
    assert shown(nine[0]) == pytest.approx(NINE_PLANE[0], rel=3e-6)
    assert [shown(cell) * 1000 for cell in nine[1:3]] == pytest.approx(NINE_PLANE[1:], rel=3e-6)
    assert [shown(cell) for cell in nine[3]] == pytest.approx(NINE_LEFT, abs=5e-5)
    assert shown(nine[4]) == pytest.approx(7.5, abs=1e-11)


small = st.floats(min_value=-0.2, max_value=0.2)
slopes = st.floats(min_value=-1e-3, max_value=1e-3)
grids = st.tuples(
    st.integers(2, 6), st.integers(2, 4), st.floats(min_value=20, max_value=200), st.floats(0, 500)
)


def places_of(grid: tuple[int, int, float, float]) -> tuple[list[float], list[float]]:
    columns, rows, step, start = grid
    points = [
        (start + step * column, start / 3 + step * row / 2)
        for row in range(rows)
        for column in range(columns)
    ]
    return [x for x, _ in points], [y for _, y in points]


@given(grids, small, slopes, slopes)
def test_flatness_of_points_on_a_plane_is_nothing_and_plane_slope_its_slopes(
    grid: tuple[int, int, float, float], level: float, lengthwise: float, crosswise: float
) -> None:
    xs, ys = places_of(grid)
    found = plane_of(
        xs, ys, [level + lengthwise * x + crosswise * y for x, y in zip(xs, ys, strict=True)]
    )
    assert found[:3] == pytest.approx((level, lengthwise, crosswise), abs=1e-9)
    assert found[4] == pytest.approx(0, abs=1e-9)


@witness(flat.plane_slope, flat.plane_level, flat.above_plane, flat.flatness, by="solver")
def test_the_plane_of_points_at_random_is_the_one_that_numpy_lays() -> None:
    chance = np.random.default_rng(6)
    for _ in range(5):
        xs, ys = chance.uniform(0, 400, 9), chance.uniform(0, 200, 9)
        up = 0.1 + 3e-4 * xs - 2e-4 * ys + chance.normal(0, 0.01, 9)
        places = np.column_stack([np.ones(9), xs, ys])
        plane = np.linalg.lstsq(places, up, rcond=None)[0]
        left = up - places @ plane
        found = plane_of(list(xs), list(ys), list(up))
        assert found[:3] == pytest.approx(tuple(plane), abs=1e-9)
        assert found[3] == pytest.approx(list(left), abs=1e-9)
        assert found[4] == pytest.approx(np.ptp(left), abs=1e-9)


@given(st.lists(st.tuples(small, small, small), min_size=3, max_size=12), slopes)
def test_above_plane_sums_to_nothing_along_either_direction_on_points_at_random(
    points: list[tuple[float, float, float]], crooked: float
) -> None:
    xs = [0.0, 300.0, 150.0] + [150 + 500 * x + crooked for x, _, _ in points]
    ys = [0.0, 0.0, 200.0] + [100 + 300 * y for _, y, _ in points]
    left = plane_of(xs, ys, [0.0, 0.1, -0.1] + [z for _, _, z in points])[3]
    assert math.fsum(left) == pytest.approx(0, abs=1e-9)
    assert math.fsum(x * one for x, one in zip(xs, left, strict=True)) == pytest.approx(0, abs=1e-6)
    assert math.fsum(y * one for y, one in zip(ys, left, strict=True)) == pytest.approx(0, abs=1e-6)


@given(st.lists(st.floats(min_value=-100, max_value=100), min_size=2, max_size=9))
def test_deviation_product_may_take_the_reading_for_its_deviation(readings: list[float]) -> None:
    places = [30.0 * number for number in range(len(readings))]
    along = [flat.deviation(place, flat.mean_reading(*places)) for place in places]
    up = [flat.deviation(reading, flat.mean_reading(*readings)) for reading in readings]
    sums = [
        flat.sum_of_products(*map(flat.deviation_product, along, second))
        for second in (up, readings)
    ]
    assert sums[0] == pytest.approx(sums[1], abs=1e-8)


def test_one_high_point_in_the_middle_shows_whole_in_worst_gap_and_flatness_but_for_the_mean() -> (
    None
):
    xs, ys = places_of((3, 3, 100.0, 0.0))
    *_, left, flatness = plane_of(xs, ys, [0.0] * 4 + [0.09] + [0.0] * 4)
    assert flatness == pytest.approx(0.09)
    assert flat.worst_gap(*left) == pytest.approx(0.08)


def test_points_in_one_row_have_no_plane() -> None:
    with pytest.raises(ZeroDivisionError):
        plane_of([0.0, 100.0, 200.0], [0.0, 0.0, 0.0], [0.0, 0.1, 0.0])


@given(st.floats(min_value=0, max_value=0.1), st.floats(min_value=20, max_value=300))
def test_out_of_square_carried_over_its_own_diameter_is_the_reading(
    total_reading: float, diameter: float
) -> None:
    lean = flat.out_of_square(total_reading, diameter)
    assert flat.out_of_square_over(lean, diameter) == pytest.approx(total_reading)


def test_out_of_square_takes_the_tangent_for_the_angle_to_a_part_in_a_million() -> None:
    tangent = math.tan(math.radians(0.1))
    assert flat.out_of_square(tangent * 80, 80) == pytest.approx(math.radians(0.1), rel=1.1e-6)


def test_parallelism_is_nothing_where_all_heights_are_one() -> None:
    assert flat.parallelism(361.95, 361.95, 361.95) == 0


@given(
    st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=4, max_size=9, unique=True)
)
def test_flatness_uncertainty_is_more_than_that_of_any_two_points_about_the_plane(
    points: list[tuple[int, int]],
) -> None:
    """Source: least squares by numpy: what is left is the readings times I - A A+, taken apart for
    every pair.
    """
    places = np.column_stack([np.ones(len(points)), np.array(points, dtype=float)])
    left = np.eye(len(points)) - places @ np.linalg.pinv(places)
    furthest = max(float(np.linalg.norm(one - two)) for one in left for two in left)
    assert furthest <= flat.flatness_uncertainty(1.0) + 1e-9
    assert flat.flatness_uncertainty(math.nan) == 0
