"""Threads that are mistaken for one another: the traps the trade knows, each in words."""

from __future__ import annotations

import pytest

from datumbook.standards.look_alikes import look_alikes
from datumbook.standards.threads import Thread, all_threads, parse_thread


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
        ("M8x1", "5/16-24", "0.0025 in (0.062 mm) apart in size, 5.5 % in pitch"),
        ("5/16-24", "5/16-18", "same size, other pitch, 0.0556 in (1.411 mm)"),
    ],
)
def test_a_trap_is_named_with_what_differs(thread: str, other: str, said: str) -> None:
    assert said in words_of(thread, other)


def test_the_same_pitch_never_binds_and_stands_first() -> None:
    first = look_alikes(parse_thread("1/4-20 UNC"))[0]
    assert first.thread.designation == "1/4-20 BSW"
    assert "goes in for its whole length, and bears only on the edges of the flanks" in first.words


def test_a_thread_that_is_like_no_other_has_none() -> None:
    assert look_alikes(parse_thread("M7")) == []


@pytest.mark.parametrize("thread", all_threads(), ids=lambda row: row.designation)
def test_who_is_mistaken_for_another_is_mistaken_from_both_sides(thread: Thread) -> None:
    for each in look_alikes(thread):
        assert each.words.endswith(".")
        assert thread in [back.thread for back in look_alikes(each.thread)]
