"""Parts and fits on the sheet: whose limits hold, what stands in until the block is finished, who
shares a crankpin.

The sizes are worked by hand from geometry; the rules of so much to the inch have no source and are
held to their own row.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.cells.handles import DeclarationError
from datumbook.cells.tables import Table
from datumbook.equations.verdicts import OK, OPEN, OUT
from datumbook.job import Job
from datumbook.spec import SpecFaults, read_spec
from datumbook.standards.fit_rules import fit_rule
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from long_runs import mostly_long
from project import full_form
from whole_engine import bare

QP4 = full_form("orrindale_qp4")
V8 = full_form("hollowmere_v8")


@cache
def laid_out(text: str) -> Layout:
    return lay_out(read_spec(text, "changed.toml"), Job("parts"))


def without(layout: Layout, *names: str) -> Layout:
    parts = layout.spec.parts
    assert parts is not None
    return lay_out(
        layout.spec.model_copy(update={"parts": parts.model_copy(update=dict.fromkeys(names))}),
        Job("fewer"),
    )


def note(layout: Layout, sheet: str, key: str) -> str:
    return next(
        part.note
        for part in layout.plans[sheet].sheet.parts
        if isinstance(part, Table) and part.key == key
    )


def values(layout: Layout, **changed: Any) -> dict[str, Any]:
    typed = dict(clean_readings(layout)) | {
        key.replace("__", "."): value for key, value in changed.items()
    }
    return dict(values_of(layout, typed))


# whose limit


def test_the_spec_s_own_limit_wins_and_leaves_no_rule_beside_it() -> None:
    layout = shipped_layout()
    assert layout.place("bore_fits.piston_clearance.from").value == 0.035
    assert "bore_fits.1.piston_clearance_least" not in layout.places
    assert "No limit of the maker's" not in note(layout, "Fits", "bore_fits")


def test_without_a_limit_the_rule_is_worked_out_from_the_bore_and_says_that_it_has_no_source() -> (
    None
):
    line = (
        'clearance = { from = "0.035 mm", to = "0.060 mm", source = "Orrindale workshop sheet '
        '6, invented" }\nweight'
    )
    layout = laid_out(QP4.replace(line, "weight"))
    found, rule = values(layout), fit_rule("piston, cast")
    for end, figure in (("least", rule.least), ("most", rule.most)):
        assert found[f"bore_fits.2.piston_clearance_{end}"] == pytest.approx(82.000 * figure.to(""))
    assert found["bore_fits.2.piston_clearance.verdict"] == OK
    assert "common practice, no source" in note(layout, "Fits", "bore_fits")
    assert values(layout, pistons__2__piston=81.960)["bore_fits.2.piston_clearance.verdict"] == OUT


def test_a_ring_gap_is_held_to_so_much_to_the_inch_of_its_own_bore() -> None:
    layout = shipped_layout()
    found = values(layout, ring_gaps__3__top_gap=0.28)
    assert found["ring_gaps.3.top_gap_least"] == pytest.approx(0.0035 * 82.000)
    assert found["ring_gaps.3.top_gap.verdict"] == OUT
    assert "no source" in note(layout, "Fits", "ring_gaps")


# what stands in


def finished(layout: Layout) -> dict[str, None]:
    return {place.key: None for place in layout.readings() if place.key.startswith("finished_")}


def test_until_the_bore_is_finished_the_planned_size_is_shown_and_nothing_is_judged() -> None:
    layout = shipped_layout()
    found = values_of(layout, dict(clean_readings(layout)) | finished(layout))
    planned = found["bore_plan.1.finish_bore"]
    assert isinstance(planned, float)
    assert found["bore_fits.1.bore"] == planned
    assert found["bore_fits.1.piston_clearance"] == pytest.approx(planned - 81.955)
    assert found["bore_fits.1.piston_clearance.verdict"] == OPEN
    assert values(layout)["bore_fits.1.bore"] == 82.000


def test_a_piston_is_held_to_its_bore_at_the_tightest_place() -> None:
    found = values(shipped_layout(), finished_bores__1__middle__axial=81.993)
    assert found["bore_fits.1.piston_clearance"] == pytest.approx(0.038)


# the stack


def test_each_piston_and_rod_stands_under_its_own_place_of_the_deck() -> None:
    """A deck 0.004 higher at the rear; cylinder 4 at 338 of 394 mm; rod 0.001 longer, piston 0.002
    shorter.
    """
    layout = shipped_layout()
    high = {f"finished_corners.rear_{side}.deck": 10.699 for side in ("left", "right")}
    own = {"rods.4.rod_length": 7.009, "pistons.4.compression_height": 1.808}
    clean = dict(clean_readings(layout)) | {
        f"finished_corners.front_{side}.deck": 10.695 for side in ("left", "right")
    }
    found = values_of(layout, clean | high | own)
    deck = 10.695 + 0.004 * 338 / 394
    middle = deck - (3.740 / 2 + 7.009 + 1.808)
    assert found["crowns.4.over_middle"] == pytest.approx(middle)
    least = found["crowns.4.deck_clearance"]
    assert isinstance(least, float)
    assert least == pytest.approx(middle - 82.0 / 2 * 0.004 / 394, abs=1e-6), "half a bore down"
    assert found["crowns.4.squish"] == pytest.approx(least + 0.035)


def test_a_proud_piston_makes_the_volume_above_it_less_than_nothing_and_the_ratio_higher() -> None:
    level, proud = (
        values(shipped_layout(), pistons__2__compression_height=size) for size in (1.815, 1.830)
    )
    assert level["compression.2.deck_volume"] == pytest.approx(0, abs=1e-9)
    assert proud["compression.2.deck_volume"] < 0
    assert proud["compression.2.compression_ratio"] > level["compression.2.compression_ratio"]
    assert proud["proud.largest_protrusion"] == pytest.approx(0.015)
    assert proud["proud.gasket_for_protrusion"] == pytest.approx(0.045)


def test_a_spread_of_ratios_beyond_the_spec_s_figure_is_out() -> None:
    found = values(shipped_layout(), pistons__2__compression_height=1.780)
    ratios = [found[f"compression.{number}.compression_ratio"] for number in (1, 2, 3, 4)]
    assert found["compression_alike.all.compression_spread"] == pytest.approx(
        max(ratios) - min(ratios)
    )
    assert found["compression_alike.all.alike"] == OUT


# crank


def test_rods_that_share_a_crankpin_are_held_to_the_same_journal() -> None:
    layout = laid_out(V8)
    assert [key for key in layout.places if key.startswith("crankpin.5.")] == []
    found = values(layout, crankpins__2__front__vertical=1.9996)
    assert found["big_end_clearances.2.journal"] == found["big_end_clearances.6.journal"] == 1.9996


def test_shells_in_place_are_read_as_one_hole() -> None:
    layout = laid_out(QP4.replace('shell = "1.930 mm"\n', ""))
    found = values(layout, main_shells__1__in_shells=57.180)
    assert found["main_clearances.1.clearance"] == pytest.approx(57.180 - 57.130)
    assert "main_shells.1.shell_thickness" not in layout.places


# liners


LOOSE = {"hole_across": 4.5014, "hole_along": 4.5014, "outside_diameter": 4.5030}


def at_every_depth(sizes: dict[str, float]) -> dict[str, float]:
    return {
        f"liner_hole__1__{depth}__{name}": size
        for depth in ("top", "middle", "bottom")
        for name, size in sizes.items()
    }


def liners_of(fit: str) -> Layout:
    text = full_form("brackwater_s1")
    return laid_out(text.replace("4 1/2 in H7/s6", fit))


def test_a_liner_is_held_to_the_limits_of_its_code() -> None:
    layout = liners_of(
        "114.3 mm H7/s6"
    )  # over 100 up to 120 mm: H7 0 to 35, s6 79 to 101 micrometres
    assert layout.place("liner_limits.liner_interference_least").value == pytest.approx(
        0.044 / 25.4
    )
    assert layout.place("liner_limits.liner_interference_most").value == pytest.approx(0.101 / 25.4)
    loose = values(layout, bore_plan__1__liner="yes", **at_every_depth(LOOSE))
    assert loose["liner.1.least_interference.verdict"] == OUT


@pytest.mark.parametrize(("fit", "warned"), [("4 1/2 in H7/s6", False), ("4 1/2 in H7/u6", True)])
def test_a_fit_too_tight_for_iron_is_warned_of_on_the_sheet_and_the_stress_is_named(
    fit: str, warned: bool
) -> None:
    layout = liners_of(fit)
    told = " ".join(text.words for text in layout.plans["Bores"].texts)
    assert ("MIND" in told) is warned
    assert "plain hoop stress" in told


def test_the_pressure_on_the_sheet_is_that_of_the_formula_for_one_material() -> None:
    sizes = {"hole_across": 4.5006, "hole_along": 4.5008, "outside_diameter": 4.5034}
    read = at_every_depth(sizes) | {"liner__1__liner_bore": 4.235}
    found = values(liners_of("4 1/2 in H7/s6"), **read)
    # Shigley eq. 3-57, with diameters for radii: of one material Poisson's ratio drops out
    pull, outside, ring, bore = (4.5034 - 4.5006, 4.5034, 4.5006 + 0.600, 4.235)
    shape = (ring**2 - outside**2) * (outside**2 - bore**2) / (ring**2 - bore**2)
    assert found["liner_pressure.1.contact_pressure"] == pytest.approx(
        100_000.0 * pull / (2 * outside**3) * shape, rel=1e-9
    )


# what is left out


@pytest.mark.parametrize(
    "name",
    mostly_long(
        [
            "pistons",
            "gudgeon_pins",
            "rings",
            "rods",
            "main_journals",
            "crankpins",
            "thrust",
            "gasket",
        ],
        3,
    ),
)
def test_any_part_may_be_left_out(name: str) -> None:
    layout = (
        without(shipped_layout(), name)
        if name != "gasket"
        else laid_out(QP4.replace("gasket = true\n", ""))
    )
    found = values(layout)
    assert {check.key for check in layout.checks if found[check.verdict] not in (OK, "")} == {
        "threads.front_cover.hole"
    }


def test_an_engine_without_parts_has_no_sheet_of_them() -> None:
    layout = bare()
    assert not {"Parts", "Fits", "Liners"} & set(layout.plans)
    with pytest.raises(DeclarationError):
        layout.place("instruments.parts.uncertainty")


def test_the_customer_s_page_shows_the_numbers_of_both_states_and_the_names() -> None:
    found = values(shipped_layout(), bores__3__top__thrust=82.178)
    assert (found["customer.bore.before"], found["customer.bore.after"]) == (82.178, 82.000)
    assert found["customer.deck.before"] == pytest.approx(10.695)
    assert (found["handed_over.measured_by"], found["handed_over.released_by"]) == (
        "A. N.",
        "B. M.",
    )
    assert shipped_layout().plans["Customer"].sheet.one_page


def test_a_fit_that_cannot_be_read_is_refused_with_the_spec() -> None:
    with pytest.raises(SpecFaults, match="the fit cannot be read"):
        liners_of("4 1/2 in s6")
