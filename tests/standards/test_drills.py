"""Drills: names, sizes against a public unit table, and the percent-of-thread table with both
conventions.
"""

from __future__ import annotations

import csv
import re
import subprocess
from fractions import Fraction

import pytest

from datumbook.standards.drills import Choice, all_drills, choice, drills_for, parse_drill
from datumbook.standards.threads import all_threads, parse_thread
from programs import need
from project import SUPPORT

TABLE = SUPPORT / "published" / "tap_drills.csv"
CASES = list(
    csv.DictReader(
        line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#")
    )
)
INTERPOLATED = {
    "#21",
    "#37",
    "#47",
    "#49",
    "#50",
    "#58",
    "#59",
    "#60",
}  # left out of that table: equally spaced


def held(thread: str, drill: str) -> Choice:
    """A drill as printed lists hold it against a thread: as if it made its own size."""
    return choice(parse_thread(thread), parse_drill(drill), 0.0)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['thread']} {case['drill']}")
def test_both_percentages_and_the_place_in_the_limits(case: dict[str, str]) -> None:
    found = held(case["thread"], case["drill"])
    assert found.drill_chart_thread * 100 == pytest.approx(
        float(case["drill_chart_thread"]), abs=0.051
    )
    assert found.basic_profile_thread * 100 == pytest.approx(
        float(case["basic_profile_thread"]), abs=0.051
    )
    assert found.place == case["place"]
    assert found.inside == (case["place"] == "inside")


@pytest.mark.program("gnu_units")
def test_number_and_letter_drills_are_those_of_gnu_units() -> None:
    drills = all_drills(["number", "letter"])
    asked = [
        f"drillgauge({d.name[1:]})" if d.system == "number" else f"drill{d.name}" for d in drills
    ]
    run = subprocess.run(
        [need("gnu_units"), "-q", "-t"],
        input="".join(f"{name}\nin\n" for name in asked),
        capture_output=True,
        text=True,
    )
    found = [float(line) for line in run.stdout.split()]
    assert len(found) == 86
    for drill, inches in zip(drills, found, strict=True):
        slack = 1e-3 if drill.name in INTERPOLATED else 1e-6
        assert float(drill.diameter) == pytest.approx(inches, abs=slack), drill.name


@pytest.mark.parametrize(
    ("name", "inches"),
    # ASME B94.11M; a public package rounds these five to three places
    [
        ("#5", "0.2055"),
        ("#10", "0.1935"),
        ("#18", "0.1695"),
        ("#25", "0.1495"),
        ("#28", "0.1405"),
        ("E", "0.2500"),
    ],
)
def test_sizes_that_other_tables_round(name: str, inches: str) -> None:
    assert parse_drill(name).diameter == Fraction(inches)


def test_each_system_holds_what_it_should_and_gets_larger() -> None:
    counts = {
        system: len(all_drills([system])) for system in ("fraction", "number", "letter", "metric")
    }
    assert counts == {"fraction": 96, "number": 60, "letter": 26, "metric": 311}
    sizes = [drill.diameter_mm for drill in all_drills()]
    assert sizes == sorted(sizes)
    letters = "".join(drill.name for drill in all_drills(["letter"]))
    assert letters == "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def test_every_name_reads_back_as_itself() -> None:
    assert [parse_drill(drill.name) for drill in all_drills()] == all_drills()


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("17/64", "17/64"),
        ("17/64 in", "17/64"),
        ('17/64"', "17/64"),
        ("34/128", "17/64"),
        ("1 in", "1 in"),
        ("1 11/32", "1 11/32"),
        ("1-11/32 in", "1 11/32"),
        ("43/32", "1 11/32"),
        ("30.75 mm", "30.75 mm"),
        ("#7", "#7"),
        ("No. 7", "#7"),
        ("number 7", "#7"),
        ("I", "I"),
        ("letter i", "I"),
        ("6.9 mm", "6.9 mm"),
        ("6.9mm", "6.9 mm"),
        ("7 mm", "7.0 mm"),
        ("5.25 mm", "5.25 mm"),
    ],
)
def test_drills_are_read_as_people_write_them(written: str, name: str) -> None:
    assert parse_drill(written).name == name


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("7", "write #7 for the number drill or 7 mm for the metric one"),
        (".272", "the nearest are I (0.2720 in) and 6.9 mm (0.2717 in)"),
        ("17/63", "the nearest are 17/64 (0.2656 in) and 9/32 (0.2812 in)"),
        ("6.93 mm", "the nearest are 6.9 mm (0.2717 in) and 7.0 mm (0.2756 in)"),
        ("6,9 mm", "write the decimal point as a full stop"),
        ("#61", "number drills run from #1 to #60"),
        ("97/64", "the nearest are 1 1/2 (1.5000 in) and 1 31/64 (1.4844 in)"),
        ("3/0", "write a drill like 17/64"),
        ("long", "write a drill like 17/64"),
        ("", "write a drill like 17/64"),
    ],
)
def test_what_is_no_drill_is_refused_and_never_guessed(written: str, said: str) -> None:
    with pytest.raises(ValueError) as refusal:  # noqa: PT011  # the sentence is compared below
        parse_drill(written)
    assert said in str(refusal.value)


