"""Liners: both forms of the pressure agree, the parts' movements make up the interference, and the
handbook's factors.

Sources: Shigley, 9th ed., eqs. 3-56 and 3-57; Machinery's Handbook, 31st ed., p. 644. Cases:
tests/support/published/liners.toml
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import liners
from datumbook.equations.temperature import at_reference

walls = st.floats(min_value=1, max_value=20)
bores = st.floats(min_value=50, max_value=150)
pulls = st.floats(min_value=0.01, max_value=0.2)
moduli = st.floats(min_value=60e3, max_value=210e3)
poissons = st.floats(min_value=0.2, max_value=0.34)
expansions = st.floats(min_value=9e-6, max_value=25e-6)
rooms = st.floats(min_value=-5, max_value=40)


@given(bores, walls, walls, pulls, moduli, poissons)
def test_contact_pressure_of_equal_materials_is_contact_pressure_one_material(
    bore: float, wall: float, parent: float, pull: float, modulus: float, poisson: float
) -> None:
    outside = bore + 2 * wall
    ring = liners.parent_ring(outside, parent)
    factors = liners.parent_hoop_factor(ring, outside), liners.liner_hoop_factor(outside, bore)
    unequal = liners.contact_pressure(pull, outside, *factors, modulus, poisson, modulus, poisson)
    assert unequal == pytest.approx(
        liners.contact_pressure_one_material(pull, outside, ring, bore, modulus), rel=1e-9
    )


@given(bores, walls, walls, pulls, moduli, moduli, poissons, poissons)
def test_liner_shrinkage_and_parent_growth_make_up_the_whole_interference(
    bore: float,
    wall: float,
    parent: float,
    pull: float,
    one: float,
    other: float,
    nu: float,
    liner_nu: float,
) -> None:
    outside = bore + 2 * wall
    parent_factor = liners.parent_hoop_factor(liners.parent_ring(outside, parent), outside)
    liner_factor = liners.liner_hoop_factor(outside, bore)
    pressure = liners.contact_pressure(
        pull, outside, parent_factor, liner_factor, one, nu, other, liner_nu
    )
    growth = liners.parent_growth(pressure, outside, parent_factor, one, nu)
    shrinkage = liners.liner_shrinkage(pressure, outside, liner_factor, other, liner_nu)
    assert growth + shrinkage == pytest.approx(pull, rel=1e-9)
    assert growth > 0 < shrinkage


@given(bores, walls, pulls, moduli)
def test_bore_closing_is_the_hoop_strain_and_bore_after_pressing_lacks_it(
    bore: float, wall: float, pressure: float, modulus: float
) -> None:
    # geometry and Hooke: at the free inner face the strain is the hoop stress over the modulus
    factor = liners.liner_hoop_factor(bore + 2 * wall, bore)
    closing = liners.bore_closing(pressure, factor, bore, modulus)
    assert closing == pytest.approx(-liners.liner_hoop_stress(pressure, factor) / modulus * bore)
    assert liners.bore_after_pressing(bore, closing) == pytest.approx(bore - closing)


@given(bores, st.floats(min_value=0.5, max_value=2), pulls)
def test_liner_hoop_stress_of_a_thin_liner_is_the_boiler_formula(
    bore: float, wall: float, pressure: float
) -> None:
    # thin ring, mean diameter: pressure x diameter / (2 x wall); Lamé's comes to it as the wall
    # goes
    outside = bore + 2 * wall
    exact = -liners.liner_hoop_stress(pressure, liners.liner_hoop_factor(outside, bore))
    assert exact == pytest.approx(pressure * outside / (2 * wall), rel=2 * wall / bore)


def test_the_liner_example_from_end_to_end() -> None:
    # worked by hand from Shigley's eq. 3-56: 80/86 in a block of radius 52, both 110 GPa, 0.26;
    # 0.075 on the diameter
    parent = liners.parent_hoop_factor(liners.parent_ring(86.0, 9.0), 86.0)
    liner = liners.liner_hoop_factor(86.0, 80.0)
    pressure = liners.contact_pressure(0.075, 86.0, parent, liner, 110e3, 0.26, 110e3, 0.26)
    assert pressure == pytest.approx(5.0025, abs=5e-5)
    assert liners.parent_hoop_stress(pressure, parent) == pytest.approx(26.64, abs=0.005)
    assert liners.liner_hoop_stress(pressure, liner) == pytest.approx(-74.29, abs=0.005)
    assert liners.bore_closing(pressure, liner, 80.0, 110e3) / 2 == pytest.approx(0.0270, abs=5e-5)


@pytest.mark.parametrize(
    ("ratio", "factor"), [(1.5, 0.227), (2.0, 0.333), (3.0, 0.421), (4.0, 0.455)]
)
def test_parent_strain_stress_is_what_the_handbook_tables_for_a_steel_hub(
    ratio: float, factor: float
) -> None:
    # Machinery's Handbook p. 644: allowance to the inch = T (1 + C) / 30e6, solid shaft; T is hoop
    # + nu x pressure
    assert factor_of_a_hub(ratio, modulus=30e6, poisson=1 / 3) - 1 == pytest.approx(
        factor, abs=5e-4
    )


@pytest.mark.parametrize(
    ("ratio", "factor"), [(1.5, 0.234), (2.0, 0.348), (3.0, 0.444), (4.0, 0.482)]
)
def test_parent_strain_stress_is_what_the_handbook_tables_for_a_cast_iron_hub(
    ratio: float, factor: float
) -> None:
    # the same table; the form T (2 + C) / 30e6 is from memory, the iron 15e6 psi and 1/4, the shaft
    # of steel
    assert factor_of_a_hub(ratio, modulus=15e6, poisson=1 / 4) - 2 == pytest.approx(
        factor, abs=5e-4
    )


def factor_of_a_hub(ratio: float, modulus: float, poisson: float) -> float:
    """Allowance of 0.001 to the inch x 30e6 / T, for a hub of so many diameters on a solid steel
    shaft.
    """
    hub = liners.parent_hoop_factor(ratio, 1.0)
    pressure = liners.contact_pressure(
        0.001, 1.0, hub, liners.liner_hoop_factor(1.0, 0.0), modulus, poisson, 30e6, 1 / 3
    )
    return 0.001 * 30e6 / liners.parent_strain_stress(pressure, hub, poisson)


def test_the_plain_hoop_stress_of_a_handbook_hub_is_the_smaller_of_the_two_figures() -> None:
    hub = liners.parent_hoop_factor(375.0, 250.0)
    assert liners.parent_hoop_stress(57.95, hub) == pytest.approx(150.7, abs=0.05)
    assert liners.parent_strain_stress(57.95, hub, 1 / 3) == pytest.approx(170, abs=0.05)


def test_the_handbooks_metric_allowance_is_to_the_inch_not_to_the_millimetre() -> None:
    # p. 644 prints 0.026 "mm per mm" for 170 MPa; 25.4 times the strain is millimetres to the inch
    # of diameter
    hub = liners.parent_hoop_factor(375.0, 250.0)
    pressure = liners.contact_pressure(
        0.001008 * 250, 250.0, hub, 1.0, 206843.0, 1 / 3, 206843.0, 1 / 3
    )
    assert liners.parent_strain_stress(pressure, hub, 1 / 3) == pytest.approx(
        170, abs=0.15
    )  # 0.001008 has four figures
    to_the_inch = 0.001008 * 25.4
    assert to_the_inch == pytest.approx(0.0256, abs=5e-5)


@given(bores, pulls)
def test_hole_for_liner_leaves_the_interference_wanted(outside: float, wanted: float) -> None:
    assert outside - liners.hole_for_liner(outside, wanted) == pytest.approx(wanted, abs=1e-9)


@given(bores, walls, walls)
def test_parent_wall_loses_half_of_what_the_diameter_gains(
    bore: float, wall: float, more: float
) -> None:
    assert wall - liners.parent_wall(wall, bore, bore + more) == pytest.approx(more / 2)


@given(bores, walls)
def test_parent_ring_is_a_wall_on_either_side(hole: float, wall: float) -> None:
    assert (liners.parent_ring(hole, wall) - hole) / 2 == pytest.approx(wall)


@pytest.mark.parametrize(
    ("pitch", "front", "rear", "left"),
    [(92.0, 86.0, 86.0, 6.0), (86.0, 86.0, 86.0, 0.0), (86.0, 86.0, 87.0, -0.5)],
)
def test_liner_land_is_nothing_where_liners_touch(
    pitch: float, front: float, rear: float, left: float
) -> None:
    assert liners.liner_land(pitch, front, rear) == left


@given(bores, pulls, pulls, expansions, rooms)
def test_heating_temperature_opens_the_hole_by_interference_and_clearance(
    hole: float, pull: float, room: float, expansion: float, shop: float
) -> None:
    hot = liners.heating_temperature(pull, room, hole, expansion, shop)
    grown = at_reference(
        hole, expansion, shop, hot
    )  # the hole carried from the shop's temperature to the hot one
    assert grown == pytest.approx(hole + pull + room, abs=1e-9)


@given(bores, pulls, pulls, expansions, rooms)
def test_chilling_temperature_shrinks_the_liner_by_interference_and_clearance(
    outside: float, pull: float, room: float, expansion: float, shop: float
) -> None:
    cold = liners.chilling_temperature(pull, room, outside, expansion, shop)
    assert at_reference(outside, expansion, shop, cold) == pytest.approx(
        outside - pull - room, abs=1e-9
    )


def test_ledge_spread_and_ledge_cup() -> None:
    assert liners.ledge_spread(8.012, 8.020, 8.015, 8.010) == pytest.approx(0.010)
    assert liners.ledge_spread(8.012, 8.012) == 0
    assert liners.ledge_cup(depth_at_edge=8.010, depth_near_wall=8.012) == pytest.approx(-0.002)


def test_stand_out_spread_is_between_the_proudest_and_the_least_proud() -> None:
    assert liners.stand_out_spread(0.090, 0.105, 0.100, -0.005) == pytest.approx(0.110)


def test_suggested_bore_of_a_new_liner_is_the_standard_size() -> None:
    assert liners.suggested_bore("yes", 82.0, 82.5) == 82.0
    assert liners.suggested_bore("yes", 82.0, math.nan) == 82.0
    assert liners.suggested_bore("no", 82.0, 82.5) == liners.suggested_bore("", 82.0, 82.5) == 82.5
    assert liners.suggested_bore("", 82.0, math.nan) is None


def test_bore_in_block_is_the_hole_of_a_liner_or_the_finish_bore() -> None:
    assert liners.bore_in_block("yes", hole=86.01, finish_bore=math.nan) == 86.01
    assert liners.bore_in_block("", hole=math.nan, finish_bore=82.5) == 82.5
    assert liners.bore_in_block("yes", hole=math.nan, finish_bore=82.5) is None
    assert liners.bore_in_block("no", hole=86.01, finish_bore=math.nan) is None


def test_wall_needed_is_less_behind_a_liner() -> None:
    assert [liners.wall_needed(said, parent_wall=2.3, wall=3.8) for said in ("yes", "no", "")] == [
        2.3,
        3.8,
        3.8,
    ]
