"""A forecast holds the job until the finished readings of the same thing are there, and no longer.

Common practice, no source; the readings are invented.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.equations.standings import HOLDS, PASSES
from datumbook.equations.verdicts import OK, OPEN, OUT, UNSURE
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from readings_made import plausible

LAYOUT = shipped_layout()
Typed = Mapping[str, object]


def clean() -> dict[str, object]:
    return {**clean_readings(LAYOUT)}


def thin_walls() -> dict[str, object]:
    """Every wall of cylinder 1 exactly at the least that may be left on the thrust side."""
    least = LAYOUT.place("wall.left_thrust.from").value
    assert isinstance(least, float)
    return {
        place.key: least
        for place in LAYOUT.readings()
        if place.key.startswith("walls.1.") and ".at_" in place.key
    }


NOT_SAID = {"deck_cut.parallel_to": None}
TOO_WIDE = {"bores.1.top.thrust": 83.6, **{f"bore_plan.{n}.typed_bore": None for n in range(1, 5)}}
# a check of plan or budget, what it rests on told so that it holds, its verdict then, and a
# finished reading without which it is not answered
CASES: dict[str, tuple[Callable[[], Typed], str, str]] = {
    "combustion.after.squish": (lambda: NOT_SAID, OPEN, "finished_corners.rear_left.deck"),
    "crown.1.deck_clearance": (lambda: NOT_SAID, OPEN, "finished_corners.rear_left.deck"),
    "budget.bore.to_spare": (lambda: TOO_WIDE, OPEN, "finished_bores.4.bottom.axial"),
    "wall.1.left_thrust": (thin_walls, UNSURE, "finished_bores.1.bottom.axial"),
}


@pytest.mark.parametrize("check", CASES)
def test_a_forecast_yields_to_the_finished_readings_and_to_all_of_them(check: str) -> None:
    told, verdict, reading = CASES[check]
    uncertain = {"instruments.walls.uncertainty": 0.1, **told()}
    read = {**clean(), **uncertain}
    for finished, standing in ((read, PASSES), ({**read, reading: None}, HOLDS)):
        values = values_of(LAYOUT, finished)
        assert values[f"{check}.verdict"] == verdict
        assert values[f"release.{check}.standing"] == standing


def test_crank_to_cam_as_planned_yields_to_both_ends_as_finished() -> None:
    check = "cam_drive.centre_after"
    gears = lay_out(load_spec(shipped_specs()["keldmire_d3"]), Job("gears"))
    read = plausible(gears) | {"line_bore.line_bored": None}
    for end, standing in (({}, PASSES), ({"finished_cam_centre.rear.distance": None}, HOLDS)):
        values = values_of(gears, read | end)
        assert values[f"{check}.verdict"] == OPEN
        assert values[f"release.{check}.standing"] == standing
    nearer = "finished_cam_nearer.nearer"
    assert values_of(gears, read)[f"{nearer}.verdict"] == OK
    values = values_of(gears, read | {"finished_cam_centre.rear.distance": 151.8})
    assert values[f"release.{nearer}.standing"] == HOLDS, "151.90 is the least as planned too"


def test_the_widest_finished_bore_is_held_to_the_largest_oversize() -> None:
    widest = "finished_widest_bore.widest"
    assert values_of(LAYOUT, clean())[f"{widest}.verdict"] == OK
    values = values_of(LAYOUT, clean() | {"finished_bores.3.bottom.axial": 83.6})
    assert values[f"{widest}.verdict"] == OUT
    assert values[f"release.{widest}.standing"] == HOLDS


STAYS = ["lands.1_2.clamping_land", "line_bored.1.cap_left", "rebore.worst_clean_up"]


@pytest.mark.parametrize("check", STAYS)
def test_what_no_finished_reading_tells_stays(check: str) -> None:
    """Lands and caps are not measured again, and a bore of the right size may still show wear."""
    (found,) = (one for one in LAYOUT.checks if one.key == check)
    assert found.superseded_by == ()
