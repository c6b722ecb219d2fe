"""Uncertainty carried along, held against derivatives taken by small steps and against sums worked
by hand.

Sources: JCGM 100:2008, 5.1.2 (law of propagation, independent readings); derivatives by central
differences; GTC.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cache
from types import SimpleNamespace
from typing import Any

import GTC
import pytest

from datumbook.cells.basis import Job
from datumbook.cells.columns import Reading, Result, Uncertainty
from datumbook.cells.tables import Form, Line, Row, Sheet
from datumbook.equations import bores, heights, hole_safety, volumes
from datumbook.formulas.functions import (
    at_most,
    largest,
    mean,
    smallest,
    square_root,
    taken_as,
    tangent,
    total,
    where,
)
from datumbook.formulas.kinds import Angle, Length, Ratio
from datumbook.numbers.units import factor
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.stations.received.instruments import Gauges
from datumbook.workbook import placing
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from readings_made import plausible

SPEC = shipped_specs()["orrindale_qp4"]
STEP = 1e-4


# --- a small layout of a few readings

READINGS = {
    "a": (82.0, "mm", "bores"),
    "b": (80.5, "mm", "bores"),
    "c": (40.25, "mm", "lands"),
    "d": (1.5, "in", "heights"),
    "e": (81.0, "mm", "bores"),
    "f": (81.5, "mm", "bores"),
}
STATED = {"bores": (0.003, "mm"), "lands": (0.02, "mm"), "heights": (0.0002, "in")}


def small(equations: Mapping[str, tuple[Callable[..., Any], str, Mapping[str, Any]]]) -> Layout:
    """Readings `of.a` … `of.d`, one result a given equation, and beside each its uncertainty,
    `of.<name>_uncertainty`.
    """
    stated = Reading(name="uncertainty", words="", unit=lambda row: STATED[row][1])
    gauges = Gauges(
        key="instruments", title="", rows=[Row(group, group) for group in STATED], columns=[stated]
    )
    stations = SimpleNamespace(instruments=SimpleNamespace(gauges=gauges))
    layout = Layout(load_spec(SPEC), Job(), stations)
    readings = [
        Reading(name=name, words="", unit=unit, group=group)
        for name, (_, unit, group) in READINGS.items()
    ]
    results = [
        column
        for name, (equation, unit, inputs) in equations.items()
        for column in (
            Result(name=name, words="", unit=unit, equation=equation, inputs=inputs),
            Uncertainty(name=f"{name}_uncertainty", words="", unit=unit, of=f"of.{name}"),
        )
    ]
    form = Form(key="of", title="", lines=[Line(column=column) for column in (*readings, *results)])
    placing.place(layout, Sheet(name="Job", title="", parts=[gauges, form]))
    return layout


VALUES = {f"of.{name}": value for name, (value, _, _) in READINGS.items()}
SMALL = VALUES | {f"instruments.{group}.uncertainty": value for group, (value, _) in STATED.items()}


def number(found: object) -> float:
    assert isinstance(found, float)
    return found


def by_small_steps(layout: Layout, key: str, readings: Mapping[str, object]) -> float:
    """The law of propagation with every derivative taken by a small step to both sides."""
    squares = 0.0
    for place in upstream(layout, key):
        assert isinstance(place.column, Reading)
        stated = layout.place(f"instruments.{place.column.group}.uncertainty")
        uncertainty = number(readings[stated.key]) * float(
            factor(stated.unit or "", place.unit or "")
        )
        above, below = (
            number(
                reckon_one(layout, key, {**readings, place.key: number(readings[place.key]) + step})
            )
            for step in (STEP, -STEP)
        )
        squares += ((above - below) / (2 * STEP) * uncertainty) ** 2
    return math.sqrt(squares)


def upstream(layout: Layout, key: str) -> list[Any]:
    """The readings with an instrument that a key is worked out from, once each."""
    place = layout.place(key)
    if isinstance(place.column, Reading):
        return [place] if place.column.group else []
    found: dict[str, Any] = {}
    for given in place.inputs.values():
        for one in given if isinstance(given, list) else [given]:
            found |= (
                {each.key: each for each in upstream(layout, one)} if isinstance(one, str) else {}
            )
    return list(found.values())


def reckon_one(layout: Layout, key: str, readings: Mapping[str, object]) -> object:
    """The value of one key alone."""
    from datumbook.workbook.evaluation import _Reckoning

    return _Reckoning(layout, readings, {}).value(key)


# --- equations of one line


def summed(*sizes: Length) -> Length:
    return total(*sizes)


def averaged(*sizes: Length) -> Length:
    return mean(*sizes)


def less(one: Length, two: Length) -> Length:
    return one - two


def shared(one: Length, two: Length) -> Length:
    return 3 * one - (one + two) / 2 - two


def product(one: Length, two: Length, three: Length) -> Length:
    return one * two / three


def quotient(one: Length, two: Length) -> Ratio:
    return one / (two - one)


def hypotenuse(one: Length, two: Length) -> Length:
    return square_root(one * one + two**2)


def root(one: Length, two: Length) -> Ratio:
    return (one / two) ** 0.5


def sloped(one: Length, two: Length) -> Length:
    return one * tangent(taken_as(two / one, Angle))


def greatest(one: Length, two: Length, three: Length) -> Length:
    return largest(2 * one, two * two / one, 3 * three)


def biggest(*sizes: Length) -> Length:
    return largest(*sizes)


def least(one: Length, two: Length) -> Length:
    return smallest(one, two)


def chosen(one: Length, two: Length) -> Length:
    return where(at_most(one, two), one + two, two - 3 * one)


def apart(one: Length, two: Length) -> Length:
    return abs(one - two) * 2


TWO = {"one": "of.a", "two": "of.b"}
CASES: dict[str, tuple[Callable[..., Any], str, Mapping[str, Any]]] = {
    "summed": (summed, "mm", {"sizes": ["of.a", "of.b", "of.c", "of.d"]}),
    "averaged": (averaged, "in", {"sizes": ["of.a", "of.b", "of.c", "of.d"]}),
    "less": (less, "mm", TWO),
    "less_mixed": (less, "in", {"one": "of.a", "two": "of.d"}),
    "shared": (shared, "mm", TWO),
    "product": (product, "mm", TWO | {"three": "of.d"}),
    "quotient": (quotient, "", {"one": "of.c", "two": "of.a"}),
    "hypotenuse": (hypotenuse, "in", {"one": "of.d", "two": "of.c"}),
    "root": (root, "", {"one": "of.d", "two": "of.c"}),
    "sloped": (sloped, "mm", {"one": "of.a", "two": "of.d"}),
    "greatest": (greatest, "mm", {"one": "of.a", "two": "of.b", "three": "of.c"}),
    "least": (least, "mm", {"one": "of.a", "two": "of.d"}),
    "chosen": (chosen, "mm", {"one": "of.a", "two": "of.b"}),
    "chosen_mixed": (chosen, "mm", {"one": "of.d", "two": "of.b"}),
    "apart": (apart, "mm", {"one": "of.b", "two": "of.a"}),
    "again": (shared, "mm", {"one": "of.less", "two": "of.apart"}),
}


@pytest.mark.parametrize("name", CASES)
def test_the_uncertainty_of_an_equation_is_that_of_small_steps(name: str) -> None:
    layout = small(CASES)
    found = reckon_one(layout, f"of.{name}_uncertainty", SMALL)
    assert found == pytest.approx(by_small_steps(layout, f"of.{name}", SMALL), rel=1e-6)
    assert number(found) > 0


@pytest.mark.parametrize(
    ("name", "uncertainty"),
    [
        ("less", 0.003 * math.sqrt(2)),
        ("summed", math.sqrt(2 * 0.003**2 + 0.02**2 + (0.0002 * 25.4) ** 2)),
        ("averaged", math.sqrt(2 * 0.003**2 + 0.02**2 + (0.0002 * 25.4) ** 2) / 4 / 25.4),
        ("less_mixed", math.sqrt((0.003 / 25.4) ** 2 + 0.0002**2)),
        ("shared", 0.003 * math.sqrt(2.5**2 + 1.5**2)),
    ],
)
def test_sums_follow_the_law_of_propagation_worked_by_hand(name: str, uncertainty: float) -> None:
    assert reckon_one(small(CASES), f"of.{name}_uncertainty", SMALL) == pytest.approx(
        uncertainty, rel=1e-12
    )


def test_what_two_values_share_cancels() -> None:
    layout = small(
        {
            "less": (less, "mm", {"one": "of.sum", "two": "of.a"}),
            "sum": (summed, "mm", {"sizes": ["of.a", "of.b"]}),
        }
    )
    assert reckon_one(layout, "of.less_uncertainty", SMALL) == pytest.approx(0.003, rel=1e-12)


def test_the_largest_of_two_groups_are_two_readings_and_of_one_group_the_same_reading() -> None:
    layout = small(
        {
            "one": (biggest, "mm", {"sizes": ["of.a", "of.b"]}),
            "again": (biggest, "mm", {"sizes": ["of.a", "of.b"]}),
            "other": (biggest, "mm", {"sizes": ["of.e", "of.f"]}),
            "same": (less, "mm", {"one": "of.one", "two": "of.again"}),
            "apart": (less, "mm", {"one": "of.one", "two": "of.other"}),
        }
    )
    assert reckon_one(layout, "of.same_uncertainty", SMALL) == 0.0
    assert reckon_one(layout, "of.apart_uncertainty", SMALL) == pytest.approx(0.003 * math.sqrt(2))


def test_an_instrument_without_statement_counts_as_zero_and_blank_readings_leave_theirs_blank() -> (
    None
):
    layout = small(CASES)
    assert reckon_one(layout, "of.less_uncertainty", VALUES) == 0.0
    without = {key: value for key, value in SMALL.items() if key != "of.a"}
    assert reckon_one(layout, "of.product_uncertainty", without) is None


# --- against a calculator of uncertainty by other authors

BORES = ("a", "b", "e", "f")
FOUR = {
    name: f"of.{key}"
    for name, key in zip(
        ("front_left", "front_right", "rear_left", "rear_right"), BORES, strict=True
    )
}
PLACES = dict(
    zip(
        ("along", "across", "other_along", "other_across"),
        (f"of.{key}" for key in BORES),
        strict=True,
    )
)
BY_GTC: dict[str, tuple[Callable[..., Any], str, Mapping[str, Any], Callable[..., Any]]] = {
    "mean_size": (
        bores.mean_size,
        "mm",
        {"diameters": [f"of.{key}" for key in BORES]},
        lambda of: (of["a"] + of["b"] + of["e"] + of["f"]) / 4,
    ),
    "twist": (
        heights.twist,
        "mm",
        FOUR,
        lambda of: ((of["a"] + of["f"]) - (of["b"] + of["e"])) / 2,
    ),
    "swept_volume": (
        bores.swept_volume,
        "cm**3",
        {"bore": "of.a", "stroke": "of.b"},
        lambda of: math.pi / 4 * of["a"] ** 2 * of["b"] / 1000,
    ),
    "compression_ratio": (
        volumes.compression_ratio,
        "",
        {"swept_volume": "of.swept", "clearance_volume": "of.left"},
        lambda of: 1 + of["a"] ** 2 * of["b"] / (of["e"] ** 2 * of["c"]),
    ),
    "hole_distance": (
        hole_safety.centre_distance,
        "mm",
        PLACES,
        lambda of: GTC.sqrt((of["e"] - of["a"]) ** 2 + (of["f"] - of["b"]) ** 2),
    ),
    "quotient": (
        quotient,
        "",
        {"one": "of.c", "two": "of.a"},
        lambda of: of["c"] / (of["a"] - of["c"]),
    ),
    "tangent": (
        sloped,
        "mm",
        {"one": "of.a", "two": "of.b"},
        lambda of: of["a"] * GTC.tan(of["b"] / of["a"]),
    ),
}
PARTS = {
    "swept": (bores.swept_volume, "mm**3", {"bore": "of.a", "stroke": "of.b"}),
    "left": (bores.swept_volume, "mm**3", {"bore": "of.e", "stroke": "of.c"}),
}


@pytest.mark.parametrize("name", BY_GTC)
def test_the_uncertainty_of_an_equation_is_that_of_another_calculator(name: str) -> None:
    # GTC, of the Measurement Standards Laboratory of New Zealand; U takes the place of u, for the
    # law is linear in it
    equation, unit, inputs, by_them = BY_GTC[name]
    layout = small(PARTS | {name: (equation, unit, inputs)})
    given = {
        key: GTC.ureal(value, STATED[group][0])
        for key, (value, unit, group) in READINGS.items()
        if unit == "mm"
    }
    theirs = by_them(given)
    assert reckon_one(layout, f"of.{name}", SMALL) == pytest.approx(GTC.value(theirs), rel=1e-12)
    assert reckon_one(layout, f"of.{name}_uncertainty", SMALL) == pytest.approx(
        GTC.uncertainty(theirs), rel=1e-9
    )


# --- the shipped spec


@cache
def shipped() -> tuple[Layout, dict[str, object]]:
    """The shipped layout and plausible readings, no two of them alike, so that no branch hangs on a
    tie.
    """
    layout = lay_out(load_spec(SPEC), Job("SQ-17"))
    readings = plausible(layout)
    for place, key in enumerate(readings):
        if isinstance(readings[key], float) and not key.startswith("instruments."):
            readings[key] = number(readings[key]) + 0.0011 * place
    for cylinder in (
        layout.cylinders()
    ):  # what is suggested follows the readings, and a decision has no uncertainty
        readings |= {
            f"bore_plan.{cylinder}.typed_bore": 82.5,
            f"bore_plan.{cylinder}.typed_offset": 0.01 * cylinder,
        }
    return layout, readings


def uncertain() -> list[str]:
    layout, _ = shipped()
    return [check.key for check in layout.checks if check.measured and upstream(layout, check.key)]


def test_every_uncertainty_of_the_shipped_spec_is_that_of_small_steps() -> None:
    layout, readings = shipped()
    values = reckon(layout, readings)
    keys = uncertain()
    wrong = {
        key: (values[f"release.{key}.uncertainty"], slow)
        for key in keys
        if (slow := by_small_steps(layout, key, readings))
        != pytest.approx(values[f"release.{key}.uncertainty"], rel=1e-6)
    }
    assert len(keys) > 80
    assert not wrong
