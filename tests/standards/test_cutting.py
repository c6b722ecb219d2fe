"""Cutting speeds, feeds and lubricants."""

from __future__ import annotations

import pytest

from datumbook.standards import table
from datumbook.standards.cutting import cutting_speed, feed, lubricant

HAND_WORK = ("start tap", "finish tap", "chase", "deburr")


@pytest.mark.parametrize(
    ("operation", "low", "high"),
    [
        (
            "drill",
            30,
            150,
        ),  # grey iron, all classes: Machinery's Handbook (reproduced) and NAVEDTRA 14345
        ("ream", 20, 65),  # grey iron, all classes: Machinery's Handbook (reproduced)
        ("counterbore", 20, 68),  # a quarter to 85 % of 80 ft/min: common practice, no source
    ],
)
def test_speeds_lie_in_the_published_ranges(operation: str, low: float, high: float) -> None:
    row = cutting_speed(operation, "grey iron")
    assert row.unit == "ft/min"
    assert low <= float(row.low) <= float(row.value) <= float(row.high) <= high


@pytest.mark.parametrize("operation", HAND_WORK)
def test_threads_and_edges_are_worked_by_hand(operation: str) -> None:
    row = cutting_speed(operation, "grey iron")
    assert row.value == ""
    assert row.words.startswith("by hand")


@pytest.mark.parametrize("operation", ["start tap", "finish tap", "chase"])
def test_grey_iron_is_tapped_dry(operation: str) -> None:
    assert "dry" in lubricant(operation, "grey iron").words


@pytest.mark.parametrize(
    ("diameter", "words"),
    # NAVEDTRA 14345
    [
        (5.0, "0.002 to 0.004 in"),
        (6.35, "0.002 to 0.004 in"),
        (6.9, "0.004 to 0.007 in"),
        (15.0, "0.007 to 0.015 in"),
    ],
)
def test_feeds_by_diameter(diameter: float, words: str) -> None:
    assert feed("drill", "grey iron", diameter).words == words


def test_every_row_names_its_source() -> None:
    rows = [row for group in table("cutting").values() for row in group]
    assert all(row["source"] for row in rows)


def test_what_the_table_lacks_is_said() -> None:
    with pytest.raises(LookupError, match='"aluminium": the table holds grey iron'):
        cutting_speed("drill", "aluminium")
    with pytest.raises(
        LookupError, match='"mill" in grey iron: the table holds chase, counterbore'
    ):
        lubricant("mill", "grey iron")
    with pytest.raises(
        LookupError, match="diameter of 2 mm: the table holds drills over 1/8 in, up to 1 in"
    ):
        feed("drill", "grey iron", 2.0)
