"""The order in which stations stand changes where things stand, and nothing else.

Source: the design's own rule. Every order of every shipped engine's sheets gives the same cells,
checks, limits and dependencies.
"""

from __future__ import annotations

from functools import cache
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.stations.walk import walk
from datumbook.workbook.layout import Layout
from long_runs import mostly_long

GATHERERS = {"Job", "Release", "Customer", "Method", "Instruments"}
"""The sheets that gather from the placed stations: their lists follow the order of the sheets."""


# a station is left as it is in its first line on the way through, whichever that is
WALKED = {"stations", "touched", "not_touched", "forecasts", "job"}


def dependencies(layout: Layout) -> dict[str, Any]:
    """Every cell with what it is worked out from, in no order for the sheets that gather."""
    found: dict[str, Any] = {}
    for key, place in layout.places.items():
        if place.column and place.column.home.key in WALKED:
            continue
        gathers = place.at.sheet in GATHERERS
        found[key] = {
            name: sorted(map(str, one)) if gathers and isinstance(one, list) else one
            for name, one in place.inputs.items()
            if name != "rests_on"  # which names the first line of each station
        }
    return found


def checks(layout: Layout) -> dict[str, Any]:
    """Every check with its limits, and what it goes stale with and is answered by."""
    return {
        one.key: (
            (one.low, one.high, one.source, one.says, one.judged, one.if_stated),
            one.superseded_by,
            one.fresh_in.key if one.fresh_in else None,
        )
        for one in layout.checks
    }


def kinds(layout: Layout) -> dict[str, Any]:
    return {
        key: (place.role, place.label, place.unit, place.equation, place.at.sheet)
        for key, place in layout.places.items()
        if place.at.sheet not in GATHERERS
    }


@cache
def as_listed(name: str) -> tuple[dict[str, Any], ...]:
    layout = lay_out(load_spec(shipped_specs()[name]), Job())
    return dependencies(layout), checks(layout), kinds(layout)


@pytest.mark.parametrize("name", mostly_long(shipped_specs()))
@settings(max_examples=3)
@given(data=st.data())
def test_any_order_of_the_stations_gives_the_same_book(name: str, data: st.DataObject) -> None:
    def shuffled(stations: Any) -> Any:
        return data.draw(st.permutations(list(walk(stations))))

    with patch("datumbook.stations.walk", shuffled):
        layout = lay_out(load_spec(shipped_specs()[name]), Job())
    assert (dependencies(layout), checks(layout), kinds(layout)) == as_listed(name)
