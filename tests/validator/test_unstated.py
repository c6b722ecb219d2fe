"""A gauge of which nobody said how far it may be off is told of where something hangs on that.

Source: the rule of the sheet, twice the smallest division where nothing is known; common practice,
no source. The readings are invented.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from clean_readings import clean_readings, shipped_layout
from datumbook.messages.findings import Finding, finding
from datumbook.validator.judge.unstated import unstated
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.placed import Place

LAYOUT = shipped_layout()
BLANK = "instruments.tunnels.uncertainty"


def tunnels(size: float) -> dict[str, object]:
    """All tunnels read alike; from 61.050 to 61.075 they may be."""
    return {
        f"{state}tunnels.{number}.{end}.{way}": size
        for state in ("", "finished_")
        for number in (1, 2, 3)
        for end in ("front", "rear")
        for way in ("vertical", "left", "right")
    }


NEAR, CLEAR = tunnels(61.0515), tunnels(61.0625)


class Nowhere:
    """Where nothing was moved, all stands as laid out."""

    def about(self, code: str, place: Place, **words: object) -> Finding:
        return finding(code, key=place.key, label=place.label, **words)


def told(changed: Mapping[str, object]) -> list[Finding]:
    typed = {**clean_readings(LAYOUT), **changed}
    values = reckon(LAYOUT, typed)
    stages = ("received", "planned", "finished")
    return list(unstated(LAYOUT, Nowhere(), typed, values, stages))  # type: ignore[arg-type]


def test_a_size_nearer_than_two_divisions_is_told_with_its_gauge() -> None:
    (one,) = told({**NEAR, BLANK: None})
    assert one.severity == "note"
    assert one.key == BLANK
    assert "the tunnels (mm)" in one.message
    assert "the bores" not in one.message


@pytest.mark.parametrize(
    "stated", [{BLANK: 0.0005}, {BLANK: None, "instruments.tunnels.setting": 0}]
)
def test_a_gauge_of_which_something_is_stated_is_not(stated: Mapping[str, object]) -> None:
    assert told({**NEAR, **stated}) == []


def test_of_a_gauge_left_blank_nothing_is_said_where_nothing_is_near() -> None:
    assert told({**CLEAR, BLANK: None}) == []


def test_a_coarser_division_brings_more_near() -> None:
    fine, coarse = (
        told({**NEAR, BLANK: None, "instruments.tunnels.resolution": step})
        for step in (0.0005, 0.005)
    )
    assert fine == []
    assert len(coarse) == 1