def test_an_unknown_system_is_refused() -> None:
    with pytest.raises(ValueError, match="choose from fraction, number, letter, metric"):
        all_drills(["gauge"])


@pytest.mark.parametrize(
    ("thread", "drill"),
    # the "about 75 %" drills of Machinery's Handbook, 27th ed. p. 2029, 31st ed. p. 2168
    [
        ("1/4-20", "#7"),
        ("1/4-28", "#3"),
        ("5/16-18", "F"),
        ("5/16-24", "I"),
        ("3/8-16", "5/16"),
        ("3/8-24", "Q"),
    ],
)
def test_the_handbooks_drill_is_among_the_first_choices(thread: str, drill: str) -> None:
    first = drills_for(parse_thread(thread), ["fraction", "number", "letter"])[:2]
    assert drill in [found.drill.name for found in first]
    assert next(found for found in first if found.drill.name == drill).inside


def test_drills_are_ranked_by_nearness_to_what_is_asked() -> None:
    found = drills_for(parse_thread("M8"), target=0.6)
    far = [abs(each.drill_chart_thread - 0.6) for each in found]
    assert far == sorted(far)
    assert all(0 < each.drill_chart_thread <= 1 for each in found)


@pytest.mark.parametrize(
    ("thread", "drill", "place"),
    [
        # conflict 1: charts list 17/64 for both 5/16 threads; H is out too, 6.9 mm and J are in
        ("5/16-24", "17/64", "below"),
        ("5/16-24", "H", "below"),
        ("5/16-24", "I", "inside"),
        ("5/16-24", "6.9 mm", "inside"),
        ("5/16-24", "J", "inside"),  # exactly the largest 2B minor diameter
        ("5/16-24", "9/32", "above"),
        # conflict 2
        ("5/16-18", "17/64", "above"),
        ("5/16-18", "F", "inside"),
        ("5/16-18", "6.6 mm", "inside"),
        # conflict 3
        ("9/16-18", "33/64", "above"),
        ("9/16-18", "12.9 mm", "inside"),
        # conflict 4
        ("3/8-24", "21/64", "below"),
        ("7/16-14", "23/64", "below"),
        # conflict 5: the charts' 50 % drills
        ("1/4-20", "7/32", "above"),
        ("5/16-18", "J", "above"),
        ("3/8-16", "Q", "above"),
        ("3/8-24", "S", "above"),
        ("7/16-14", "25/64", "above"),
        ("7/16-20", "13/32", "above"),
        # conflict 7
        ("1/4-28", "#3", "inside"),
        ("1/4-28", "7/32", "inside"),
        ("1/4-28", "#4", "below"),
    ],
)
def test_conflicts_between_charts_and_the_limits_of_2b(thread: str, drill: str, place: str) -> None:
    assert held(thread, drill).place == place


