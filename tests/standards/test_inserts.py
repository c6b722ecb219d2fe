"""Drills for wire-thread inserts against the holes they are for."""

from __future__ import annotations

import pytest

from datumbook.standards.drills import parse_drill
from datumbook.standards.inserts import insert_drill, insert_drills
from datumbook.standards.threads import parse_thread

# basic minor diameter of the insert's hole, d + 0.216506 P (from memory), worked by hand
MINOR = {
    "M6x1": 6.217,
    "M8x1.25": 8.271,
    "M10x1.5": 10.325,
    "1/4-20 UNC": 0.2608 * 25.4,
    "5/16-18 UNC": 0.3245 * 25.4,
    "3/8-16 UNC": 0.3885 * 25.4,
    "7/16-14 UNC": 0.4530 * 25.4,
    "1/2-13 UNC": 0.5167 * 25.4,
}


@pytest.mark.parametrize("row", insert_drills(), ids=lambda row: row.name)
def test_a_drill_for_an_insert_leaves_its_hole_no_smaller_than_basic(row: object) -> None:
    name, drill = row.name, parse_drill(row.drill)  # type: ignore[attr-defined]
    thread = parse_thread(name)
    assert thread.designation == name
    over = drill.diameter_mm - MINOR[name]
    assert -0.005 < over < 0.4 * thread.pitch_mm


def test_an_insert_that_is_not_known_names_those_that_are() -> None:
    with pytest.raises(LookupError, match=r"7/16-20 UNF.* name its drill: known are M6x1"):
        insert_drill(parse_thread("7/16-20"))
