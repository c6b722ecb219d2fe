"""Where a relief is stopped on a scale that has no line at its depth, and which face a tool is
touched on.

Source: geometry. The face lies anywhere between two lines of the scale, so a stop on a line ends a
cut anywhere between that line's depth and one line less; both are tried against the tolerance.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from as_asked import values_of
from clean_readings import clean_readings
from datumbook.job import Job
from datumbook.numbers.units import convert
from datumbook.spec import load_spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from hole_steps import steps_of
from project import full_form

ROW, LINE = "stops.sump_rail.counterbore", 0.005 * 25.4  # mm
LEAST, MOST = 1.4, 2.0  # mm: a relief of 1.6, 0.4 deeper or 0.2 less
chance = np.random.default_rng(5)


@cache
def on_a_scale_of_inches() -> Layout:
    text = full_form("orrindale_qp4").replace("[shop]", '[shop]\nstop_scale = "0.005 in"')
    return lay_out(read_spec(text, "x.toml"), Job(block="x"))


@pytest.mark.parametrize("quill", ["down", "up"])
def test_a_relief_is_stopped_where_it_keeps_its_tolerance_wherever_the_face_lies(
    quill: str,
) -> None:
    layout = on_a_scale_of_inches()
    way = 1 if quill == "down" else -1
    for touch in chance.uniform(1.0, 2.0, 6):
        typed = {"allowances.quill": quill, f"{ROW}.touch_reading": float(touch)}
        values = values_of(layout, {**clean_readings(layout), **typed, f"{ROW}.feeler": 0.0})
        assert values[f"{ROW}.full_depth_reached.verdict"] == "OK"
        assert values[f"{ROW}.set_depth"] == pytest.approx(0.065), "0.060 may end at 1.397 mm"
        stop = values[f"{ROW}.stop_reading"]
        assert isinstance(stop, float)
        assert LEAST <= convert((stop - float(touch)) * way, "in", "mm") <= MOST
        assert stop / 0.005 == pytest.approx(round(stop / 0.005)), "on a line"


def test_no_tip_is_sent_deeper_than_worked_out_for_it() -> None:
    layout = on_a_scale_of_inches()
    values = values_of(layout, clean_readings(layout))
    for row in steps_of(layout).drills:
        tip, sent = values[f"stops.{row}.tip_depth"], values[f"stops.{row}.set_depth"]
        units = [layout.places[f"stops.{row}.{one}"].unit for one in ("tip_depth", "set_depth")]
        assert isinstance(tip, float)
        assert isinstance(sent, float)
        assert convert(sent, units[1] or "", "mm") <= convert(tip, units[0] or "", "mm") + 1e-9
    held, most = values["danger.S7.held_back"], values["danger.S7.no_tip_below"]
    assert isinstance(held, float)
    assert isinstance(most, float)
    assert held * 25.4 <= most


def test_a_card_says_to_touch_the_face_where_its_tool_would_find_a_seat() -> None:
    """The rear housing is spot-faced before it is drilled, the sump rail relieved before it is
    tapped: the floor under either is counted from the face.
    """
    layout = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job(block="x"))
    said = {
        key: place.column.words
        for key, place in layout.places.items()
        if key.startswith("card_") and key.endswith("_touch") and place.column
    }
    beside = {key: words for key, words in said.items() if words != "touch"}
    assert len(said) > len(beside)
    assert beside == {
        "card_rear_housing_drill.scale.drill_touch": "touch beside its seat",
        "card_sump_rail_start_tap_S7.scale.tap_touch": "touch beside its seat",
    }