def test_how_far_the_charts_17_64_misses_the_fine_thread() -> None:
    # 0.0014 in under the smallest 2B minor diameter, and more than a full basic thread
    thread, found = parse_thread("5/16-24"), held("5/16-24", "17/64")
    assert (thread.smallest_minor_mm - found.drill.diameter_mm) / 25.4 == pytest.approx(
        0.0014, abs=5e-5
    )
    assert found.basic_profile_thread > 1


@pytest.mark.parametrize(
    ("thread", "drill"),
    # ISO 2306; fine pitches, M3, M4 and M16 and over from memory
    [
        ("M5", "4.2 mm"),
        ("M6", "5.0 mm"),
        ("M6x0.75", "5.25 mm"),
        ("M7", "6.0 mm"),
        ("M8", "6.8 mm"),
        ("M8x1", "7.0 mm"),
        ("M10", "8.5 mm"),
        ("M10x1.25", "8.8 mm"),
        ("M10x1", "9.0 mm"),
        ("M12", "10.2 mm"),
        ("M12x1.5", "10.5 mm"),
        ("M12x1.25", "10.8 mm"),
        ("M14", "12.0 mm"),
        ("M14x1.5", "12.5 mm"),
        ("M14x1.25", "12.8 mm"),
        ("M3", "2.5 mm"),
        ("M4", "3.3 mm"),
        ("M12x1", "11.0 mm"),
        ("M16", "14.0 mm"),
        ("M16x1.5", "14.5 mm"),
        ("M18", "15.5 mm"),
        ("M18x1.5", "16.5 mm"),
        ("M20", "17.5 mm"),
        ("M20x1.5", "18.5 mm"),
        ("M22", "19.5 mm"),  # a package has 18.5, which leaves 108 %
        ("M22x1.5", "20.5 mm"),
        ("M24", "21.0 mm"),
        ("M24x2", "22.0 mm"),
    ],
)
def test_the_drills_of_iso_2306_are_inside_6h(thread: str, drill: str) -> None:
    found = held(thread, drill)
    assert found.inside
    assert 0.73 < found.drill_chart_thread < 0.80


# Drills that charts print for unified threads at about 75 per cent: a published tap chart, 1/4 to
# 9/16 also Machinery's Handbook, 27th ed., p. 2029; 3/4-10, 3/4-16, 1-8 and 1-12 from memory.
CHART = """4-40 #43,5-40 #38,6-32 #36,8-32 #29,10-24 #25,10-32 #21,12-24 #16,12-28 #14,
1/4-20 #7,1/4-28 #3,5/16-18 F,5/16-24 I,3/8-16 5/16,3/8-24 Q,7/16-14 U,7/16-20 25/64,
1/2-13 27/64,1/2-20 29/64,
9/16-12 31/64,9/16-18 33/64,5/8-11 17/32,5/8-18 37/64,3/4-10 21/32,3/4-16 11/16,7/8-9 49/64,
7/8-14 13/16,1-8 7/8,1-12 59/64,1 1/8-7 63/64,1 1/8-12 1 3/64,1 1/4-7 1 7/64,1 1/4-12 1 11/64,
1 3/8-6 1 7/32,1 3/8-12 1 19/64,1 1/2-6 1 11/32,1 1/2-12 1 27/64"""
CHARTED = [re.fullmatch(r"(.+-\d+) (.+)", each.strip()) for each in CHART.split(",")]
OVER_2B = {"9/16-18", "5/8-18"}  # although the charts print their drills


@pytest.mark.parametrize(
    ("thread", "drill"), [found.groups() for found in CHARTED if found], ids=str
)
def test_the_drills_of_the_charts_are_inside_2b_but_for_two(thread: str, drill: str) -> None:
    found = held(thread, drill)
    assert found.place == ("above" if thread in OVER_2B else "inside")
    assert 0.62 < found.drill_chart_thread < 0.85


def test_every_coarse_and_fine_thread_of_inches_has_a_drill_of_the_charts() -> None:
    named = {parse_thread(found[1]) for found in CHARTED if found}
    assert named == set(all_threads(["UNC", "UNF"]))
