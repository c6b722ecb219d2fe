"""A job with a dry liner: by what it is chilled is named alike on sheet, card, report and at the
bench, with what to mind; beyond nitrogen it is said what to do instead.

The engine is the shipped one that may get a liner, with less room wanted so that a freezer can do;
where each means ends is reckoned here from the figures of grey iron, not solved.
"""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import pytest

from as_asked import values_of
from datumbook.calculator import BenchError, work
from datumbook.equations import forbidden_fits
from datumbook.equations.heat_and_cold import DROPS_IN, NO_COLD, NO_HEAT
from datumbook.equations.room_air import BOILS_UNKNOWN, BORNE, NOT_BORNE
from datumbook.equations.verdicts import OUT
from datumbook.job import Job
from datumbook.report import told
from datumbook.report.page import report_html
from datumbook.spec import read_spec, shipped_specs
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import instead, means_called
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from project import full_form
from whole_engine import bare, whole

OUTSIDE, ROOM = 4.5, 0.0005  # in
FREEZER, DRY_ICE, NITROGEN = -18.0, -78.5, -196.0  # degC


@cache
def lined(work_done: str = "full") -> Layout:
    """The engine with a fit so wide that every means is asked for."""
    text = full_form("brackwater_s1").replace('room = "0.002 in"', f'room = "{ROOM} in"')
    wide, found = re.subn(
        r'^fit = "4 1/2 in H7/s6"$',
        'interference = { from = "0.00005 in", to = "0.05 in", source = "wide" }',
        text,
        flags=re.MULTILINE,
    )
    assert found == 1
    return lay_out(read_spec(wide, "lined.toml"), Job("lined", work=work_done))


@cache
def as_shipped() -> Layout:
    return lay_out(read_spec(full_form("brackwater_s1"), "brackwater_s1.toml"), Job("shipped"))


def shrinks(reached: float, shop: float = 20.0) -> float:
    """How much the liner has shrunk (in) in its hole, a tenth of the way back from what box or
    vessel reached; the mean of its expansion runs between its two figures.
    """
    down = 0.9 * (shop - reached)
    cold = down / (shop - NITROGEN)
    return OUTSIDE * (10.8e-6 * (1 - cold) + 8.5e-6 * cold) * down


def tight_in(interference: float) -> dict[str, float | str]:
    return {
        "bore_plan.1.liner": "yes",
        "bore_plan.1.typed_bore": 4.25,
        "liner.1.liner_bore": 4.25,
    } | {
        f"liner_hole.1.{depth}.{name}": size
        for depth in ("top", "middle", "bottom")
        for name, size in (
            ("outside_diameter", OUTSIDE),
            ("hole_across", OUTSIDE - interference),
            ("hole_along", OUTSIDE - interference),
        )
    }


EDGE = 0.00002  # in: on either side of where a means ends
CASES = [
    ("freezer", 0.0001),
    ("freezer", shrinks(FREEZER) - ROOM - EDGE),
    ("dry ice", shrinks(FREEZER) - ROOM + EDGE),
    ("dry ice", shrinks(DRY_ICE) - ROOM - EDGE),
    ("nitrogen", shrinks(DRY_ICE) - ROOM + EDGE),
    ("nitrogen", shrinks(NITROGEN) - ROOM - EDGE),
    (NO_COLD, shrinks(NITROGEN) - ROOM + EDGE),
    (NO_COLD, 0.030),
]


@pytest.mark.parametrize(("by", "interference"), CASES)
def test_sheet_and_card_name_the_means(by: str, interference: float) -> None:
    values = values_of(lined(), tight_in(interference))
    assert values["liner_heat.1.chilled_by"] == values["card_liners.chill_1_by"] == by
    cold = values["liner_heat.1.chill_to"]
    assert values["card_liners.chill_1"] == cold
    if by == NO_COLD:
        assert cold is None
    else:
        assert isinstance(cold, float)
        assert shrinks(cold) == pytest.approx(interference + ROOM, rel=1e-6)


