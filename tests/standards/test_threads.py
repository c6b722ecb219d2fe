"""Threads: what people write for them, and the tables' rows against printed ones."""

from __future__ import annotations

import csv
import subprocess
import sys
from fractions import Fraction
from io import StringIO

import pytest
from screw_thread_lib.data.ASME import ASME_M_6g6H_dict as METRIC  # ASME B1.13M-2005, in inches

from datumbook.standards.threads import Thread, all_threads, parse_thread

INCH = 25.4

# 6H minor diameters (mm): M10 to M14 of 1.25 mm and coarser from a web table of metric internal
# threads, M8x1.25, M12x1.75, M20x2.5 and M24x3 also from ASME B1.13M, the others worked by hand
# from ISO 724 and TD1 of ISO 965-1; stress areas (mm²) printed for M5, M6x1, M8, M10x1.5, M10x1.25,
# M12x1.75, M12x1.25, M14x2, M14x1.5, M3, M4 and the coarse ones from M16, else worked by hand.
METRIC_ROWS = """thread,smallest,largest,area
M5x0.8,4.134,4.334,14.18
M6x1,4.917,5.153,20.12
M6x0.75,5.188,5.378,22.03
M7x1,5.917,6.153,28.86
M8x1.25,6.647,6.912,36.61
M8x1,6.917,7.153,39.17
M10x1.5,8.376,8.676,57.99
M10x1.25,8.647,8.912,61.20
M10x1,8.917,9.153,64.49
M12x1.75,10.106,10.441,84.27
M12x1.5,10.376,10.676,88.13
M12x1.25,10.647,10.912,92.07
M14x2,11.835,12.210,115.44
M14x1.5,12.376,12.676,124.55
M14x1.25,12.647,12.912,129.23
M3x0.5,2.459,2.599,5.03
M4x0.7,3.242,3.422,8.78
M12x1,10.917,11.153,96.1
M16x2,13.835,14.210,157
M16x1.5,14.376,14.676,167
M18x2.5,15.294,15.744,192
M18x1.5,16.376,16.676,216
M20x2.5,17.294,17.744,245
M20x1.5,18.376,18.676,272
M22x2.5,19.294,19.744,303
M22x1.5,20.376,20.676,333
M24x3,20.752,21.252,353
M24x2,21.835,22.210,384
"""


def rows(text: str) -> list[tuple[str, float, float, str]]:
    found = csv.DictReader(StringIO(text))
    return [
        (row["thread"], float(row["smallest"]), float(row["largest"]), row["area"]) for row in found
    ]


def limits(thread: Thread) -> tuple[float, float]:
    assert thread.smallest_minor_mm is not None
    assert thread.largest_minor_mm is not None
    return thread.smallest_minor_mm, thread.largest_minor_mm


@pytest.mark.parametrize(("name", "smallest", "largest", "area"), rows(METRIC_ROWS))
def test_metric_rows_are_those_of_the_standard(
    name: str, smallest: float, largest: float, area: str
) -> None:
    thread, places = parse_thread(name), len(area.partition(".")[2])
    assert thread.designation == name
    assert limits(thread) == pytest.approx((smallest, largest), abs=1e-9)
    assert thread.stress_area_mm2 == pytest.approx(float(area), abs=0.51 * 10.0**-places)


def test_every_metric_row_is_held_against_a_source() -> None:
    named = {name for name, *_ in rows(METRIC_ROWS)}
    assert {one.designation for one in all_threads(["metric coarse", "metric fine"])} == named


@pytest.mark.parametrize(
    # basic pitch diameter in mm, ISO 724
    ("name", "effective"),
    [
        ("M5", 4.480),
        ("M6", 5.350),
        ("M6x0.75", 5.513),
        ("M7", 6.350),
        ("M8", 7.188),
        ("M8x1", 7.350),
        ("M10", 9.026),
        ("M10x1.25", 9.188),
        ("M10x1", 9.350),
        ("M12", 10.863),
        ("M12x1.5", 11.026),
        ("M12x1.25", 11.188),
        ("M14", 12.701),
        ("M14x1.5", 13.026),
        ("M14x1.25", 13.188),
    ],
)
def test_metric_pitch_diameters_are_those_of_iso_724(name: str, effective: float) -> None:
    assert parse_thread(name).effective_mm == pytest.approx(effective, abs=5.1e-4)


