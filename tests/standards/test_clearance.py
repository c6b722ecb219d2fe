"""Clearance holes: the rows a public program carries, and sizes that none has."""

from __future__ import annotations

from fractions import Fraction

import pytest

from datumbook.standards.clearance import clearance_holes
from datumbook.standards.drills import parse_drill
from datumbook.standards.threads import all_threads, parse_thread


@pytest.mark.parametrize(
    ("thread", "sizes"),
    [  # ISO 273 as a public program carries it, M18 and over as a package does
        ("M3", [3.2, 3.4, 3.6]),
        ("M4", [4.3, 4.5, 4.8]),
        ("M5", [5.3, 5.5, 5.8]),
        ("M6", [6.4, 6.6, 7]),
        ("M8x1", [8.4, 9, 10]),
        ("M10", [10.5, 11, 12]),
        ("M12", [13, 13.5, 14.5]),
        ("M14", [15, 15.5, 16.5]),
        ("M16", [17, 17.5, 18.5]),
        ("M18", [19, 20, 21]),
        ("M20", [21, 22, 24]),
        ("M22", [23, 24, 26]),
        ("M24", [25, 26, 28]),
        # ASME B18.2.8 in millimetres, to 1/2 in as a public program carries it
        ("1/4-28", [6.8, 7.1, 7.5]),
        ("5/16-24", [8.3, 8.7, 9.1]),
        ("3/8-16", [9.9, 10.3, 10.7]),
        ("7/16-14", [11.5, 11.9, 12.3]),
        ("1/2-13", [13.5, 14.3, 15.5]),
        ("5/8-11", [16.7, 17.5, 18.7]),
        ("3/4-10", [19.8, 20.6, 23.0]),
        ("7/8-9", [23.0, 23.8, 26.2]),
        ("1-8", [26.2, 27.8, 29.4]),
    ],
)
def test_holes_are_those_tabled_the_closest_first(thread: str, sizes: list[float]) -> None:
    holes = clearance_holes(parse_thread(thread))
    scale = {"in": 25.4, "mm": 1}
    found = [float(hole.diameter) * scale[hole.unit] for hole in holes]
    # 17/64 in is 6.75 mm: printed 6.8
    assert found == pytest.approx(sizes, abs=0.054)
    assert found == sorted(found)
    assert found[0] > parse_thread(thread).major_mm
    assert holes[0].fit == "close"


def test_every_hole_for_an_inch_thread_is_a_drill_of_the_stand() -> None:
    # from 1/4 to 1 in by 1/64: close, normal and loose (Machinery's Handbook, 27th ed., p. 1741)
    known = [one for one in all_threads(["UNC"]) if Fraction(1, 4) <= one.major <= 1]
    sized = [one for one in known if one.major != Fraction(9, 16)]
    holes = [hole for one in sized for hole in clearance_holes(one)]
    assert len(holes) == 27
    for hole in holes:
        assert parse_drill(hole.words).diameter == hole.diameter


@pytest.mark.parametrize("thread", ["10-32", "9/16-12", "1 1/8-7", "1/4 BSW", "G1/4"])
def test_a_size_without_a_row_names_those_with_one(thread: str) -> None:
    with pytest.raises(
        LookupError, match=r"No clearance hole is known for .*ISO 273: M3, M4, M5, M6, M8"
    ):
        clearance_holes(parse_thread(thread))
