"""Liner pressure: both forms of the pressure agree, the parts' movements make up the interference,
and the handbook's factors.

Sources: Shigley, 9th ed., eqs. 3-56 and 3-57; Machinery's Handbook, 31st ed., p. 644. Cases:
tests/support/published/liner_pressure.toml
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import liner_pressure as rings

walls = st.floats(min_value=1, max_value=20)
bores = st.floats(min_value=50, max_value=150)
pulls = st.floats(min_value=0.01, max_value=0.2)
moduli = st.floats(min_value=60e3, max_value=210e3)
poissons = st.floats(min_value=0.2, max_value=0.34)


@given(bores, walls, walls, pulls, moduli, poissons)
def test_contact_pressure_of_one_material_has_no_poisson(
    bore: float, wall: float, parent: float, pull: float, modulus: float, poisson: float
) -> None:
    # Shigley eq. 3-57, with diameters for radii
    outside = bore + 2 * wall
    ring = rings.parent_ring(outside, parent)
    shape = (ring**2 - outside**2) * (outside**2 - bore**2) / (ring**2 - bore**2)
    factors = (rings.parent_hoop_factor(ring, outside), rings.liner_hoop_factor(outside, bore))
    unequal = rings.contact_pressure(pull, outside, *factors, modulus, poisson, modulus, poisson)
    assert unequal == pytest.approx(modulus * pull * shape / (2 * outside**3), rel=1e-9)


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
    parent_factor = rings.parent_hoop_factor(rings.parent_ring(outside, parent), outside)
    liner_factor = rings.liner_hoop_factor(outside, bore)
    pressure = rings.contact_pressure(
        pull, outside, parent_factor, liner_factor, one, nu, other, liner_nu
    )
    growth = rings.parent_growth(pressure, outside, parent_factor, one, nu)
    shrinkage = rings.liner_shrinkage(pressure, outside, liner_factor, other, liner_nu)
    assert growth + shrinkage == pytest.approx(pull, rel=1e-9)
    assert growth > 0 < shrinkage


@given(bores, walls, pulls, moduli)
def test_bore_closing_is_the_hoop_strain(
    bore: float, wall: float, pressure: float, modulus: float
) -> None:
    # geometry and Hooke: at the free inner face the strain is the hoop stress over the modulus
    factor = rings.liner_hoop_factor(bore + 2 * wall, bore)
    closing = rings.bore_closing(pressure, factor, bore, modulus)
    assert closing == pytest.approx(-rings.liner_hoop_stress(pressure, factor) / modulus * bore)


@given(bores, st.floats(min_value=0.5, max_value=2), pulls)
def test_liner_hoop_stress_of_a_thin_liner_is_the_boiler_formula(
    bore: float, wall: float, pressure: float
) -> None:
    # thin ring, mean diameter: pressure x diameter / (2 x wall); Lamé's comes to it as the wall
    # goes
    outside = bore + 2 * wall
    exact = -rings.liner_hoop_stress(pressure, rings.liner_hoop_factor(outside, bore))
    assert exact == pytest.approx(pressure * outside / (2 * wall), rel=2 * wall / bore)


def test_the_liner_example_from_end_to_end() -> None:
    # worked by hand from Shigley's eq. 3-56: 80/86 in a block of radius 52, both 110 GPa, 0.26;
    # 0.075 on the diameter
    parent = rings.parent_hoop_factor(rings.parent_ring(86.0, 9.0), 86.0)
    liner = rings.liner_hoop_factor(86.0, 80.0)
    pressure = rings.contact_pressure(0.075, 86.0, parent, liner, 110e3, 0.26, 110e3, 0.26)
    assert pressure == pytest.approx(5.0025, abs=5e-5)
    assert rings.parent_hoop_stress(pressure, parent) == pytest.approx(26.64, abs=0.005)
    assert rings.liner_hoop_stress(pressure, liner) == pytest.approx(-74.29, abs=0.005)
    assert rings.bore_closing(pressure, liner, 80.0, 110e3) / 2 == pytest.approx(0.0270, abs=5e-5)


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
    hub = rings.parent_hoop_factor(ratio, 1.0)
    pressure = rings.contact_pressure(
        0.001, 1.0, hub, rings.liner_hoop_factor(1.0, 0.0), modulus, poisson, 30e6, 1 / 3
    )
    return 0.001 * 30e6 / rings.parent_strain_stress(pressure, hub, poisson)


def test_the_plain_hoop_stress_of_a_handbook_hub_is_the_smaller_of_the_two_figures() -> None:
    hub = rings.parent_hoop_factor(375.0, 250.0)
    assert rings.parent_hoop_stress(57.95, hub) == pytest.approx(150.7, abs=0.05)
    assert rings.parent_strain_stress(57.95, hub, 1 / 3) == pytest.approx(170, abs=0.05)


def test_the_handbooks_metric_allowance_is_to_the_inch_not_to_the_millimetre() -> None:
    # p. 644 prints 0.026 "mm per mm" for 170 MPa; 25.4 times the strain is millimetres to the inch
    # of diameter
    hub = rings.parent_hoop_factor(375.0, 250.0)
    pressure = rings.contact_pressure(
        0.001008 * 250, 250.0, hub, 1.0, 206843.0, 1 / 3, 206843.0, 1 / 3
    )
    assert rings.parent_strain_stress(pressure, hub, 1 / 3) == pytest.approx(
        170, abs=0.15
    )  # 0.001008 has four figures
    to_the_inch = 0.001008 * 25.4
    assert to_the_inch == pytest.approx(0.0256, abs=5e-5)


@given(bores, walls)
def test_parent_ring_is_a_wall_on_either_side(hole: float, wall: float) -> None:
    assert (rings.parent_ring(hole, wall) - hole) / 2 == pytest.approx(wall)