@pytest.mark.parametrize(("by", "interference"), CASES[::2])
def test_the_report_and_the_bench_name_it_too_with_what_to_mind(
    by: str, interference: float, tmp_path: Path
) -> None:
    write(lined(), tmp_path / "lined.xlsx", tight_in(interference))
    found = validate(tmp_path / "lined.xlsx")
    terminal, page = "\n".join(line for _, line in told(found)), report_html(found)
    typed = (
        f"liner_interference={interference:.7f} in",
        f"assembly_clearance={ROOM} in",
        f"outside_diameter={OUTSIDE} in",
    )
    if by == NO_COLD:
        assert f"chill the liner: {NO_COLD}, {instead('cold')}" in terminal
        assert NO_COLD in page
        with pytest.raises(BenchError, match="press it in"):
            work("chilling_temperature", typed)
        return
    means = means_called(by)
    assert means is not None
    bench = work("chilling_temperature", typed)
    degrees = f"{found.values['liner_heat.1.chill_to']:.0f} °C"
    assert f"chill the liner to {degrees}, by {by}" in terminal
    assert f"chill the liner to {degrees}, by {by}" in page
    assert f"by     {by}," in bench
    for said in (means.mind, *(line for one in at_station("liners") for line in one.lines)):
        assert said in terminal
        assert said.replace("'", "&#39;") in page
    assert means.mind in bench


def test_what_to_mind_stands_on_the_sheet_of_the_liners_and_on_the_card() -> None:
    texts = {name: [one.words for one in plan.texts] for name, plan in lined().plans.items()}
    for one in at_station("liners"):
        assert all(f"{one.words}: {line}" in texts["Bores"] for line in one.lines)
    assert any("licensed practice come first" in words for words in texts["Bores"])
    assert any(NO_COLD in words and instead("cold") in words for words in texts["Bores"])
    assert any(NO_HEAT in words and instead("hot") in words for words in texts["Bores"])
    card = [str(place.value) for key, place in lined().places.items() if key.startswith("card_l")]
    assert "local codes and licensed practice" in card
    assert instead("cold") not in card, "it would stand there where cold reaches, too"


def test_the_other_two_ways_share_the_room_out() -> None:
    values = values_of(lined(), tight_in(0.004))
    hot, both = (values[f"liner_heat.1.{name}"] for name in ("warm_to", "warm_to_in_dry_ice"))
    assert isinstance(hot, float)
    assert isinstance(both, float)
    assert both < hot
    assert values["liner_heat.1.interference_left"] == pytest.approx(0.004 - shrinks(DRY_ICE))
    assert values["liner_heat.1.heated_by"] == "oil bath"
    assert values_of(lined(), tight_in(0.012))["liner_heat.1.heated_by"] == NO_HEAT


# 4 1/2 in H7/s6 by ISO 286-1, 80 to 120 mm: H7 is 0 to 35 um, s6 71 (to 120) or 79 to 101 um over
# (100 to 120 mm): tight by 0.044 to 0.101 mm, 0.00173 to 0.00398 in.
@pytest.mark.parametrize(
    ("interference", "said"),
    [
        (0.0010, forbidden_fits.TOO_LOOSE),
        (0.0028, ""),
        (0.0049, forbidden_fits.TOO_TIGHT),
        (None, f"{forbidden_fits.FIT_NOT_YET}: OPEN, measure liner and hole"),
    ],
)
def test_a_liner_whose_fit_is_not_ok_is_not_to_be_fitted(
    interference: float | None, said: str, tmp_path: Path
) -> None:
    plan: dict[str, float | str] = {"bore_plan.1.liner": "yes", "bore_plan.1.typed_bore": 4.25}
    read = plan if interference is None else tight_in(interference)
    values = values_of(as_shipped(), read)
    assert values["card_liners.forbidden_1"] == said
    for way in ("chill_1", "warm_1", "both_1"):
        assert (values[f"card_liners.{way}"] is None) == bool(said)
        assert (values[f"card_liners.{way}_by"] == "") == bool(said)
    middle = OUTSIDE - (0.079 - 0.035 + 0.101) / 2 / 25.4
    if said == forbidden_fits.TOO_TIGHT:
        assert values["card_liners.bore_1"] == pytest.approx(middle, abs=1e-6)
    else:
        assert values["card_liners.bore_1"] is None
    if interference is not None:
        write(as_shipped(), tmp_path / "shipped.xlsx", read)
        terminal = "\n".join(line for _, line in told(validate(tmp_path / "shipped.xlsx")))
        assert ("chill the liner to" in terminal) == (not said)
        assert said in terminal