@pytest.mark.parametrize("name", METRIC)
def test_metric_rows_agree_with_another_package(name: str) -> None:
    thread, row = parse_thread(name), METRIC[name]
    # printed to 0.00001 in, from mm
    assert (row["D1min"] * INCH, row["D1max"] * INCH) == pytest.approx(limits(thread), abs=6e-4)


@pytest.mark.parametrize(
    ("written", "designation"),
    [
        ("5/16-24 UNF", "5/16-24 UNF"),
        ("5/16 UNF", "5/16-24 UNF"),
        ("5/16-24", "5/16-24 UNF"),
        (" 5/16 - 24  unf ", "5/16-24 UNF"),
        (".3125-24", "5/16-24 UNF"),
        ("5/16-24 UNF-2B", "5/16-24 UNF"),
        ("7/16-14 UNC", "7/16-14 UNC"),
        ('1/4" UNC', "1/4-20 UNC"),
        ('1/4"-20', "1/4-20 UNC"),
        ("1/2 in-13", "1/2-13 UNC"),
        ("1-8", "1-8 UNC"),
        ("10-32 UNF", "10-32 UNF"),
        ("10-32", "10-32 UNF"),
        ("#10-32", "10-32 UNF"),
        ("No. 10-24", "10-24 UNC"),
        ("no 8-32 UNC", "8-32 UNC"),
        ("number 6 UNC", "6-32 UNC"),
        ("4-40 UNC-2B", "4-40 UNC"),
        (".190-32", "10-32 UNF"),
        ("12-28", "12-28 UNF"),
        ("7/8-14", "7/8-14 UNF"),
        ("1 1/2-6", "1 1/2-6 UNC"),
        ("M12x1", "M12x1"),
        ("M24", "M24x3"),
        ("1 BSF", "1-10 BSF"),
        ("G 5/8", "G5/8"),
        ("1 BSP", "G1"),
        ("1 NPT", "1-11.5 NPT"),
        ("1-11 1/2 NPT", "1-11.5 NPT"),
        ("M8x1.25", "M8x1.25"),
        ("M8×1.25", "M8x1.25"),
        ("M8-1.25", "M8x1.25"),
        ("M8", "M8x1.25"),
        ("M8-6H", "M8x1.25"),
        ("m8 x 1", "M8x1"),
        ("M8x1.0 mm", "M8x1"),
        ("M14", "M14x2"),
        ("1/2-28", "1/2-28 UNEF"),
        ("1/2 UNEF", "1/2-28 UNEF"),
        ("1 1/8-8 UN", "1 1/8-8 UN"),
        ("1-1/8-8", "1 1/8-8 UN"),
        ("1/4 BSW", "1/4-20 BSW"),
        ("1/4-20 BSW", "1/4-20 BSW"),
        ("3/8 W", "3/8-16 BSW"),
        ("W 3/8", "3/8-16 BSW"),
        ('1/2" Whitworth', "1/2-12 BSW"),
        ("1/4-26 BSF", "1/4-26 BSF"),
        ("5/16 bsf", "5/16-22 BSF"),
        ("1/4-26 CEI", "1/4-26 BSC"),
        ("5/16 cycle", "5/16-26 BSC"),
        ("2 BA", "2 BA"),
        ("0BA", "0 BA"),
        ("No. 4 B.A.", "4 BA"),
        ("BA 6", "6 BA"),
        ("G1/8", "G1/8"),
        ("g 1/4", "G1/4"),
        ("1/8 BSP", "G1/8"),
        ('3/8" BSPP', "G3/8"),
        ("1/8-28 BSP", "G1/8"),
        ("R1/4", "R1/4"),
        ("Rc 1/4", "R1/4"),
        ("1/2 BSPT", "R1/2"),
        ("1/8 NPT", "1/8-27 NPT"),
        ("1/8-27 NPT", "1/8-27 NPT"),
        ("NPT 1/2", "1/2-14 NPT"),
    ],
)
def test_threads_are_read_as_people_write_them(written: str, designation: str) -> None:
    assert parse_thread(written).designation == designation


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("5/16", "could be 5/16-18 UNC or 5/16-24 UNF: write the pitch as well"),
        (
            "5/16-20",
            "not in the table of threads; of this size it holds 5/16-18 UNC, 5/16-24 UNF or "
            "5/16-32 UNEF",
        ),
        ("5/16-24 UNC", "not in the table of threads; of this size"),
        ("5/16-22 BSW", "not in the table of threads; of this size"),
        (
            "1/4-26",
            "of another family there is 1/4-26 BSF or 1/4-26 BSC, whose family must be written",
        ),
        ("5/8", "could be 5/8-11 UNC or 5/8-18 UNF: write the pitch as well"),
        ("11/16", "of this size it holds 11/16-24 UNEF or 11/16-12 UN: write one of these"),
        ("10", "could be 10-24 UNC or 10-32 UNF: write the pitch as well"),
        ("3-48", "runs from 4-40 UNC to 1 1/2-8 UN; nearest are 4-40 UNC, 5-40 UNC"),
        ('10"-32', "runs from 4-40 UNC to 1 1/2-8 UN; nearest are 1 1/2-6 UNC"),
        ("#1/4-20", "write it like 5/16-24 UNF or M8x1.25"),
        ("#10 BSW", "write it like 5/16-24 UNF or M8x1.25"),
        ("11 BA", "runs from 0 BA to 10 BA; nearest are 10 BA"),
        ("G2", "runs from G1/8 to G1; nearest are G1"),
        ("1/8-28 NPT", "of this size it holds 1/8-27 NPT"),
        ("1/4-20 BSW-2B", "asks for class 2B; no limits of 1/4-20 BSW are known here"),
        ("G1/8 NPT", "write it like 5/16-24 UNF or M8x1.25"),
        ("M8x0.75", "of this size it holds M8x1.25 or M8x1"),
        ("M9", "nearest are M8x1.25, M10x1.5, M8x1 or M10x1.25"),
        ("11/32-20", "nearest are 5/16-18 UNC, 3/8-16 UNC, 5/16-24 UNF"),
        ("M8x1,25", "write the decimal point as a full stop"),
        ("5/16-24 UNF-3B", "asks for class 3B; only the limits of 2B"),
        ("M8x1.25-6g", "asks for class 6G; only the limits of 6H"),
        ("5/16-24 UNF LH", "write it like 5/16-24 UNF or M8x1.25"),
        ("Rp 1/4", "write it like 5/16-24 UNF or M8x1.25"),
        ("5/0-24", "divides by nothing"),
        ("", "write it like 5/16-24 UNF or M8x1.25"),
    ],
)
def test_what_is_no_row_is_refused_and_never_guessed(written: str, said: str) -> None:
    with pytest.raises(ValueError) as refusal:  # noqa: PT011  # the sentence is compared below
        parse_thread(written)
    assert said in str(refusal.value)
    assert written in str(refusal.value)


