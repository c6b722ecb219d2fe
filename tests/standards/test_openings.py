"""What a hole is opened to: the next larger size in the order of its own standard."""

from __future__ import annotations

import pytest

from datumbook.standards.openings import larger_threads
from datumbook.standards.threads import Thread, all_threads, parse_thread


@pytest.mark.parametrize(
    ("thread", "larger"),
    # the order of sizes in ASME B1.1 and ISO 261
    [
        ("1/4-20 UNC", ["5/16-18 UNC", "3/8-16 UNC", "7/16-14 UNC"]),
        ("3/8-24 UNF", ["7/16-20 UNF", "1/2-20 UNF", "9/16-18 UNF"]),
        ("5/8-11 UNC", ["3/4-10 UNC", "7/8-9 UNC", "1-8 UNC"]),
        ("M14x1.5", ["M16x1.5", "M18x1.5", "M20x1.5"]),
        ("4-40 UNC", ["5-40 UNC", "6-32 UNC", "8-32 UNC"]),
        ("M8", ["M10x1.5", "M12x1.75", "M14x2"]),
        ("M8x1", ["M10x1", "M12x1", "M14x1.25"]),
    ],
)
def test_the_next_sizes_of_a_family(thread: str, larger: list[str]) -> None:
    assert [one.designation for one in larger_threads(parse_thread(thread))][:3] == larger


@pytest.mark.parametrize("thread", all_threads(), ids=lambda one: one.designation)
def test_each_is_larger_than_the_one_before_and_of_its_family(thread: Thread) -> None:
    every = [thread, *larger_threads(thread)]
    majors = [one.major for one in every]
    assert majors == sorted(set(majors))
    assert {one.family for one in every} == {thread.family}
