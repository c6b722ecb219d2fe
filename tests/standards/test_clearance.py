"""Clearance holes: the rows a public program carries, and sizes that none has."""

from __future__ import annotations

import pytest

from datumbook.standards.clearance import clearance_holes
from datumbook.standards.threads import parse_thread


@pytest.mark.parametrize(
    ("thread", "sizes"),
    [  # ISO 273 and ASME B18.2.8 (in mm) as a public program carries them
        ("M6", [6.4, 6.6, 7]),
        ("M8x1", [8.4, 9, 10]),
        ("M14", [15, 15.5, 16.5]),
        ("1/4-28", [6.8, 7.1, 7.5]),
        ("5/16-24", [8.3, 8.7, 9.1]),
        ("1/2-13", [13.5, 14.3, 15.5]),
    ],
)
def test_holes_are_those_tabled_the_closest_first(thread: str, sizes: list[float]) -> None:
    holes = clearance_holes(parse_thread(thread))
    assert [float(hole.diameter_mm) for hole in holes] == sizes
    assert all(float(hole.diameter_mm) > parse_thread(thread).major_mm for hole in holes)
    assert holes[0].fit == "close"


@pytest.mark.parametrize("thread", ["M5", "5/8-11", "1/4 BSW", "G1/4"])
def test_a_size_without_a_row_names_those_with_one(thread: str) -> None:
    with pytest.raises(
        LookupError, match=r"No clearance hole is known for .*ISO 273: M6, M8, M10, M12, M14"
    ):
        clearance_holes(parse_thread(thread))