def test_every_designation_reads_back_as_itself() -> None:
    assert [parse_thread(thread.designation) for thread in all_threads()] == list(all_threads())


def test_a_thread_is_exact_in_its_own_unit() -> None:
    thread = parse_thread("5/16-24")
    assert (thread.major, thread.pitch, thread.unit) == (Fraction(5, 16), Fraction(1, 24), "in")
    assert (thread.major_mm, thread.threads_per_inch, thread.limit_class) == (7.9375, 24, "2B")
    metric = parse_thread("M8")
    assert (metric.major, metric.pitch, metric.unit) == (8, Fraction(5, 4), "mm")
    assert (metric.pitch_mm, metric.threads_per_inch, metric.limit_class) == (1.25, None, "6H")


def test_importing_the_tables_starts_no_unit_registry() -> None:
    probe = (
        "import datumbook.standards.drills, datumbook.standards.cutting, sys; print('pint' "
        "in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"


@pytest.mark.parametrize(
    ("size", "at_the_end", "to_hand_tight", "hand_tight"),
    [
        ("1/8", "0.36351", "0.1615", "0.37360"),
        ("1/4", "0.47739", "0.2278", "0.49163"),
        ("3/8", "0.61201", "0.240", "0.62701"),
        ("1/2", "0.75843", "0.3200", "0.77843"),
        ("3/4", "0.96768", "0.339", "0.98887"),
        ("1", "1.21363", "0.400", "1.23863"),
    ],
)
def test_a_taper_pipe_thread_grows_from_its_end_to_the_hand_tight_plane_as_printed(
    size: str, at_the_end: str, to_hand_tight: str, hand_tight: str
) -> None:
    """Effective diameters E0, E1 and length L1 of ASME B1.20.1, as a thread maker's table and
    Machinery's Handbook, 31st ed., p. 1005 print them.
    """
    thread = parse_thread(f"{size} NPT")
    assert thread.tabled_effective == Fraction(at_the_end)
    assert thread.taper is not None
    grown = thread.tabled_effective + thread.taper * Fraction(to_hand_tight)
    assert abs(grown - Fraction(hand_tight)) <= Fraction(1, 100_000)
