"""Counterbores over a thread's major diameter."""

from __future__ import annotations

import pytest

from datumbook.standards.counterbores import counterbore_sizes_over
from datumbook.standards.threads import Thread, all_threads, parse_thread


@pytest.mark.parametrize(
    ("thread", "names"),
    # common practice, no source: thread major + 1/64 to 1/32 in
    [
        ("1/4-20", ["9/32", "17/64"]),
        ("5/16-24", ["11/32", "21/64"]),
        ("7/16-14", ["15/32", "29/64"]),
        ("1/2-13", ["17/32", "33/64"]),
        ("M8", ["11/32"]),
        ("M12", ["1/2"]),
    ],
)
def test_sizes_offered_the_recommended_first(thread: str, names: list[str]) -> None:
    assert [size.name for size in counterbore_sizes_over(parse_thread(thread).major_mm)] == names


@pytest.mark.parametrize(
    "thread", [row for row in all_threads() if row.major_mm < 24], ids=lambda row: row.designation
)
def test_no_counterbore_only_shaves_the_crests(thread: Thread) -> None:
    # conflict 8: a counterbore not over the major diameter is no counterbore
    sizes = counterbore_sizes_over(thread.major_mm)
    assert sizes
    assert all(size.diameter_mm > thread.major_mm + 0.39 for size in sizes)
    assert all(size.diameter_mm < thread.major_mm + 0.80 for size in sizes)


def test_a_thread_too_large_for_the_drills_is_refused() -> None:
    with pytest.raises(ValueError, match="not in the table of drills"):
        counterbore_sizes_over(parse_thread("1 1/2-6").major_mm)