def test_the_card_names_all_three_ways_and_what_to_do_where_none_is_left() -> None:
    near, far = (values_of(lined(), tight_in(tight)) for tight in (0.004, 0.030))
    said = [near[f"card_liners.{way}_1_by"] for way in ("chill", "warm", "both")]
    assert said == ["nitrogen", "oil bath", "hot water"]
    assert near["card_liners.no_way_1"] == ""
    said = [far[f"card_liners.{way}_1_by"] for way in ("chill", "warm", "both")]
    assert said == [NO_COLD, NO_HEAT, NO_HEAT]
    assert far["card_liners.no_way_1"] == forbidden_fits.NO_WAY_IN


def test_a_liner_not_measured_says_nothing() -> None:
    values = values_of(lined(), {"bore_plan.1.liner": "yes"})
    said = ("chilled_by", "heated_by", "heated_by_in_dry_ice", "chill_to")
    assert {values[f"liner_heat.1.{name}"] for name in said} <= {None, ""}


def test_the_air_of_the_room_is_worked_out_and_half_of_it_let_in() -> None:
    values = values_of(lined(), {})
    assert values["liner_air.nitrogen_that_thins_oxygen"] == pytest.approx(2.90, abs=0.005)
    assert values["liner_air.nitrogen_borne"] == 1.4, "half of 2.896, down"
    # 0.5 % less the 0.042 % that is there: 137.4 L of gas, 0.2512 kg
    assert values["liner_air.dry_ice_kilograms"] == pytest.approx(0.1374 / 0.547, abs=1e-9)
    assert values["liner_air.dry_ice_borne"] == 0.12
    assert values["liner_air.air_of_the_room"] == ""


LONG = shrinks(DRY_ICE) - ROOM + EDGE  # tight enough to want nitrogen


@pytest.mark.parametrize(
    ("interference", "length", "said"),
    [
        (LONG, None, BOILS_UNKNOWN),
        (LONG, 6.0, BORNE),  # a wall of an eighth: 6.0 in of it are 0.169 L, times 7.6
        (LONG, 7.0, NOT_BORNE),
        (0.001, 7.0, ""),  # by dry ice
    ],
)
def test_what_boils_off_is_held_against_what_the_room_bears(
    interference: float, length: float | None, said: str, tmp_path: Path
) -> None:
    read = tight_in(interference) | ({"liner.1.liner_length": length} if length else {})
    values = values_of(lined(), read)
    if said in (BORNE, NOT_BORNE):
        boiled = math.pi * 4.375 * 0.125 * (length or 0) * 0.016387064 * 7.6
        assert values["liner_air.nitrogen_all_told"] == pytest.approx(boiled, rel=1e-9), "Pappus"
    assert values["liner_air.air_of_the_room"] == values["card_liners.air"] == said
    write(lined(), tmp_path / "lined.xlsx", read)
    terminal = "\n".join(line for _, line in told(validate(tmp_path / "lined.xlsx")))
    assert (f"Nitrogen in this room: {said}" in terminal) == bool(said)


