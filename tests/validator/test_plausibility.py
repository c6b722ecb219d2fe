"""Suspicions about readings: silent over honest work, and told for slips that honest work does not
bring about.

Rates are measured by simulation of real measuring (tests/simulation); there is no other source. The
full run is `python tests/support/simulation/run.py`; here is a small one with fixed seeds.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from clean_readings import shipped_layout
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator.readings.entries import read_entries
from long_runs import mostly_long
from memory_books import located
from simulation.measuring import honest
from simulation.run import false_alarms, found_of, judged
from simulation.slips import SLIPS

HONEST = 75
LEAST_FOUND = {
    "read in the other system": 0.85,
    "ten times": 1.0,
    "a hundred times": 1.0,
    "a thousand times": 1.0,
    "a tenth": 0.85,
    "a hundredth": 0.85,
    "a thousandth": 0.85,
    "two digits exchanged": 0.35,
    "radius for diameter": 1.0,
    "deviation for size": 1.0,
    "0 for a reading not taken": 1.0,
    "one turn of the gauge": 0.6,
    "a cylinder pasted over another": 0.4,
    "a series dragged down": 0.65,
    "axes exchanged": 0.0,
    "top and bottom exchanged": 0.1,
    "the bore gauge set wrong": 0.1,
    "before and after exchanged": 0.3,
    "bores before and after exchanged": 0.8,
    "more digits than the gauge has": 0.8,
}
"""Well below the rates of the full run, for the small number of workbooks here."""

WORN = {
    "top": (0.080, 0.050),
    "middle": (0.040, 0.026),
    "bottom": (0.014, 0.012),
}  # wear across and along the crank
ODD = (0.0, 0.004, -0.003, 0.006)  # what one cylinder differs from another


def worn() -> dict[str, float]:
    """A block worn as most are, every cylinder a little otherwise."""
    found = {f"bore.{cylinder}.unworn_lip": 82.006 for cylinder in range(1, 5)}
    for cylinder, odd in enumerate(ODD, 1):
        for place, (depth, (across, along)) in enumerate(WORN.items()):
            found[f"bores.{cylinder}.{depth}.thrust"] = round(
                82.006 + across + odd + 0.001 * (cylinder * place % 3), 3
            )
            found[f"bores.{cylinder}.{depth}.axial"] = round(
                82.006 + along + odd / 2 + 0.001 * (cylinder + place) % 2, 3
            )
    return found


def test_a_worn_block_and_a_block_that_reads_alike_everywhere_are_not_suspicious() -> None:
    assert judged(shipped_layout(), worn()) == []
    assert judged(shipped_layout(), dict.fromkeys(worn(), 82.01)) == []


@pytest.mark.parametrize(
    ("key", "typed", "code", "meant"),
    [
        ("bores.2.top.thrust", 80.29, "suspect-digits", "82.090"),
        ("bores.3.middle.axial", 82.534, "suspect-turn", "82.034"),
        ("bores.3.middle.axial", 28.03, "reading-digits-swapped", "82.030"),
        ("bores.3.middle.axial", 41.015, "reading-is-radius", "82.030"),
        ("bores.3.middle.axial", 0.03, "reading-is-deviation", "82.030"),
        ("bores.3.middle.axial", 0.0, "reading-is-nought", ""),
    ],
)
def test_one_slip_is_told_at_its_cell_with_the_size_it_may_have_been(
    key: str, typed: float, code: str, meant: str
) -> None:
    (one,) = judged(shipped_layout(), worn() | {key: typed})
    assert (one.code, one.key, one.suggestion) == (code, key, meant)


def test_no_digits_are_offered_where_two_exchanges_would_do_or_none() -> None:
    assert judged(shipped_layout(), worn() | {"bores.2.top.thrust": 84.33}) == []


def test_a_suspicion_is_a_note_and_so_blocks_nothing() -> None:
    entries = read_entries(
        shipped_layout(), located(shipped_layout(), worn() | {"bores.3.middle.axial": 82.534})
    )
    assert {one.severity for one in entries.findings} == {"note"}
    assert entries.spoiled == set()


def of_cylinder(number: int, sizes: dict[str, float]) -> dict[str, float]:
    return {key: value for key, value in sizes.items() if key.startswith(f"bores.{number}.")}


def test_a_cylinder_whose_axes_or_ends_are_the_other_way_round_is_told_once() -> None:
    other = {"thrust": "axial", "axial": "thrust", "top": "bottom", "bottom": "top"}
    for pair, code in (({"thrust", "axial"}, "suspect-axes"), ({"top", "bottom"}, "suspect-ends")):
        turned = {
            key: worn()[".".join(other[part] if part in pair else part for part in key.split("."))]
            for key in of_cylinder(3, worn())
        }
        assert [one.code for one in judged(shipped_layout(), worn() | turned)] == [code]


def test_a_pasted_cylinder_a_dragged_series_a_gauge_set_wrong_and_a_block_that_grew_are_told() -> (
    None
):
    pasted = {
        key.replace("bores.1.", "bores.3."): value for key, value in of_cylinder(1, worn()).items()
    }
    assert [one.code for one in judged(shipped_layout(), worn() | pasted)] == ["series-copied"]
    keys = [key for key in worn() if key.startswith("bores.") and key.endswith(".axial")][:7]
    dragged = {key: round(82.056 + number / 1000, 3) for number, key in enumerate(keys)}
    assert "suspect-filled" in [one.code for one in judged(shipped_layout(), worn() | dragged)]
    low = {key: round(value - 0.1, 3) for key, value in worn().items()}
    assert [one.code for one in judged(shipped_layout(), low)] == ["suspect-offset"]
    heights = {"corners.front_left.deck": 10.6802, "finished_corners.front_left.deck": 10.6901}
    (one,) = judged(shipped_layout(), heights)
    assert (one.code, one.key) == ("suspect-growth", "finished_corners.front_left.deck")


def test_a_deck_that_grew_is_told_on_either_bank() -> None:
    layout = lay_out(load_spec(shipped_specs()["hollowmere_v8"]), Job())
    for bank in ("left", "right"):
        corner = f"{bank}_corners.front_left.deck"
        place = layout.place(corner)
        height = place.column.near.to(place.unit)
        (one,) = judged(layout, {corner: height, f"finished_{corner}": height + 0.2})
        assert (one.code, one.key) == ("suspect-growth", f"finished_{corner}")


def bored(size: float) -> dict[str, float]:
    return {f"bore_plan.{cylinder}.typed_bore": size for cylinder in range(1, 5)}


BORED = bored(82.5)
FINISHED = {
    f"finished_{key}": round(82.511 + number * number % 7 % 4 / 1000, 3)
    for number, key in enumerate(worn())
    if key.startswith("bores.")
}


def test_a_cylinder_as_finished_in_place_of_the_one_received_is_told_and_a_sleeved_one_is_not() -> (
    None
):
    sound = worn() | FINISHED | BORED
    assert judged(shipped_layout(), sound) == []
    second = of_cylinder(2, worn())
    turned = {key: FINISHED[f"finished_{key}"] for key in second} | {
        f"finished_{key}": value for key, value in second.items()
    }
    found = [
        one for one in judged(shipped_layout(), sound | turned) if one.code == "suspect-shrunk"
    ]
    assert [one.key for one in found] == ["finished_bores.2.top.thrust"]
    worn_out = {
        key: round(value + 1.0, 3) for key, value in worn().items()
    }  # the oversize of before
    sleeved = worn_out | dict.fromkeys(FINISHED, 82.012) | bored(82.0)
    assert "suspect-shrunk" not in {one.code for one in judged(shipped_layout(), sleeved)}


def test_decimals_beyond_the_stated_step_are_told_once_a_gauge_and_never_where_none_is_stated() -> (
    None
):
    assert judged(shipped_layout(), worn() | {"bores.2.top.thrust": 82.0954}) == []
    stated = worn() | {"instruments.bores.resolution": 0.001}
    assert judged(shipped_layout(), stated) == []
    fine = {"bores.2.top.thrust": 82.0954, "bores.2.middle.axial": 82.0321}
    (one,) = judged(shipped_layout(), stated | fine)
    assert (one.code, one.key) == ("suspect-finer", "bores.2.top.thrust")
    assert "steps of 0.001 mm" in one.message
    assert "2 reading(s)" in one.message


def test_a_second_reading_that_agrees_settles_a_suspicion_and_one_that_does_not_leaves_it() -> None:
    layout, key = shipped_layout(), "bores.3.middle.axial"
    place = layout.place(key)
    twice = replace(place, key=key + "_again", at=replace(place.at, column=60))
    known = replace(layout, places=layout.places | {twice.key: twice})
    slipped = worn() | {key: 82.534}
    assert [one.code for one in judged(known, slipped)] == ["suspect-turn"]
    assert judged(known, slipped | {twice.key: 82.535}) == []
    assert [one.code for one in judged(known, slipped | {twice.key: 82.034})] == ["suspect-turn"]


@pytest.mark.parametrize("first", mostly_long(range(0, 3000, HONEST), 1))
def test_honest_workbooks_draw_no_finding(first: int) -> None:
    """Under one in a thousand; with readings, days, names and reasons."""
    disturbed, codes = false_alarms(shipped_layout(), range(first, first + HONEST))
    assert {*codes} <= {"suspect-turn"}
    assert disturbed <= (0 if first == 0 else 1)


@pytest.mark.parametrize("slip", mostly_long(LEAST_FOUND, 2))
def test_slips_are_found_about_as_often_as_in_the_full_run(slip: str) -> None:
    tried, named = found_of(shipped_layout(), slip, range(40))
    assert tried
    assert named >= LEAST_FOUND[slip] * tried


def test_equal_readings_dragged_down_are_never_told_as_a_slip() -> None:
    """Honest work reads alike often enough: what is found of it is nothing, and that is stated."""
    assert set(SLIPS) - set(LEAST_FOUND) == {"one value dragged down"}
    tried, named = found_of(shipped_layout(), "one value dragged down", range(40))
    assert tried
    assert named <= 0.1 * tried


def test_the_simulation_is_the_same_for_the_same_seed() -> None:
    assert honest(shipped_layout(), random.Random(7)) == honest(shipped_layout(), random.Random(7))
