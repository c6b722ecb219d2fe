"""Heat and cold, and the air of a room: the straight mean against an integration of a published
table of expansion, the temperatures against the growth they are solved from, the means against
their bounds, the gas against the gas law.

Sources: NBS Monograph 29, steel 1020 after Altman, Rubin and Johnston, as a laboratory's notebook
of cryogenic data reprints it, which adds that cast iron was found alike within 3e-5 in the length;
EN 1561 and Holborn and Day from memory. Cases: tests/support/published/heat_and_cold.toml
"""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from datumbook.equations import heat_and_cold as heat
from datumbook.equations import room_air as air
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import farthest, gas_figure, lost_on_the_way, means
from datumbook.standards.materials import figure
from witnesses import witness

# K: (L293 - L) / L293 in 1e-5, dL/dT / L in 1e-5 per K
STEEL_1020 = {
    20: (202, 0.001),
    30: (201, 0.03),
    40: (201, 0.08),
    50: (200, 0.14),
    60: (198, 0.23),
    70: (195, 0.31),
    80: (192, 0.40),
    90: (187, 0.48),
    100: (182, 0.55),
    120: (170, 0.68),
    140: (155, 0.78),
    160: (138, 0.87),
    180: (120, 0.94),
    200: (101, 0.99),
    220: (80.7, 1.04),
    240: (59.6, 1.08),
    260: (37.7, 1.11),
    273: (22.9, 1.14),
    280: (15.1, 1.15),
    293: (0.0, 1.17),
    300: (-8.3, 1.19),
}
WARM, COLD = 293.0, 77.0
ALPHA = CubicSpline(list(STEEL_1020), [rate * 1e-5 for _, rate in STEEL_1020.values()])
SHOP, COLDEST, HOTTEST = 20.0, farthest("cold").to("degC"), farthest("hot").to("degC")

bores = st.floats(min_value=50, max_value=150)
pulls = st.floats(min_value=0.005, max_value=0.3)
expansions = st.floats(min_value=9e-6, max_value=25e-6)
shares = st.floats(min_value=0.7, max_value=1.0)
shops = st.floats(min_value=-5, max_value=40)


def of_steel(what: str) -> float:
    return figure("steel 1020", what).value.to("1/degC")


def shrunk(kelvin: float) -> float:
    """How much of its length the steel loses from 293 K, by integrating its published rate."""
    return float(quad(ALPHA, kelvin, WARM, limit=200)[0])


@pytest.mark.parametrize("kelvin", STEEL_1020)
def test_the_published_rates_integrate_to_the_published_lengths(kelvin: int) -> None:
    assert shrunk(kelvin) == pytest.approx(STEEL_1020[kelvin][0] * 1e-5, abs=0.7e-5)


def test_the_figures_of_the_steel_are_those_of_the_table() -> None:
    assert of_steel("cold expansion") == pytest.approx(shrunk(COLD) / (WARM - COLD), abs=0.05e-6)
    assert of_steel("expansion") == pytest.approx(STEEL_1020[293][1] * 1e-5, abs=0.05e-6)


@pytest.mark.parametrize("kelvin", range(78, 290, 4))
def test_thermal_growth_never_promises_more_than_the_integral_and_is_near_it(kelvin: int) -> None:
    promised = -heat.thermal_growth(
        1.0, of_steel("expansion"), of_steel("cold expansion"), SHOP, COLDEST, kelvin - WARM + SHOP
    )
    assert promised <= shrunk(kelvin) + 0.5e-5, "a rounding of the table"
    assert promised == pytest.approx(shrunk(kelvin), rel=0.045, abs=0.5e-5)


@given(bores, st.floats(min_value=1e-4, max_value=1.85e-3))
def test_chilling_temperature_lets_the_liner_in_by_the_integral(bore: float, share: float) -> None:
    cold = heat.chilling_temperature(
        share * bore, 0.0, bore, of_steel("expansion"), of_steel("cold expansion"), SHOP, COLDEST
    )
    kelvin = cold - SHOP + WARM
    assert shrunk(kelvin) >= share - 0.5e-5
    enough = float(brentq(lambda it: shrunk(it) - share, 30, WARM))
    assert 0 <= enough - kelvin + 0.6 <= 9, "chilled no more than some degrees too far"


def test_cast_iron_is_held_below_both_of_its_sources() -> None:
    found, cold = figure("grey iron", "cold expansion"), 216e-6
    assert found.value.to("1/degC") * 1e6 * cold <= shrunk(COLD) + 3e-5, "Beenakker and Swenson"
    hot = figure("grey iron", "hot expansion").value.to("1/degC")
    assert hot <= 11.7e-6, "EN 1561, 20 to 200 degC, from memory"
    assert hot == pytest.approx(9.794e-6 + 5.66e-9 * 220, abs=0.05e-6), "Holborn and Day"


