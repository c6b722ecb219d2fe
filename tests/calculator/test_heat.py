"""Heat and cold at the bench: no answer that no shop reaches, the rest with its means and what to
mind.
"""

from __future__ import annotations

import re
import subprocess
import sys

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from datumbook.calculator import BenchError, work
from datumbook.calculator.heat import with_usual
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import WayIn, instead, means

TIGHT = {
    "cold": ("chilling_temperature", "outside_diameter"),
    "hot": ("heating_temperature", "hole"),
}
LOST = 0.1  # of the way back, before it is in


def most(way: WayIn) -> float:
    """How much it shrinks or grows (mm), all that is not lost on the way."""
    near, far, down = (10.8e-6, 8.5e-6, 216) if way == "cold" else (10.8e-6, 11.0e-6, 180)
    kept = 1 - LOST
    return 86 * (near + (far - near) * kept) * down * kept


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
@given(tight=st.floats(min_value=0.0, max_value=1.0))
def test_a_temperature_is_told_with_its_means_or_refused(way: WayIn, tight: float) -> None:
    if tight + 0.02 > most(way) + 1e-4:
        with pytest.raises(BenchError, match=instead(way)):
            worked(way, tight)
        return
    assume(tight + 0.02 < most(way) - 1e-4)
    told = worked(way, tight)
    found = degrees(told)
    assert found >= -196 if way == "cold" else found <= 200
    leaving = 20 + (found - 20) / (1 - LOST)
    reaching = [
        one
        for one in means(way)
        if (
            one.reaches.to("degC") <= leaving + 0.06
            if way == "cold"
            else one.reaches.to("degC") >= leaving - 0.06
        )
    ]
    brought = re.search(r"bring  it to (-?[\d.]+) °C", told)
    assert brought
    assert float(brought[1]) == pytest.approx(leaving, abs=0.12)
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
    with pytest.raises(
        BenchError, match=r"hotter than does it good \(at most 200 °C, oven, of which"
    ):
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


def test_nothing_is_added_to_other_equations_or_where_it_is_what_is_asked_for() -> None:
    assert with_usual("taper", ["top=82.05mm"]) == ["top=82.05mm"]
    whole = ["liner_interference=0.05 mm", "assembly_clearance=0.02 mm", "outside_diameter=86 mm"]
    backwards = ["chilling temperature=-78.5 degC", *whole]
    assert with_usual("chilling-temperature", backwards) == backwards
    assert len(with_usual("chilling-temperature", backwards[:-1])) == 7
    assert with_usual("chilling_temperature", ["expansion=much"])[1].startswith("temperature=")


TYPED = ("liner_interference=0.075 mm", "assembly_clearance=0.05 mm", "outside_diameter=86 mm")


def test_a_bound_that_is_typed_is_no_bound_of_the_shop() -> None:
    # 0.125 mm on 86 mm: the straight mean puts it at -139.7, and at -157.5 in the box
    with pytest.raises(
        BenchError, match=r"^-78 °C does not do it: .* -157\.5 .*; nitrogen reaches"
    ):
        work("chilling_temperature", [*TYPED, "coldest=-78degC"])
    near = work("chilling_temperature", ["liner_interference=0.02 mm", *TYPED[1:]])
    bounded = ["liner_interference=0.02 mm", *TYPED[1:], "coldest=-100degC"]
    assert degrees(near) == pytest.approx(degrees(work("chilling_temperature", bounded)), abs=0.11)
    with pytest.raises(BenchError, match="coldest has to be colder than temperature"):
        work("chilling_temperature", [*TYPED, "coldest=30degC"])


@pytest.mark.parametrize("way", TIGHT)
@pytest.mark.parametrize(
    ("argument", "value", "said"),
    [
        ("liner_interference", "-0.02 mm", "it is loose, drops in as it is and does not hold"),
        ("assembly_clearance", "0 mm", "has to be more than nothing"),
        ("assembly_clearance", "-0.01 mm", "has to be more than nothing"),
    ],
)
def test_a_loose_liner_and_no_room_are_refused(
    way: WayIn, argument: str, value: str, said: str
) -> None:
    name, size = TIGHT[way]
    typed = {"liner_interference": "0.05 mm", "assembly_clearance": "0.02 mm", size: "86 mm"} | {
        argument: value
    }
    with pytest.raises(BenchError, match=said):
        work(name, [f"{one}={text}" for one, text in typed.items()])
    refused = subprocess.run(
        [sys.executable, "-m", "datumbook", "work", name, *(f"{a}={b}" for a, b in typed.items())],
        capture_output=True,
        text=True,
        check=False,
    )
    assert refused.returncode == 2
    assert said in " ".join(refused.stderr.split())


@pytest.mark.parametrize(
    ("way", "result", "by"),
    [("cold", -60.0, "dry ice"), ("cold", -140, "nitrogen"), ("hot", 120, "oil bath")],
)
def test_the_way_back_tells_the_means_and_what_to_mind_too(
    way: WayIn, result: float, by: str
) -> None:
    name, size = TIGHT[way]
    told = work(name, [f"result={result}degC", "assembly_clearance=0.02 mm", f"{size}=86 mm"])
    assert f"  by     {by}, which reaches" in told
    assert all(line in told for line in LINES[way])
    found = re.search(r"gives  liner_interference ([\d.]+) mm", told)
    assert found
    assert degrees(worked(way, float(found[1]))) == pytest.approx(result, abs=0.7)
    beyond = {"cold": -200, "hot": 300}[way]
    with pytest.raises(BenchError, match=instead(way)):
        work(name, [f"result={beyond}degC", "assembly_clearance=0.02 mm", f"{size}=86 mm"])


@pytest.mark.parametrize("way", TIGHT)
@pytest.mark.parametrize("typed", [[], ["interference=0.0049in", "coldest=-78.5degC"]])
def test_what_is_said_to_be_typed_can_be_typed(way: WayIn, typed: list[str]) -> None:
    name, _ = TIGHT[way]
    with pytest.raises(BenchError) as lacks:
        work(name, typed)
    _, _, example = str(lacks.value).partition(f"Write: datumbook work {name} ")
    assert f"by     {'nitrogen' if way == 'cold' else 'oven'}," in work(name, example.split())
