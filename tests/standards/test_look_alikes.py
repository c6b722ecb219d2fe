"""Threads that are mistaken for one another: the traps the trade knows, each in words."""

from __future__ import annotations

import math

import pytest

from datumbook.equations.threads import (
    largest_pitch_diameter_2b,
    pitch_tolerance_2a,
    smallest_pitch_diameter_2a,
)
from datumbook.standards.look_alikes import LEAST_TURNS, goes_in, look_alikes, looseness
from datumbook.standards.metric_limits import metric_limits
from datumbook.standards.threads import Thread, all_threads, parse_thread
from long_runs import mostly_long


def words_of(thread: str, other: str) -> str:
    found = {each.thread.designation: each.words for each in look_alikes(parse_thread(thread))}
    return found[parse_thread(other).designation]


@pytest.mark.parametrize(
    ("thread", "other", "said"),
    [  # conflict 9: the same-pitch traps; sizes by the tables, turns by geometry
        ("1/4-20 UNC", "1/4 BSW", "same size, same pitch, 55° against 60°"),
        ("5/16-18 UNC", "5/16 BSW", "same size, same pitch, 55° against 60°"),
        ("3/8-16 UNC", "3/8 BSW", "same size, same pitch, 55° against 60°"),
        ("7/16-14 UNC", "7/16 BSW", "same size, same pitch, 55° against 60°"),
        ("9/16-12 UNC", "9/16 BSW", "same size, same pitch, 55° against 60°"),
        ("1/2-13 UNC", "1/2 BSW", "same size, other pitch, 0.0833 in (2.117 mm), 55° against 60°"),
        ("1/2-13 UNC", "1/2 BSW", "half a thread out after 6 turns"),  # 1/13 / 2 / (1/12 - 1/13)
        ("M6", "0 BA", "same size, same pitch, 47.5° against 60°"),
        ("1/4-28", "1/4 BSF", "same size, other pitch, 0.0385 in (0.977 mm), 55° against 60°"),
        ("1/4-28", "1/4 BSC", "same size, other pitch, 0.0385 in (0.977 mm); it starts"),
        ("1/4 BSF", "1/4 BSC", "same size, same pitch, 60° against 55°"),
        ("1/8 NPT", "1/8 BSP", "3.6 % in pitch, 55° against 60°, one taper, the other parallel"),
        ("1/2 NPT", "1/2 BSP", "same pitch, 55° against 60°, one taper, the other parallel"),
        ("3/4 NPT", "3/4 BSPT", "same pitch, 55° against 60°; it goes in for its whole length"),
        ("G1/8", "R1/8", "same size, same pitch, one taper, the other parallel"),
        ("M8x1", "5/16-24", "0.062 mm (0.0025 in) apart in size, 5.5 % in pitch"),
        ("5/16-24", "5/16-18", "same size, other pitch, 0.0556 in (1.411 mm)"),
        ("5/16-18", "M8", "0.0025 in (0.062 mm) apart in size, 11.4 % in pitch"),
        ("M8", "5/16-18", "the 5/16-18 UNC screw goes some 2 turns into the M8x1.25 hole"),
    ],
)
def test_a_trap_is_named_with_what_differs(thread: str, other: str, said: str) -> None:
    assert said in words_of(thread, other)


# pairs that are mixed up in shops: common practice, no source
MIXED_UP = [
    ("M8", "5/16-18 UNC"),
    ("M10", "3/8-16 UNC"),
    ("M12", "1/2-13 UNC"),
    ("M12", "7/16-14 UNC"),
    ("M6", "1/4-20 UNC"),
    ("M6", "1/4-28 UNF"),
    ("M5", "10-24 UNC"),
    ("M5", "10-32 UNF"),
    ("M4", "8-32 UNC"),
    ("M10x1", "1/8 BSP"),
    ("M10x1.25", "3/8-20 BSF"),
    ("M16", "5/8-11 UNC"),
    ("M8", "5/16-22 BSF"),
    ("G1/4", "1/4 NPT"),
    ("G1/8", "1/8 NPT"),
    ("1/2-13 UNC", "1/2-12 BSW"),
    ("1/8 NPT", "3/8-24 UNF"),
]


