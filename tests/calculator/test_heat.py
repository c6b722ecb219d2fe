"""Heat and cold at the bench: no answer that no shop reaches, the rest with its means and what to
mind.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from datumbook.calculator import BenchError, work
from datumbook.calculator.heat import with_usual
from datumbook.equations.heat_and_cold import DROPS_IN
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import WayIn, instead, means

TIGHT = {
    "cold": ("chilling_temperature", "outside_diameter"),
    "hot": ("heating_temperature", "hole"),
}
MOST = {"cold": 86 * 8.5e-6 * 216, "hot": 86 * 11.0e-6 * 180}  # mm that it shrinks or grows
LINES = {one.key: one.lines for one in at_station("liners")}


def worked(way: WayIn, tight: float, *more: str) -> str:
    name, size = TIGHT[way]
    typed = (f"liner_interference={tight:.4f} mm", "assembly_clearance=0.02 mm", f"{size}=86 mm")
    return work(name, [*typed, *more])


def degrees(told: str) -> float:
    found = re.search(r"gives +(-?[\d.]+) °C", told)
    assert found
    return float(found[1])


@pytest.mark.parametrize("way", TIGHT)
@given(tight=st.floats(min_value=-0.1, max_value=1.0))
def test_a_temperature_is_told_with_its_means_or_refused(way: WayIn, tight: float) -> None:
    if tight + 0.02 > MOST[way] + 1e-4:
        with pytest.raises(BenchError, match=instead(way)):
            worked(way, tight)
        return
    assume(tight + 0.02 < MOST[way] - 1e-4)
    told = worked(way, tight)
    found = degrees(told)
    assert found >= -196 if way == "cold" else found <= 200
    if tight + 0.02 <= 0:
        assert DROPS_IN in told
        return
    reaching = [
        one
        for one in means(way)
        if (
            one.reaches.to("degC") <= found + 0.05
            if way == "cold"
            else one.reaches.to("degC") >= found - 0.05
        )
    ]
    assert any(f"by     {one.words}," in told and one.mind in told for one in reaching[:2])
    assert "local codes and licensed practice come first" in told
    assert all(line in told for line in LINES[way])
    assert "\n  = " in told


@pytest.mark.parametrize(
    "typed",
    [
        ("temperature=20 degC", "expansion=10.8e-6 1/degC"),
        ("coldest=-270 degC", "cold_expansion=10.8e-6 1/degC"),
    ],
)
def test_no_liner_is_chilled_below_what_there_is(typed: tuple[str, ...]) -> None:
    # 0.45 mm on 86 mm at 10.8e-6 throughout would be -465 degC
    with pytest.raises(BenchError, match=r"warm the block as well, take less interference"):
        worked("cold", 0.43, *typed)


def test_a_block_is_not_warmed_until_it_is_hurt() -> None:
    with pytest.raises(BenchError, match=r"hotter than does it good \(at most 200 °C, oven\)"):
        worked("hot", 0.41, "expansion=10.8e-6 1/degC", "hottest=600 degC")


def test_what_is_typed_is_taken_and_the_far_mean_goes_with_it() -> None:
    bare = degrees(worked("cold", 0.05))
    assert degrees(worked("cold", 0.05, "expansion=21.6e-6 1/degC")) == pytest.approx(
        20 + (degrees(worked("cold", 0.015)) - 20), abs=0.11
    ), "twice the expansion: half of the 0.070 mm to make"
    assert degrees(worked("cold", 0.05, "cold_expansion=10.8e-6 1/degC")) == pytest.approx(
        20 - 0.07 / 86 / 10.8e-6, abs=0.06
    )
    assert degrees(worked("cold", 0.05, "temperature=68 degF")) == bare


def test_nothing_is_added_to_other_equations_or_where_one_is_asked_backwards() -> None:
    assert with_usual("taper", ["top=82.05mm"]) == ["top=82.05mm"]
    backwards = ["chilling temperature=-78.5 degC", "outside_diameter=86 mm"]
    assert with_usual("chilling-temperature", backwards) == backwards
    assert with_usual("chilling_temperature", ["expansion=much"])[1].startswith("temperature=")
