"""Uncertainty: printed cases stand in tests/support/published/uncertainties.toml; here whole
examples and what must hold.

Sources: JCGM 100:2008, H.1, by its inputs; the standard library's own standard deviation; worked by
hand.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from case_book import CaseBook, Entry, Question
from datumbook.equations import uncertainties
from engines import Results
from witnesses import witness

readings = st.lists(st.integers(820_000, 821_000), min_size=2, max_size=12)
components = st.lists(st.floats(min_value=0, max_value=100), min_size=1, max_size=8)


@witness(uncertainties.repeatability_of_pairs, uncertainties.pair_range, by="library")
@given(st.lists(st.tuples(st.integers(0, 50), st.integers(0, 50)), min_size=1, max_size=12))
def test_repeatability_of_pairs_pools_the_variances_of_the_pairs(
    pairs: list[tuple[int, int]],
) -> None:
    # the standard library's variance of each pair, one degree of freedom each; a place read once
    # only changes nothing
    apart = [uncertainties.pair_range(*(step / 1000 for step in pair)) for pair in pairs]
    pooled = math.sqrt(statistics.mean(statistics.variance(pair) for pair in pairs)) / 1000
    assert uncertainties.repeatability_of_pairs(*apart) == pytest.approx(pooled, abs=1e-12)
    assert uncertainties.repeatability_of_pairs(
        *apart, float("nan")
    ) == uncertainties.repeatability_of_pairs(*apart)


def test_repeatability_of_pairs_is_blank_without_a_pair_and_near_the_quick_method() -> None:
    assert uncertainties.repeatability_of_pairs(float("nan")) is None
    quick = 0.00010 / 1.19  # the same five pairs by their mean range, worked by hand: 0.000084
    assert uncertainties.repeatability_of_pairs(
        0.0001, 0.0001, 0.0, 0.0002, 0.0001
    ) == pytest.approx(quick, rel=0.01)


@pytest.mark.parametrize(
    ("guard_factor", "low", "high"),
    [
        (uncertainties.SIMPLE_ACCEPTANCE, 80.0000, 80.0190),
        (uncertainties.WHOLE_GUARD_BAND, 80.0030, 80.0160),  # ISO 14253-1:1998
        (uncertainties.ONE_SIDED_GUARD_BAND, 80.0025, 80.0165),  # ISO 14253-1:2017, from memory
    ],
)
def test_guard_band_of_a_bore_80_h6_by_the_decision_rule_named(
    guard_factor: float, low: float, high: float
) -> None:
    # worked by hand: 80.000 to 80.019, U = 0.003 with a coverage factor of 2
    guard = uncertainties.guard_band(0.003, guard_factor)
    assert (80.000 + guard, 80.019 - guard) == pytest.approx((low, high), abs=5e-5)


COARSE = [  # resolution, its unit, tolerance, its unit
    (0.0001, "in", 0.0010, "in", uncertainties.FINE_ENOUGH),  # exactly a tenth
    (0.002, "mm", 0.020, "mm", uncertainties.FINE_ENOUGH),
    (0.01, "mm", 0.020, "mm", uncertainties.TOO_COARSE),
    (0.0005, "in", 0.0010, "in", uncertainties.TOO_COARSE),
    (0.00254, "mm", 0.0010, "in", uncertainties.FINE_ENOUGH),
    (0.0001, "in", 0.0254, "mm", uncertainties.FINE_ENOUGH),
    (0.0001, "in", 0.0253, "mm", uncertainties.TOO_COARSE),
]


@pytest.mark.parametrize(
    ("resolution", "tolerance"), [(0.0001 * step, 0.001 * step) for step in range(1, 60)]
)
def test_coarseness_of_exactly_a_tenth_is_fine_enough(resolution: float, tolerance: float) -> None:
    assert uncertainties.coarseness(resolution, tolerance) == uncertainties.FINE_ENOUGH
    assert uncertainties.coarseness(resolution, tolerance - 1e-6) == uncertainties.TOO_COARSE


def test_coarseness_says_the_same_in_an_engine_whatever_the_units(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    questions = [
        Question(
            uncertainties.coarseness,
            {"resolution": Entry(one, unit), "tolerance": Entry(two, other)},
            None,
        )
        for one, unit, two, other, _ in COARSE
    ]
    book = CaseBook(
        [
            *questions,
            Question(
                uncertainties.coarseness,
                {"resolution": Entry(None, "mm"), "tolerance": Entry(0.02, "mm")},
                None,
            ),
        ]
    )
    assert book.answers(engine(book.write(tmp_path / "coarse.xlsx"))) == [
        *(said for *_, said in COARSE),
        "",
    ]


NOT_STATED = float("nan")


def test_all_told_is_the_root_of_both_figures_and_blank_where_none_is_stated() -> None:
    # worked by hand: 3, 4 and 5
    assert uncertainties.all_told(0.004, 0.003) == pytest.approx(0.005, rel=1e-12)
    assert uncertainties.all_told(NOT_STATED, 0.003) == pytest.approx(0.003, rel=1e-12)
    assert uncertainties.all_told(0.004, NOT_STATED) == pytest.approx(0.004, rel=1e-12)
    assert uncertainties.all_told(NOT_STATED, NOT_STATED) is None


def test_in_common_is_the_setting_else_the_one_figure() -> None:
    assert uncertainties.in_common(0.004, 0.003) == 0.004
    assert uncertainties.in_common(0.0, 0.003) == 0.0
    assert uncertainties.in_common(NOT_STATED, 0.003) == 0.003
    assert uncertainties.in_common(NOT_STATED, NOT_STATED) is None


def test_guard_applied_widens_to_the_tolerance_where_the_gauge_cannot_tell() -> None:
    # common practice, no source: the rule of ten to one
    assert uncertainties.guard_applied(0.003, uncertainties.FINE_ENOUGH, 0.010) == 0.003
    assert uncertainties.guard_applied(0.003, uncertainties.TOO_COARSE, 0.010) == 0.010
    assert uncertainties.guard_applied(0.030, uncertainties.TOO_COARSE, 0.010) == 0.030


def test_tolerance_is_the_width_between_the_limits() -> None:
    assert uncertainties.tolerance(low=1.0, high=1.5) == 0.5


def test_coarseness_says_nothing_where_nothing_is_stated() -> None:
    assert (
        uncertainties.coarseness(float("nan"), 0.1)
        == uncertainties.coarseness(0.1, float("nan"))
        == ""
    )
