"""Limits of metric bolts and of the pitch diameter of their holes, against printed values and the
formulas of the standard.
"""

from __future__ import annotations

from fractions import Fraction
from math import log, sqrt

import pytest
from screw_thread_lib.data.ASME import ASME_M_6g6H_dict as PACKAGE  # ASME B1.13M-2005, in inches

from datumbook.standards.metric_limits import metric_limits
from datumbook.standards.threads import METRIC, Thread, all_threads, parse_thread

INCH = 25.4
RANGES = [2.8, 5.6, 11.2, 22.4, 45]  # of major diameters, ISO 965-1
STEP = log(10) / 40  # of the R40 series
# A slip of the package: it leaves 0.155 mm, which is no number of the series; the table has 0.150.
SLIPS = {("M12-1.75", "d2min"): 10.679}


@pytest.mark.parametrize("name", PACKAGE)
def test_every_limit_of_another_package_is_reproduced(name: str) -> None:
    row, limits = PACKAGE[name], metric_limits(parse_thread(name))
    for (low, high), sizes in (
        (("D2min", "D2max"), limits.effective_of_hole),
        (("d2min", "d2max"), limits.effective_of_bolt),
        (("dmin", "dmax"), limits.major_of_bolt),
    ):
        # there in 0.00001 in
        printed = [SLIPS.get((name, one), round(row[one] * INCH, 3)) for one in (low, high)]
        assert [float(size) for size in sizes] == printed


@pytest.mark.parametrize(
    # the major diameter of a bolt M10 6g as a handbook's chapter on threads takes it, and the
    # pitch diameter of its hole there; M12x1.25 and M12x1.5 from memory of a table of 6H
    ("name", "of", "end", "printed"),
    [
        ("M10", "major_of_bolt", 1, "9.968"),
        ("M10", "effective_of_hole", 1, "9.206"),
        ("M12x1.25", "effective_of_hole", 1, "11.368"),
        ("M12x1.5", "effective_of_hole", 1, "11.216"),
    ],
)
def test_printed_limits_are_reproduced(name: str, of: str, end: int, printed: str) -> None:
    assert getattr(metric_limits(parse_thread(name)), of)[end] == Fraction(printed)


@pytest.mark.parametrize("thread", all_threads(METRIC), ids=lambda row: row.designation)
def test_every_tolerance_is_that_of_the_formulas_to_a_step_of_the_r40_series(
    thread: Thread,
) -> None:
    # ISO 965-1, in micrometres: 15 + 11 P, 180 P^(2/3) - 3.15 / P^(1/2), 90 P^0.4 d^0.1 with d
    # the geometric mean of the range, and 1.32 times that for the hole
    limits, pitch = metric_limits(thread), float(thread.pitch)
    over = max(one for one in RANGES if one < thread.major)
    bolt = 90 * pitch**0.4 * sqrt(over * RANGES[RANGES.index(over) + 1]) ** 0.1
    for tabled, worked in (
        (thread.major - limits.major_of_bolt[1], 15 + 11 * pitch),
        (_width(limits.major_of_bolt), 180 * pitch ** (2 / 3) - 3.15 / sqrt(pitch)),
        (_width(limits.effective_of_bolt), bolt),
        (_width(limits.effective_of_hole), 1.32 * bolt),
    ):
        assert abs(log(float(tabled) * 1000 / worked)) < STEP


def _width(sizes: tuple[Fraction, Fraction]) -> Fraction:
    return sizes[1] - sizes[0]


@pytest.mark.parametrize("thread", all_threads(METRIC), ids=lambda row: row.designation)
def test_a_bolt_goes_into_its_hole(thread: Thread) -> None:
    limits = metric_limits(thread)
    assert limits.effective_of_bolt[1] < limits.effective_of_hole[0]
    assert limits.major_of_bolt[1] < thread.major
