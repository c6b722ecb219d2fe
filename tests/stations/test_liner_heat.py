"""A job with a dry liner: by what it is chilled is named alike on sheet, card, report and at the
bench, with what to mind; beyond nitrogen it is said what to do instead.

The engine is the shipped one that may get a liner, with less room wanted so that a freezer can do;
where each means ends is reckoned here from the figures of grey iron, not solved.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from datumbook.calculator import BenchError, work
from datumbook.equations.heat_and_cold import NO_COLD, NO_HEAT
from datumbook.job import Job
from datumbook.report import told
from datumbook.report.page import report_html
from datumbook.spec import read_spec, shipped_specs
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import instead, means_called
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from project import full_form
from whole_engine import bare, whole

OUTSIDE, ROOM = 4.5, 0.0005  # in
FREEZER, DRY_ICE, NITROGEN = -18.0, -78.5, -196.0  # degC


@cache
def lined(work_done: str = "full") -> Layout:
    text = full_form("brackwater_s1")
    return lay_out(
        read_spec(text.replace('room = "0.002 in"', f'room = "{ROOM} in"'), "lined.toml"),
        Job("lined", work=work_done),
    )


def shrinks(reached: float) -> float:
    """How much the liner shrinks (in), the mean of its expansion between its two figures."""
    cold = (20 - reached) / (20 - NITROGEN)
    return OUTSIDE * (10.8e-6 * (1 - cold) + 8.5e-6 * cold) * (20 - reached)


def tight_in(interference: float) -> dict[str, float | str]:
    return {
        "bore_plan.1.liner": "yes",
        "bore_plan.1.typed_bore": 4.25,
        "liner.1.outside_diameter": OUTSIDE,
        "liner.1.hole_across": OUTSIDE - interference,
        "liner.1.hole_along": OUTSIDE - interference,
        "liner_pressure.1.liner_bore": 4.23,
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
    values = reckon(lined(), tight_in(interference))
    assert values["liner_heat.1.chilled_by"] == values["card_liners.chill_1_by"] == by
    cold = values["liner_heat.1.chilling_temperature"]
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
    degrees = f"{found.values['liner_heat.1.chilling_temperature']:.0f} °C"
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
    assert {instead("cold"), "local codes and licensed practice"} <= set(card)


def test_the_other_two_ways_share_the_room_out() -> None:
    values = reckon(lined(), tight_in(0.004))
    hot, both = (
        values[f"liner_heat.1.{name}"]
        for name in ("heating_temperature", "heating_temperature_in_dry_ice")
    )
    assert isinstance(hot, float)
    assert isinstance(both, float)
    assert both < hot
    assert values["liner_heat.1.interference_left"] == pytest.approx(0.004 - shrinks(DRY_ICE))
    assert values["liner_heat.1.heated_by"] == "oil bath"
    assert reckon(lined(), tight_in(0.012))["liner_heat.1.heated_by"] == NO_HEAT


def test_a_liner_not_measured_says_nothing() -> None:
    values = reckon(lined(), {"bore_plan.1.liner": "yes"})
    said = ("chilled_by", "heated_by", "heated_by_in_dry_ice", "chilling_temperature")
    assert {values[f"liner_heat.1.{name}"] for name in said} <= {None, ""}


def test_the_air_of_the_room_is_worked_out() -> None:
    values = reckon(lined(), {})
    assert values["liner_heat_figures.nitrogen"] == pytest.approx(2.90, abs=0.005)
    assert values["liner_heat_figures.dry_ice"] == pytest.approx(0.274, abs=0.0005)


def test_a_job_without_liners_has_none_of_it() -> None:
    for layout in (lined("recondition"), bare()):
        assert not [key for key in layout.places if "liner_heat" in key or "card_liners" in key]
    assert [key for key in whole().places if key.startswith("liner_heat.4")]


@pytest.mark.parametrize("engine", shipped_specs())
def test_cautions_of_cleaning_and_tests_stand_where_the_work_is(engine: str) -> None:
    layout = lay_out(read_spec(full_form(engine), engine), Job("any"))
    texts = {name: " ".join(one.words for one in plan.texts) for name, plan in layout.plans.items()}
    assert "slowly into cold water" in texts["Job"]
    assert "hazardous waste" in texts["Job"]
    tested = texts["Proofs"] if layout.has("proofs") else texts["Job"]
    assert "bleed before unbolting" in tested
    assert "preheat" in tested or "600 °C" in tested