@given(bores, pulls, pulls, expansions, shares, shops)
def test_chilling_temperature_shrinks_the_liner_by_interference_and_clearance(
    outside: float, pull: float, room: float, expansion: float, share: float, shop: float
) -> None:
    far = expansion * share
    cold = heat.chilling_temperature(pull, room, outside, expansion, far, shop, COLDEST)
    most = -heat.thermal_growth(outside, expansion, far, shop, COLDEST, COLDEST)
    assume(abs(most - pull - room) > 1e-5)
    if most < pull + room:
        assert cold is None
    else:
        grown = heat.thermal_growth(outside, expansion, far, shop, COLDEST, cold)
        assert grown == pytest.approx(-pull - room, rel=1e-6)
        assert COLDEST - 1e-3 <= cold <= shop


@given(bores, pulls, pulls, expansions, st.floats(min_value=1.0, max_value=1.3), shops)
def test_heating_temperature_opens_the_hole_by_interference_and_clearance(
    hole: float, pull: float, room: float, expansion: float, share: float, shop: float
) -> None:
    far = expansion * share
    hot = heat.heating_temperature(pull, room, hole, expansion, far, shop, HOTTEST)
    most = heat.thermal_growth(hole, expansion, far, shop, HOTTEST, HOTTEST)
    assume(abs(most - pull - room) > 1e-5)
    if most < pull + room:
        assert hot is None
    else:
        grown = heat.thermal_growth(hole, expansion, far, shop, HOTTEST, hot)
        assert grown == pytest.approx(pull + room, rel=1e-6)
        assert shop <= hot <= HOTTEST + 1e-3


@given(bores, pulls)
def test_interference_left_and_heating_share_the_work_with_the_cold(
    bore: float, pull: float
) -> None:
    shrink = heat.thermal_growth(bore, 10.8e-6, 8.5e-6, SHOP, COLDEST, -78.5)
    left = heat.interference_left(pull, shrink)
    assume(0 < left < 0.15)
    hot = heat.heating_temperature(left, 0.0, bore, 10.8e-6, 11.0e-6, SHOP, HOTTEST)
    assume(hot is not None)
    hole = bore - pull + heat.thermal_growth(bore, 10.8e-6, 11.0e-6, SHOP, HOTTEST, hot)
    assert hole == pytest.approx(bore + shrink, abs=1e-7), "the one just fits into the other"


@given(st.floats(min_value=-196, max_value=60))
def test_chilled_by_names_the_mildest_that_reaches_it(cold: float) -> None:
    said = heat.chilled_by(0.05, 86.0, cold, SHOP, -18.0, -78.5)
    reaching = [one.words for one in means("cold") if one.reaches.to("degC") <= cold]
    assert said == (heat.DROPS_IN if cold >= SHOP else reaching[0])


@given(st.floats(min_value=0, max_value=200))
def test_heated_by_names_the_mildest_that_reaches_it(hot: float) -> None:
    said = heat.heated_by(0.05, 86.0, hot, SHOP, 90.0, 150.0)
    reaching = [one.words for one in means("hot") if one.reaches.to("degC") >= hot]
    assert said == (heat.DROPS_IN if hot <= SHOP else reaching[0])


def test_what_is_not_measured_is_blank_and_what_is_out_of_reach_is_said() -> None:
    nan = math.nan
    assert heat.chilled_by(nan, 86.0, nan, SHOP, -18.0, -78.5) == ""
    assert heat.chilled_by(0.5, nan, nan, SHOP, -18.0, -78.5) == ""
    assert heat.chilled_by(0.5, 86.0, nan, SHOP, -18.0, -78.5) == heat.NO_COLD
    assert heat.heated_by(nan, 86.0, nan, SHOP, 90.0, 150.0) == ""
    assert heat.heated_by(0.5, 86.0, nan, SHOP, 90.0, 150.0) == heat.NO_HEAT


def test_dry_ice_kilograms_are_those_of_the_gas_law() -> None:
    gas_constant, carbon_dioxide, atmosphere = 8.314462618, 0.0440095, 101325.0  # SI, kg/mol, Pa
    a_kilogram = gas_constant * 293.15 / carbon_dioxide / atmosphere
    stated = gas_figure("gas_of_a_kilogram").value.to("m**3")
    assert stated == pytest.approx(a_kilogram, rel=1e-3)
    assert 10 * stated == pytest.approx(5.47, abs=0.005)
    moles = 30 * 0.005 * atmosphere / gas_constant / 293.15
    assert air.dry_ice_kilograms(30e9, 0.005, 0.0, stated * 1e9) == pytest.approx(
        moles * carbon_dioxide, rel=1e-3
    )


