"""What chills and what warms, and the cautions beside the work: whole rows with their sources, in
the words that equations and stations have.

Sources: carbon dioxide -109 degF and nitrogen -320 degF, as pages on cold print them.
"""

from __future__ import annotations

import pytest

from datumbook.equations import heat_and_cold as equations
from datumbook.numbers.quantities import read_quantity
from datumbook.standards import table
from datumbook.standards.cautions import Caution, at_station, cautions, on_route
from datumbook.standards.heat_and_cold import (
    farthest,
    gas_figure,
    instead,
    means,
    means_called,
    usual,
)
from datumbook.standards.order import operations
from datumbook.standards.works import stations

COLD = [equations.FREEZER, equations.DRY_ICE, equations.NITROGEN]
HOT = [equations.HOT_WATER, equations.OIL_BATH, equations.OVEN]


def test_the_means_are_those_the_equations_name_the_mildest_first() -> None:
    assert [one.words for one in means("cold")] == COLD
    assert [one.words for one in means("hot")] == HOT
    cold = [one.reaches.to("degC") for one in means("cold")]
    hot = [one.reaches.to("degC") for one in means("hot")]
    assert cold == sorted(cold, reverse=True)
    assert hot == sorted(hot)
    assert farthest("cold").to("degC") > -273.15


@pytest.mark.parametrize("words", [*COLD, *HOT])
def test_every_means_has_its_source_and_what_to_mind(words: str) -> None:
    found = means_called(words)
    assert found is not None
    assert found.source
    assert found.mind.endswith(".")


@pytest.mark.parametrize(("words", "fahrenheit"), [("dry ice", -109), ("nitrogen", -320)])
def test_the_cold_is_that_printed_in_the_other_scale(words: str, fahrenheit: float) -> None:
    found = means_called(words)
    assert found is not None
    assert found.reaches.to("degF") == pytest.approx(fahrenheit, abs=1)


def test_what_no_shop_has_is_no_means_and_has_its_remedy() -> None:
    for way, words in (("cold", equations.NO_COLD), ("hot", equations.NO_HEAT)):
        assert means_called(words) is None
        assert "press it in" in instead(way)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", table("heat_and_cold")["gas"])
def test_every_figure_of_the_gas_has_its_source(name: str) -> None:
    assert gas_figure(name).source


def test_the_usual_figures_are_arguments_of_their_equations() -> None:
    for name, taken in table("heat_and_cold")["usual"].items():
        arguments = getattr(equations, name).__annotations__
        assert set(taken) <= set(arguments)
        assert all(read_quantity(text) for text in usual(name).values())
    assert usual("spindle_speed") == {}


@pytest.mark.parametrize("one", cautions(), ids=lambda one: str(one.key))
def test_a_caution_is_of_work_that_there_is_and_has_its_source(one: Caution) -> None:
    assert set(one.operations) <= set(operations())
    assert set(one.stations) <= {*stations(), "cleaning"}
    assert one.lines
    assert one.source


def test_a_caution_stands_once_at_the_station_or_else_on_the_route() -> None:
    for caution in cautions():
        for station in caution.stations:
            assert caution in at_station(station)
            assert caution not in on_route({station}, set(caution.operations))
        assert caution in on_route((), set(caution.operations))
        assert caution not in on_route((), ())
