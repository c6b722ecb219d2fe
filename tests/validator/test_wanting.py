"""An open forecast names the reading it wants; a finished reading takes the place of a forecast.

The figures are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from clean_readings import Readings, clean_readings
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import Validation, validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write

CUT = "Deck cut, lowest corner"
FORECAST = ("crown.", "deck_after.", "block_corners.", "bottom_after.", "least_room.")


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job("wanting"))


def forgotten(layout: Layout) -> Readings:
    """All is read, and the deck is to be cut by nobody says how much."""
    found = clean_readings(layout) | {"deck_cut.parallel_to": "crank line"}
    return {key: value for key, value in found.items() if key != "deck_cut.cut"}


def validated(layout: Layout, path: Path, typed: Readings) -> Validation:
    write(layout, path, typed)
    return validate(path)


def forecasts(layout: Layout) -> set[str]:
    return {check.key for check in layout.checks if check.key.startswith(FORECAST)}


def test_each_open_forecast_names_the_cut_that_is_wanting(layout: Layout, tmp_path: Path) -> None:
    typed = {
        key: value
        for key, value in forgotten(layout).items()
        if not key.startswith(("finished_corners.", "finished_axis."))
    }
    found = validated(layout, tmp_path / "book.xlsx", typed)
    told = [one for one in found.findings if one.code == "check-open"]
    ours = [one.message for one in told if one.message.startswith("Plan ")]
    assert len(ours) >= 11, "four pistons, three ways the deck lies, four corners"
    for message in ours:
        assert CUT in message
        assert "more" not in message, "and nothing else"


def test_a_block_with_its_finished_readings_in_is_held_by_no_forecast_of_them(
    layout: Layout, tmp_path: Path
) -> None:
    assert len(forecasts(layout)) == 20
    found = validated(layout, tmp_path / "book.xlsx", forgotten(layout))
    for key in forecasts(layout):
        assert found.values[f"release.{key}.standing"] == "passes", key
    blank = {f"finished_corners.rear_left.{name}": "" for name in ("deck", "overall")}
    values = validated(layout, tmp_path / "again.xlsx", forgotten(layout) | blank).values
    held = {key for key in forecasts(layout) if values[f"release.{key}.standing"] == "holds"}
    assert {
        "crown.1.deck_clearance",
        "deck_after.twist",
        "block_corners.front_left.overall",
    } <= held
