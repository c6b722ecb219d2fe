"""Nut factors and scatter of clamp: figures as printed, ranges, and where sources disagree."""

from __future__ import annotations

from fractions import Fraction

import pytest

from datumbook.standards.tightening import (
    clamp_scatter,
    disputed,
    friction,
    incomplete_end,
    scatters,
    surfaces,
)


@pytest.mark.parametrize(
    ("surface", "factor"),
    [("black", "0.30"), ("zinc", "0.20"), ("Lubricated", "0.18"), ("cadmium", "0.16")],
)
def test_nut_factors_are_those_of_shigley_table_8_15(surface: str, factor: str) -> None:
    assert friction(surface).nut_factor == Fraction(factor)
    assert "table 8-15" in friction(surface).source


@pytest.mark.parametrize(
    ("surface", "low", "high"),
    # suppliers' ranges; of dry steel with the black bolt of Shigley's table 8-15 at its upper end
    [
        ("dry", "0.18", "0.30"),
        ("oiled", "0.10", "0.26"),
        ("cadmium", "0.15", "0.19"),
        ("phosphate and oil", "0.15", "0.22"),
        ("zinc", "0.17", "0.35"),
    ],
)
def test_the_range_of_a_nut_factor_is_that_of_its_sources(
    surface: str, low: str, high: str
) -> None:
    assert (friction(surface).low, friction(surface).high) == (Fraction(low), Fraction(high))


def test_every_nut_factor_lies_in_its_range_and_a_wide_range_is_told() -> None:
    for one in surfaces():
        assert one.low <= one.nut_factor <= one.high
        assert one.source
        assert bool(one.conflict) == (one.high / one.low > Fraction(3, 2)), one.name


def test_dry_and_zinc_are_told_with_both_figures() -> None:
    assert "0.20" in friction("dry").conflict
    assert "0.30" in friction("dry").conflict
    assert "0.17 to 0.35" in friction("zinc").conflict


def test_an_unknown_surface_names_the_known_ones() -> None:
    with pytest.raises(LookupError, match="one of black, dry, oiled, lubricated, zinc, cadmium"):
        friction("painted")


@pytest.mark.parametrize(
    ("method", "surface", "percent"),
    # Machinery's Handbook: feel 35, torque 25, turn 15, washer 10, strain gauge 1; NSTS 08307:
    # torque dry 35, cadmium 30, lubricated 25, elongation 5; VDI 2230 (1986): up to 23 tried on the
    # joint, 43 power driver
    [
        ("feel", None, 35),
        ("torque", None, 25),
        ("torque", "dry", 35),
        ("torque", "zinc", 35),
        ("torque", "cadmium", 30),
        ("torque", "oiled", 25),
        ("torque tried on the joint", None, 23),
        ("power driver", "oiled", 43),
        ("Angle", "dry", 15),
        ("stretch", None, 5),
        ("indicating washer", None, 10),
        ("ultrasonic", None, 10),
        ("hydraulic", None, 23),
        ("strain gauge", None, 1),
    ],
)
def test_scatter_is_that_of_its_source(method: str, surface: str | None, percent: int) -> None:
    assert clamp_scatter(method, surface).share == Fraction(percent, 100)


def test_what_bolts_in_a_tension_tester_did_is_told_beside_the_tables() -> None:
    # two standard deviations over the mean: Shigley table 8-14 (ten lubricated bolts) and problem
    # 8-13 (twenty dry)
    lubricated, dry = 2 * 2.88 / 34.18, 2 * 4.91 / 34.3
    assert f"are {100 * lubricated:.0f} %" in clamp_scatter("torque", "oiled").conflict
    assert f"are {100 * dry:.0f} %" in clamp_scatter("torque", "dry").conflict
    assert clamp_scatter("torque", "oiled").share > Fraction(lubricated)
    assert clamp_scatter("torque", "dry").share > Fraction(dry)


def test_an_unknown_method_names_the_known_ones() -> None:
    with pytest.raises(LookupError, match="one of feel, torque, torque tried on the joint"):
        clamp_scatter("hammer")


def test_every_surface_strays_as_a_torque_of_the_table() -> None:
    known = {one.surface for one in scatters() if one.name == "torque"}
    assert {one.strays for one in surfaces()} == known - {"any"}
    assert {one.by for one in scatters()} == {"torque", "angle", "stretch", "aim"}


def test_the_end_of_a_bolt_is_two_pitches_from_memory() -> None:
    assert incomplete_end()[0] == 2
    assert "from memory" in incomplete_end()[1]


def test_what_is_disputed_is_told_by_the_name_of_the_figure() -> None:
    assert any(line.startswith("zinc: ") for line in disputed("nut_factor"))
    assert any(line.startswith("torque, dry: ") for line in disputed("scatter"))
    assert "1.15" in disputed("shear_strength")[0]
    assert disputed("pitch") == []
