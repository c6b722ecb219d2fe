"""Thread equations against printed tables; the single published cases stand in
tests/support/published/threads.toml, whole rows in tests/standards/test_unified_limits.py.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from datumbook.equations import threads

INCH = 25.4


def test_the_two_percentages_differ_by_six_fifths_exactly() -> None:
    # conflict 6: 75 % by the charts is 90 % by the basic profile
    chart = threads.drill_chart_thread(major=12.7, hole=10.7156, pitch=INCH / 13)
    profile = threads.basic_profile_thread(major=12.7, hole=10.7156, pitch=INCH / 13)
    assert profile / chart == pytest.approx(6 / 5, rel=1e-15)


def test_a_hole_at_the_basic_minor_diameter_leaves_the_whole_basic_profile() -> None:
    hole = threads.basic_minor_diameter(major=8.0, pitch=1.25)
    assert threads.basic_profile_thread(major=8.0, hole=hole, pitch=1.25) == pytest.approx(
        1, rel=1e-14
    )


@pytest.mark.parametrize(
    ("share", "printed"),
    [
        (threads.basic_minor_diameter, 1.082532),  # Machinery's Handbook; ISO 68-1
        (threads.basic_pitch_diameter, 0.649519),  # Shigley 9th ed. table 8-2, footnote
    ],
)
def test_constants_of_the_profile_are_the_printed_ones(
    share: Callable[..., float], printed: float
) -> None:
    assert 10 - share(major=10.0, pitch=1.0) == pytest.approx(printed, abs=5e-7)


def test_a_full_thread_of_the_charts_is_1_299038_pitches() -> None:
    # Shigley 9th ed. table 8-2, footnote: root diameter d - 1.299038 p
    assert threads.drill_chart_thread(major=10.0, hole=10 - 1.299038, pitch=1.0) == pytest.approx(
        1, abs=5e-7
    )


def test_minor_tolerance_2b_of_small_sizes_lies_between_its_two_bounds() -> None:
    # ASME B1.1 clause 5.8, in inches: 4-40 by its own formula, 12-28 held to that of 1/4 in and
    # over, a coarse thread of a small size to 0.394 P
    def tolerance(size: float, number: int) -> float:
        return threads.minor_tolerance_2b(size * INCH, INCH / number) / INCH

    assert tolerance(0.112, 40) == pytest.approx(0.05 / 40 ** (2 / 3) + 0.03 / 40 / 0.112 - 0.002)
    assert tolerance(0.216, 28) == pytest.approx(0.25 / 28 - 0.4 / 28**2)
    assert tolerance(0.060, 40) == pytest.approx(0.394 / 40)
    assert tolerance(0.250, 28) == tolerance(0.500, 28)


def test_a_tie_is_rounded_to_the_even_digit_as_the_standard_rounds() -> None:
    # 1-8: the tolerance is 0.00675 in exactly, taken as 0.0068; 1 1/8-7 0.007250, printed 0.0072;
    # 5/8-11 an allowance of 0.3 x 0.00550 = 0.00165, printed 0.0016
    assert threads.pitch_tolerance_2a(INCH, INCH, INCH / 8) == pytest.approx(0.00675 * INCH)
    for tolerance, rounded in ((0.006750, 0.0068), (0.007250, 0.0072)):
        sizes = 20.0, 2.0, tolerance * INCH
        spread = threads.largest_pitch_diameter_2a(*sizes) - threads.smallest_pitch_diameter_2a(
            *sizes
        )
        assert spread / INCH == pytest.approx(rounded, abs=1e-9)
    assert threads.allowance_2a(0.005500 * INCH) / INCH == pytest.approx(0.0016, abs=1e-9)


def test_inch_and_metric_stress_areas_are_not_one_formula() -> None:
    # 5/16-24: tables print 0.0580 in² (Shigley 9th ed. table 8-2); FED-STD-H28/2B gives 0.0581, the
    # metric form 0.0588
    unified = threads.unified_stress_area(5 / 16 * INCH, INCH / 24) / INCH**2
    metric = threads.metric_stress_area(5 / 16 * INCH, INCH / 24) / INCH**2
    assert unified == pytest.approx(0.0581, abs=5e-5)
    assert metric - unified > 0.0005