@pytest.mark.parametrize(("thread", "other"), MIXED_UP)
def test_what_shops_mix_up_is_named_from_both_sides(thread: str, other: str) -> None:
    assert words_of(thread, other)
    assert words_of(other, thread)


@pytest.mark.parametrize(
    ("thread", "other"),
    [  # a screw of neither goes into the other: too large, or falling through
        ("M8", "3/8-16 UNC"),
        ("M6", "M8"),
        ("M10", "1/2-13 UNC"),
        ("1/4-20 UNC", "5/16-18 UNC"),
        ("M8", "M10x1"),
        ("1/2-13 UNC", "9/16-12 UNC"),
    ],
)
def test_what_cannot_be_mixed_up_is_not_named(thread: str, other: str) -> None:
    with pytest.raises(KeyError):
        words_of(thread, other)


METRIC_AND_UNIFIED = [one for one in all_threads() if one.limit_class in ("6H", "2B")]
LOOSEST = {  # a screw at its smallest, a hole at its largest, by the tables of its own standard
    "6H": lambda one: (
        float(metric_limits(one).effective_of_bolt[0]),
        float(metric_limits(one).effective_of_hole[1]),
    ),
    "2B": lambda one: (
        smallest_pitch_diameter_2a(one.major_mm, one.pitch_mm, tolerance_of(one)),
        largest_pitch_diameter_2b(one.major_mm, one.pitch_mm, tolerance_of(one)),
    ),
}


def tolerance_of(one: Thread) -> float:
    return pitch_tolerance_2a(one.major_mm, one.engagement_mm, one.pitch_mm)


@pytest.mark.parametrize("thread", METRIC_AND_UNIFIED, ids=lambda one: one.designation)
def test_the_loosest_pair_is_that_of_the_standards(thread: Thread) -> None:
    small, large = LOOSEST[str(thread.limit_class)](thread)
    loose = looseness(thread)
    assert thread.effective_mm - small == pytest.approx(loose, abs=0.06)
    assert large - thread.effective_mm == pytest.approx(loose, abs=0.06)


@pytest.mark.parametrize("screw", METRIC_AND_UNIFIED[::3], ids=lambda one: one.designation)
def test_a_screw_that_goes_in_is_clear_of_the_hole_flank_by_flank(screw: Thread) -> None:
    """Source: the flanks drawn point by point at the pitch line, the first and the last thread of
    one turn; a screw that may shift along its axis binds when both touch on opposite sides.
    """
    for hole in METRIC_AND_UNIFIED:
        if hole is screw or hole.pitch_mm == screw.pitch_mm:
            continue
        radial = (hole.effective_mm - screw.effective_mm) / 2 + (
            looseness(hole) + looseness(screw)
        ) / 2
        free = 2 * radial * math.tan(math.radians(30))  # along the axis, both sides together
        clear = free >= LEAST_TURNS * abs(hole.pitch_mm - screw.pitch_mm)
        if goes_in(screw, hole):
            assert clear


def test_the_same_pitch_never_binds_and_stands_first() -> None:
    first = look_alikes(parse_thread("1/4-20 UNC"))[0]
    assert first.thread.designation == "1/4-20 BSW"
    assert "goes in for its whole length, and bears only on the edges of the flanks" in first.words


def test_a_thread_that_is_like_no_other_has_none() -> None:
    assert look_alikes(parse_thread("M7")) == []


@pytest.mark.parametrize("thread", mostly_long(all_threads(), 30), ids=lambda row: row.designation)
def test_who_is_mistaken_for_another_is_mistaken_from_both_sides(thread: Thread) -> None:
    for each in look_alikes(thread):
        assert each.words.endswith(".")
        assert thread in [back.thread for back in look_alikes(each.thread)]
