"""How closely the holes are gauged: which depths are wanted, what is judged where one is typed, and
what holds a group. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from clean_readings import clean_readings, shipped_layout
from datumbook.job import Job
from datumbook.job.model import Gauging
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.evaluation import reckon
from long_runs import mostly_long


def values_of(typed: Mapping[str, object]) -> Mapping[str, object]:
    """Every value of the clean book with these besides, dots of the keys as two underscores."""
    more = {key.replace("__", "."): value for key, value in typed.items()}
    return reckon(shipped_layout(), {**clean_readings(shipped_layout()), **more})


@pytest.mark.parametrize("gauging", ["first and danger", "every"])
@pytest.mark.parametrize("name", mostly_long(shipped_specs(), 2))
def test_depths_are_wanted_in_the_first_and_the_danger_holes_or_in_every_one(
    name: str, gauging: Gauging
) -> None:
    layout = lay_out(load_spec(shipped_specs()[name]), Job(block="x", gauging=gauging))
    wanted = {place.key for place in layout.wanted()}
    for group in layout.spec.holes:
        assert layout.stations.holes is not None
        walked = layout.stations.holes.holes.tables[group.key].group.walk
        close = {walked[0], *(one.hole for one in group.danger)}
        for hole in group.names:
            depths = [
                f"holes_{group.key}.{hole}.{depth}"
                for depth in ("drilled", "counterbore", "thread")
                if f"holes_{group.key}.{hole}.{depth}" in layout.places
            ]
            assert depths
            asked = gauging == "every" or hole in close
            assert {key in wanted for key in depths} == {asked}
    assert ("gauged.all.counted" in wanted) == bool(layout.spec.holes)


def test_a_depth_that_is_not_wanted_is_judged_when_typed_and_asks_nothing_when_blank() -> None:
    key = "holes_front_cover.F4.thread"
    least = 0.625

    def verdict(**typed: object) -> object:
        return values_of(typed)[f"{key}.verdict"]

    assert verdict() == ""
    assert verdict(holes_front_cover__F4__thread=least) == "OK"
    assert verdict(holes_front_cover__F4__thread=least - 0.01) == "OUT"
    later = {"measured_holes__step": "deck", "route__hole_work__done": 40.0}
    assert verdict(holes_front_cover__F4__thread=least, **later) == "STALE"


def test_all_is_gauged_when_all_the_holes_are_counted_good_and_none_is_said_not_to_fit() -> None:
    group, hole = "gauged.all.verdict", "holes_front_cover.F2"

    def found(**typed: object) -> tuple[object, object, object]:
        values = values_of(typed)
        return values[group], values[f"{hole}.good"], values[f"{hole}.done"]

    assert found() == ("OK", "", "done")
    assert found(gauged__all__counted=None) == ("OPEN", "", "")
    assert found(gauged__all__counted=33.0) == ("OPEN", "", "")
    assert found(holes_front_cover__F2__gauge="not") == ("OK", "OUT", "")
    assert found(gauged__all__counted=None, holes_front_cover__F2__gauge="fits") == (
        "OPEN",
        "OK",
        "done",
    )
