"""The families beside unified and metric: printed rows, forms, listed drills, and what is not
known.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from datumbook.standards.drills import drills_for, listed_drills
from datumbook.standards.thread_families import FAMILIES
from datumbook.standards.thread_rows import Thread, all_threads
from datumbook.standards.threads import parse_thread

INCH = 25.4

# ISO 228-1 as a public package carries it (mm): major, effective, minor, their tolerances, the
# drill listed
ISO_228 = [
    ("G1/8", 28, 9.728, 9.147, 8.566, 0.107, 0.282, "8.8 mm"),
    ("G1/4", 19, 13.157, 12.301, 11.445, 0.125, 0.445, "11.8 mm"),
    ("G3/8", 19, 16.662, 15.806, 14.950, 0.125, 0.445, "15.25 mm"),
    ("G1/2", 14, 20.955, 19.793, 18.631, 0.142, 0.541, "19.0 mm"),
    ("G5/8", 14, 22.911, 21.749, 20.587, 0.142, 0.541, ""),
    ("G3/4", 14, 26.441, 25.279, 24.117, 0.142, 0.541, "24.5 mm"),
    ("G1", 11, 33.249, 31.770, 30.291, 0.180, 0.640, "30.75 mm"),  # drill from memory
]
# ASME B1.20.1 in makers' tables: outside diameter (in), threads, effective at the small end, depth;
# the drills of B94.9
NPT = [
    ("1/8 NPT", 0.405, 27, 0.36351, 0.02963, "Q"),
    ("1/4 NPT", 0.540, 18, 0.47739, 0.04444, "7/16"),
    ("3/8 NPT", 0.675, 18, 0.61201, 0.04444, "9/16"),
    ("1/2 NPT", 0.840, 14, 0.75843, 0.05714, "45/64"),
    ("3/4 NPT", 1.050, 14, 0.96768, 0.05714, "29/32"),
    ("1 NPT", 1.315, 11.5, 1.21363, 0.06957, "1 5/32"),
]
# BS 84 as a threading table and a public program carry it (in): major, effective, minor; drill of
# BS 1157
WHITWORTH = [
    ("1/4 BSW", 20, 0.2180, 0.1860, "5.1 mm"),
    ("5/16 BSW", 18, 0.2769, 0.2414, "6.5 mm"),
    ("3/8 BSW", 16, 0.3350, 0.2950, "7.9 mm"),
    ("7/16 BSW", 14, 0.3918, 0.3460, "9.3 mm"),
    ("1/2 BSW", 12, 0.4466, 0.3933, "10.5 mm"),
    ("9/16 BSW", 12, 0.5091, 0.4558, "12.1 mm"),
    ("5/8 BSW", 11, 0.5668, 0.5086, "13.5 mm"),
    ("3/4 BSW", 10, 0.6860, 0.6219, "41/64"),
    ("7/8 BSW", 9, 0.8039, 0.7327, "19.25 mm"),
    ("1 BSW", 8, 0.9200, 0.8399, "22.0 mm"),
    ("1 1/8 BSW", 7, 1.0335, 0.9420, "24.75 mm"),
    ("1/4 BSF", 26, 0.2254, 0.2008, "5.3 mm"),
    ("5/16 BSF", 22, 0.2834, 0.2543, "6.8 mm"),
    ("3/8 BSF", 20, 0.3430, 0.3110, "8.3 mm"),
    ("7/16 BSF", 18, 0.4019, 0.3664, "9.7 mm"),
    ("1/2 BSF", 16, 0.4600, 0.4200, "11.1 mm"),
    ("9/16 BSF", 16, 0.5225, 0.4825, ""),
    ("5/8 BSF", 14, 0.5793, 0.5335, "14.0 mm"),
    ("11/16 BSF", 14, 0.6418, 0.5960, "15.5 mm"),
    ("3/4 BSF", 12, 0.6966, 0.6433, "16.75 mm"),
    ("7/8 BSF", 11, 0.8168, 0.7586, "19.75 mm"),  # drill from memory
    ("1 BSF", 10, 0.9360, 0.8719, "22.75 mm"),
    ("1 1/8 BSF", 9, 1.0539, 0.9827, "25.5 mm"),  # drill from memory
]


@pytest.mark.parametrize(
    ("name", "number", "major", "effective", "minor", "pitch_tol", "minor_tol", "drill"), ISO_228
)
def test_parallel_pipe_rows_are_those_of_iso_228(
    name: str,
    number: int,
    major: float,
    effective: float,
    minor: float,
    pitch_tol: float,
    minor_tol: float,
    drill: str,
) -> None:
    thread = parse_thread(name)
    assert (thread.threads_per_inch, thread.form_angle, thread.unit) == (number, 55, "mm")
    assert (thread.major_mm, thread.effective_mm, thread.minor_mm) == (major, effective, minor)
    assert thread.effective_tolerance == Fraction(str(pitch_tol))
    assert thread.largest_minor_mm == pytest.approx(minor + minor_tol)
    listed = listed_drills(thread)
    assert [each.name for each in listed] == ([drill] if drill else [])
    assert all(minor <= each.diameter_mm <= minor + minor_tol for each in listed)


def test_the_taper_pipe_thread_of_iso_7_has_the_diameters_of_the_parallel_one() -> None:
    # a pocket book's table of tapered pipe threads prints the same for 1/8, 1/4 and 3/8; the others
    # from memory
    parallels = {one.size: one for one in all_threads(["G"])}
    for taper in all_threads(["R"]):
        parallel = parallels[taper.size]
        assert (taper.major, taper.pitch, taper.tabled_minor) == (
            parallel.major,
            parallel.pitch,
            parallel.tabled_minor,
        )
        assert taper.taper == Fraction(1, 16)
        assert parallel.taper is None


@pytest.mark.parametrize(("name", "major", "number", "effective", "depth", "drill"), NPT)
def test_taper_pipe_rows_are_those_of_b1_20_1(
    name: str, major: float, number: float, effective: float, depth: float, drill: str
) -> None:
    thread = parse_thread(name)
    assert (thread.threads_per_inch, thread.form_angle, thread.taper) == (
        number,
        60,
        Fraction(1, 16),
    )
    found = thread.major_mm / INCH, thread.effective_mm / INCH, thread.minor_mm / INCH
    assert found == pytest.approx((major, effective, effective - depth), abs=1.1e-5)
    # the effective diameter at the end follows from the outside diameter: D - (0.05 D + 1.1) p
    # (formula from memory)
    assert thread.effective_mm / INCH == pytest.approx(
        major - (0.05 * major + 1.1) / number, abs=1e-5
    )
    assert drills_for(thread)[0].drill.name == drill


@pytest.mark.parametrize(("name", "number", "effective", "minor", "drill"), WHITWORTH)
def test_whitworth_rows_are_those_of_bs_84(
    name: str, number: int, effective: float, minor: float, drill: str
) -> None:
    thread = parse_thread(name)
    assert (thread.threads_per_inch, thread.form_angle) == (number, 55)
    # 1/4 BSF: one table prints 0.2008 where the formula gives 0.2007
    assert (thread.effective_mm / INCH, thread.minor_mm / INCH) == pytest.approx(
        (effective, minor), abs=1.01e-4
    )
    assert next((one.name for one in listed_drills(thread)), "") == drill


def test_every_whitworth_row_is_held_against_a_printed_one() -> None:
    held = {parse_thread(name).designation for name, *_ in WHITWORTH}
    assert {one.designation for one in all_threads(["BSW", "BSF"])} == held


@pytest.mark.parametrize(
    # major in inches as a threading table prints it; threads to the inch likewise
    ("name", "inches", "number"),
    [
        ("0 BA", 0.2362, 25.4),
        ("1 BA", 0.2087, 28.2),
        ("2 BA", 0.1850, 31.4),
        ("4 BA", 0.1417, 38.5),
        ("6 BA", 0.1102, 47.9),
    ],
)
def test_association_rows_are_those_printed(name: str, inches: float, number: float) -> None:
    thread = parse_thread(name)
    assert thread.major_mm / INCH == pytest.approx(inches, abs=5.1e-5)
    assert INCH / thread.pitch_mm == pytest.approx(number, abs=0.051)
    assert (thread.form_angle, thread.limit_class, thread.threads_per_inch) == (47.5, "BS 93", None)


def test_every_cycle_thread_has_26_to_the_inch_and_60_degrees() -> None:
    rows = all_threads(["BSC"])
    assert {(row.threads_per_inch, row.form_angle) for row in rows} == {(26, 60)}
    assert len(rows) == 9


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_has_rows_in_order_each_with_a_source_that_says_what_is_from_memory(
    family: str,
) -> None:
    rows = all_threads([family])
    assert rows
    assert [row.size for row in rows] == sorted(row.size for row in rows)
    assert all(row.source for row in rows)
    assert all(row.drill_source for row in rows if row.drills)


@pytest.mark.parametrize("thread", all_threads(), ids=lambda row: row.designation)
def test_diameters_lie_in_order_and_the_stress_area_between_their_circles(thread: Thread) -> None:
    assert 0 < thread.minor_mm < thread.effective_mm < thread.major_mm
    if thread.taper is None:
        assert thread.stress_area_mm2 is not None
        equal = math.sqrt(4 * thread.stress_area_mm2 / math.pi)
        assert thread.minor_mm < equal < thread.effective_mm
    else:
        assert thread.stress_area_mm2 is None


@pytest.mark.parametrize("family", ["BSW", "BSF", "BSC", "R", "NPT"])
def test_limits_that_no_outside_number_gives_are_left_out(family: str) -> None:
    for thread in all_threads([family]):
        assert (thread.limit_class, thread.smallest_minor_mm, thread.largest_minor_mm) == (
            None,
            None,
            None,
        )
        assert {each.place for each in drills_for(thread)} <= {"no limit"}


def test_no_pitch_below_a_hundredth_is_lost_between_inch_and_millimetre() -> None:
    assert parse_thread("G1/4").pitch == Fraction(254, 190)
    assert parse_thread("G1/4").pitch_mm == pytest.approx(1.337, abs=5e-4)  # printed in ISO 228-1
    assert parse_thread("1/4 NPT").pitch_mm == pytest.approx(
        1.411, abs=5e-4
    )  # printed in B1.20.1 tables


@pytest.mark.parametrize(
    # height H of the sharp triangle: 0.866025 p, 0.960491 p; BA by geometry
    ("name", "height"),
    [("M8", 0.866025), ("1/4 BSW", 0.960491), ("2 BA", 1.136336), ("1/8 NPT", 0.866025)],
)
def test_the_height_of_the_sharp_triangle(name: str, height: float) -> None:
    assert parse_thread(name).form.height_of_pitch == pytest.approx(height, abs=1e-6)