@pytest.mark.parametrize(
    ("interference", "length", "said"),
    [
        (0.002, None, BOILS_UNKNOWN),
        (0.002, 3.0, BORNE),
        (0.002, 4.0, NOT_BORNE),
        (LONG, 4.0, NOT_BORNE),  # by nitrogen, or in dry ice with the block warmed
        (0.0005 - ROOM, 4.0, ""),  # by a freezer
    ],
)
def test_dry_ice_that_boils_off_is_held_against_what_the_room_bears(
    interference: float, length: float | None, said: str, tmp_path: Path
) -> None:
    """Worked by hand: a wall of an eighth by its middle circle, 7.2 kg a litre, 0.46 kJ/(kg K)
    over 98.5 K, 571 kJ/kg, twice over; half of what brings 30 m3 to 5000 ppm is 0.12 kg.
    """
    read = tight_in(interference) | ({"liner.1.liner_length": length} if length else {})
    values = values_of(lined(), read)
    if said in (BORNE, NOT_BORNE):
        iron = math.pi * 4.375 * 0.125 * (length or 0) * 0.016387064 * 7.2
        boiled = 2 * iron * 0.46 * 98.5 / 571
        assert values["liner_air.dry_ice_all_told"] == pytest.approx(boiled, rel=2e-3)
        assert (boiled <= 0.12) == (said == BORNE)
    assert values["liner_air.air_with_dry_ice"] == values["card_liners.air_dry_ice"] == said
    # 3 % less what is there, 0.547 m3 a kilogram
    minutes = values["liner_air.dry_ice_for_minutes"]
    assert minutes == pytest.approx(30 * (0.03 - 0.00042) / 0.547, rel=1e-6)
    write(lined(), tmp_path / "lined.xlsx", read)
    terminal = "\n".join(line for _, line in told(validate(tmp_path / "lined.xlsx")))
    assert (f"Dry ice in this room: {said}" in terminal) == bool(said)


def test_a_cold_shop_leaves_less_way_to_go_down() -> None:
    read = tight_in(0.002)
    usual, cold = (
        values_of(lined(), read | ({"liner_heat_figures.shop_read": shop} if shop else {}))
        for shop in (None, 5.0)
    )
    assert usual["liner_heat_figures.temperature"] == 20.0
    reached = cold["liner_heat.1.chill_to"]
    assert isinstance(reached, float)
    assert shrinks(reached, 5.0) == pytest.approx(0.002 + ROOM, rel=1e-6)
    assert reached < float(str(usual["liner_heat.1.chill_to"])) - 10
    assert cold["liner_heat_figures.in_dry_ice"] == pytest.approx(5 - 0.9 * 83.5)
    assert "liner_heat_figures.shop_read" not in {place.key for place in lined().wanted()}


def test_a_loose_liner_needs_no_cold_and_is_out_of_its_fit() -> None:
    values = values_of(lined(), tight_in(-0.001))
    assert values["liner_heat.1.chilled_by"] == values["liner_heat.1.heated_by"] == DROPS_IN
    assert values["liner_heat.1.chill_to"] == values["liner_heat.1.warm_to"] == 20.0
    assert values["liner.1.least_interference.verdict"] == OUT


def test_a_job_without_liners_has_none_of_it() -> None:
    for layout in (lined("recondition"), bare()):
        assert not [key for key in layout.places if "liner_heat" in key or "card_liners" in key]
    assert [key for key in whole().places if key.startswith("liner_heat.4")]


@pytest.mark.parametrize("engine", mostly_long(shipped_specs(), 2))
def test_cautions_of_cleaning_and_tests_stand_where_the_work_is(engine: str) -> None:
    layout = lay_out(read_spec(full_form(engine), engine), Job("any"))
    texts = {name: " ".join(one.words for one in plan.texts) for name, plan in layout.plans.items()}
    assert "slowly into cold water" in texts["Job"]
    assert "hazardous waste" in texts["Job"]
    tested = texts["Proofs"] if layout.has("proofs") else texts["Job"]
    assert "bleed before unbolting" in tested
    assert "preheat" in tested or "600 °C" in tested