def test_nitrogen_that_thins_oxygen_is_what_a_room_let_to_breathe_out_shows() -> None:
    # oxygen left when so much gas has pushed out as much air, unmixed: counted molecule by molecule
    room, oxygen, least = 30e9, 0.209, 0.195
    gas = air.gas_that_thins_oxygen(room, oxygen, least)
    assert (room - gas) * oxygen / room == pytest.approx(least)
    assert air.nitrogen_that_thins_oxygen(room, oxygen, least, 694) * 694 == pytest.approx(gas)


COLDER = st.floats(min_value=-190, max_value=-20)


@given(COLDER, shops)
def test_what_leaves_the_box_colder_is_in_its_place_as_cold_as_wanted(
    wanted: float, shop: float
) -> None:
    lost = 0.10
    leaving = heat.temperature_on_leaving(wanted, shop, lost, COLDEST)
    if leaving is None:
        assert heat.temperature_in_place(COLDEST, shop, lost) > wanted
        return
    assert COLDEST - 1e-9 <= leaving < wanted
    assert heat.temperature_in_place(leaving, shop, lost) == pytest.approx(wanted, abs=1e-9)
    assert heat.temperature_on_leaving(shop + 15.0, shop, lost, COLDEST) == shop, "none is needed"


def test_what_is_lost_on_the_way_is_what_thin_iron_loses_in_half_a_minute() -> None:
    """Newton's law of cooling, a wall of 3 mm with both faces in still air: 12 W/(m2 K) of air and
    radiation on each, iron of 7200 kg/m3 and 460 J/(kg K). From memory.
    """
    a_second = 2 * 12 / (7200 * 460 * 0.003)
    lost = 1 - math.exp(-30 * a_second)
    assert 0.05 < lost <= lost_on_the_way().value.to("")


def test_nitrogen_to_iron_is_not_less_than_its_heat_boils_off() -> None:
    """Debye's integral, 470 K and 3 R a mole of 55.845 g, from 77 to 293 K; nitrogen boils with
    199 kJ/kg at 0.807 kg/L; grey iron weighs 7.2 kg/L. All from memory.
    """

    def energy(kelvin: float) -> float:
        debye = quad(lambda x: x**3 / math.expm1(x), 1e-9, 470 / kelvin)[0]
        return float(9 * 8.314 * kelvin * (kelvin / 470) ** 3 * debye)  # J/mol

    heat_given = (energy(293) - energy(77)) / 0.055845 / 1000  # kJ/kg
    litres = heat_given / (199 * 0.807)  # of nitrogen for a kilogram
    assert 0.75 * 0.53 < litres < 0.53, "the lattice alone; tables of cryogenics print 0.53"
    times = gas_figure("nitrogen_to_iron").value.to("")
    assert times == pytest.approx(2 * 7.2 * 0.53, abs=0.05)
    assert times > 2 * 7.2 * litres


@given(st.floats(min_value=0.0, max_value=50.0))
def test_what_a_room_bears_is_rounded_down(limit: float) -> None:
    litres = air.nitrogen_borne(limit * 1e6, 0.5) / 1e6
    kilograms = air.dry_ice_borne(limit, 0.5)
    assert 0.5 * limit - 0.1 - 1e-6 <= litres <= 0.5 * limit + 1e-8
    assert 0.5 * limit - 0.01 - 1e-6 <= kilograms <= 0.5 * limit + 1e-8


def test_the_caution_says_what_a_room_bears_of_both() -> None:
    figures = {one: gas_figure(one).value.to("") for one in ("oxygen", "least_oxygen", "borne")}
    litres = air.nitrogen_borne(
        air.nitrogen_that_thins_oxygen(30e9, figures["oxygen"], figures["least_oxygen"], 694), 0.5
    )
    kilograms = air.dry_ice_borne(
        air.dry_ice_kilograms(
            30e9,
            gas_figure("most_carbon_dioxide").value.to(""),
            gas_figure("carbon_dioxide").value.to(""),
            gas_figure("gas_of_a_kilogram").value.to("mm**3"),
        ),
        figures["borne"],
    )
    said = " ".join(line for one in at_station("liners") for line in one.lines)
    assert f"bears {litres / 1e6:.1f} L, or {kilograms:.2f} kg" in said


@witness(heat.temperature_of_the_shop, by="every case")
def test_temperature_of_the_shop_is_the_usual_one_until_it_is_read() -> None:
    assert heat.temperature_of_the_shop(math.nan, 20.0) == 20.0
    assert heat.temperature_of_the_shop(5.0, 20.0) == 5.0
    assert heat.temperature_of_the_shop(0.0, 20.0) == 0.0
