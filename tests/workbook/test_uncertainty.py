"""Uncertainty carried along, held against derivatives taken by small steps and against sums worked
by hand.

Sources: JCGM 100:2008, 5.1.2 (law of propagation), 5.2 and F.1.2.3 (what readings have in common);
derivatives by central differences; GTC, of the Measurement Standards Laboratory of New Zealand.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from functools import cache
from math import sin
from typing import Any

import GTC
import pytest

from datumbook.cells.columns import Influence, Reading
from datumbook.equations import bores, heights, hole_safety, volumes
from datumbook.equations.faces import ALONG_AXIS, ALONG_ITSELF, NOT_CUT, bottom_at_corner
from datumbook.formulas.functions import (
    arctangent,
    at_most,
    largest,
    mean,
    sine,
    smallest,
    square_root,
    taken_as,
    tangent,
    total,
    where,
)
from datumbook.formulas.kinds import Angle, Length, Ratio
from datumbook.job import Job
from datumbook.numbers.units import factor
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from long_runs import mostly_long
from readings_made import plausible
from small_layout import (
    ONE,
    READINGS,
    SMALL,
    TWO_EACH,
    Size,
    Stated,
    number,
    reckon_one,
    small,
    typed,
)

SPEC = shipped_specs()["orrindale_qp4"]
STEP = 1e-5


# --- a small layout of a few readings


def by_small_steps(
    layout: Layout, key: str, readings: Mapping[str, object], followed: Collection[str] = ()
) -> float:
    """The uncertainty with every derivative taken by a small step to both sides, and put together
    by GTC. What is decided stands, whatever suggested it, but what these equations decide.
    """
    origins, decided = upstream(layout, key, followed)
    stands = {one: reckon_one(layout, one, readings) for one in decided}
    value = number(reckon_one(layout, key, readings, stands))
    terms = []
    for place in origins:
        setting, own, common, unit = stated_for(layout, place, readings)
        here = number(reckon_one(layout, place.key, readings))
        above, below = (
            number(reckon_one(layout, key, readings, stands | {place.key: here + step}))
            for step in (STEP, -STEP)
        )
        slope = (above - below) / (2 * STEP)
        if isinstance(place.column, Influence):
            slope = one_way(slope, above - value, below - value)
        terms.append((setting, slope * float(factor(unit, place.unit or "")), own, common))
    return put_together(terms)


def one_way(slope: float, above: float, below: float) -> float:
    """The slope to one side, where a value stands on an edge: what is off by as much to the left as
    to the right takes as much either way, and steps to both sides would cancel.
    """
    bent = abs(above + below) / (2 * STEP)
    return bent if bent > abs(slope) + 0.01 else slope


def stated_for(
    layout: Layout, place: Place, readings: Mapping[str, object]
) -> tuple[object, Any, Any, str]:
    """The setting of a reading, what it may be off by itself and with its setting, and their unit;
    what the work may be off is a setting of its own.
    """
    column = place.column
    if isinstance(column, Influence):
        most = layout.place(column.may_be_off.key)
        off = reckon_one(layout, most.key, readings)
        return place.key, off, None, most.unit or ""
    assert isinstance(column, Reading)
    gauge = f"instruments.{column.group}"
    setting = (column.group, column.setting, layout.plans[place.at.sheet].sheet.stage)
    own, common = readings.get(f"{gauge}.uncertainty"), readings.get(f"{gauge}.setting")
    return setting, own, common, layout.place(f"{gauge}.uncertainty").unit or ""


def put_together(terms: Iterable[tuple[object, float, Any, Any]]) -> float:
    """The uncertainty of a sum of slope times reading, given setting, slope and both figures of
    each: a setting is one uncertain number that all its readings share.
    """
    settings: dict[object, list[tuple[float, Any, Any]]] = {}
    for setting, *rest in terms:
        settings.setdefault(setting, []).append(tuple(rest))
    variance = 0.0
    for each in settings.values():
        _, own, common = each[0]
        shared = GTC.ureal(0.0, own or 0.0 if common is None else common)
        in_common = sum(slope * shared for slope, _, _ in each)
        apart = sum(slope * GTC.ureal(0.0, own or 0.0) for slope, _, _ in each)
        variance += (
            max(GTC.variance(in_common), GTC.variance(apart))
            if common is None
            else GTC.variance(in_common + apart)
        )
    return math.sqrt(variance)


def upstream(
    layout: Layout, key: str, followed: Collection[str] = ()
) -> tuple[list[Place], set[str]]:
    """What may be off of all that a key is worked out from, and what of it is decided."""
    met: dict[str, Place] = {}
    decided: set[str] = set()
    waiting = [key]
    while waiting:
        one = waiting.pop()
        if one in met:
            continue
        met[one] = place = layout.place(one)
        name = getattr(place.equation, "__name__", "")
        if getattr(place.equation, "decided", False) and name not in followed:
            decided.add(one)
        else:
            waiting += [] if isinstance(place.column, Reading) else list(place.asks)
    return [place for place in met.values() if may_be_off(place)], decided


def may_be_off(place: Place) -> bool:
    """Whether a cell is read with an instrument, or is what the work may be off."""
    column = place.column
    return isinstance(column, Influence) or (isinstance(column, Reading) and bool(column.group))


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


def steepness(rise: Length, run: Length) -> Angle:
    return arctangent(rise / run)


def raised(one: Length, two: Length) -> Length:
    return one * sine(taken_as(two / one, Angle))


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
    "raised": (raised, "mm", {"one": "of.a", "two": "of.d"}),
    "greatest": (greatest, "mm", {"one": "of.a", "two": "of.b", "three": "of.c"}),
    "least": (least, "mm", {"one": "of.a", "two": "of.d"}),
    "chosen": (chosen, "mm", {"one": "of.a", "two": "of.b"}),
    "chosen_mixed": (chosen, "mm", {"one": "of.d", "two": "of.b"}),
    "apart": (apart, "mm", {"one": "of.b", "two": "of.a"}),
    "again": (shared, "mm", {"one": "of.less", "two": "of.apart"}),
    "unlike": (biggest, "mm", {"sizes": ["of.apart", "of.less", "of.a", "of.summed", "of.e"]}),
    "unlike_mixed": (least, "in", {"one": "of.d", "two": "of.averaged"}),
    "chosen_settings": (chosen, "mm", {"one": "of.e", "two": "of.b"}),
    "chosen_heights": (chosen, "mm", {"one": "of.d", "two": "of.g"}),
    "heights_apart": (apart, "in", {"one": "of.d", "two": "of.g"}),
}


@pytest.mark.parametrize("stated", [ONE, TWO_EACH], ids=["one figure", "two figures"])
@pytest.mark.parametrize("name", CASES)
def test_the_uncertainty_of_an_equation_is_that_of_small_steps(
    name: str, stated: Mapping[str, Stated]
) -> None:
    layout, readings = small(CASES), typed(stated=stated)
    found = reckon_one(layout, f"of.{name}_uncertainty", readings)
    assert found == pytest.approx(by_small_steps(layout, f"of.{name}", readings), rel=1e-6)
    assert number(found) > 0


@pytest.mark.parametrize(
    ("name", "uncertainty"),
    [
        ("less", 0.003 * math.sqrt(2)),
        ("summed", math.sqrt((2 * 0.003) ** 2 + 0.02**2 + (0.0002 * 25.4) ** 2)),
        ("averaged", math.sqrt((2 * 0.003) ** 2 + 0.02**2 + (0.0002 * 25.4) ** 2) / 4 / 25.4),
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
    nothing = {key: value for key, value in SMALL.items() if key.startswith("of.")}
    assert reckon_one(layout, "of.less_uncertainty", nothing) == 0.0
    without = {key: value for key, value in SMALL.items() if key != "of.a"}
    assert reckon_one(layout, "of.product_uncertainty", without) is None


# --- a gauge with two figures, worked by hand

SIX = {f"d{place}": Size(82.0 + place / 1000, "mm", "bores") for place in range(6)}
ALL_SIX = {"diameters": [f"of.{name}" for name in SIX]}


@pytest.mark.parametrize(
    ("stated", "mean_of_six", "taper", "one"),
    [
        (Stated("mm", 0.0015, 0.002), 0.00209, 0.00212, 0.0025),
        (Stated("mm", 0.003), 0.003, 0.00424, 0.003),
        (Stated("mm", 0.0, 0.002), 0.002, 0.0, 0.002),
        (Stated("mm", 0.003, 0.0), 0.003 / math.sqrt(6), 0.00424, 0.003),
    ],
)
def test_a_mean_keeps_the_setting_and_a_difference_loses_it(
    stated: Stated, mean_of_six: float, taper: float, one: float
) -> None:
    # 0.002 and 0.0015: the root of 0.002² + 0.0015²/6, and of 2 x 0.0015²
    sizes = {
        "mean": (bores.mean_size, "mm", ALL_SIX),
        "taper": (bores.taper, "mm", {"top": "of.d0", "bottom": "of.d5"}),
        "one": (bores.largest_size, "mm", ALL_SIX),
    }
    layout, readings = small(sizes, SIX, {"bores": stated}), typed(SIX, {"bores": stated})
    found = [reckon_one(layout, f"of.{name}_uncertainty", readings) for name in sizes]
    assert found == pytest.approx([mean_of_six, taper, one], abs=5e-6)


def test_deck_and_bottom_by_one_mandrel_off_the_overall_height_count_its_setting_twice() -> None:
    names = {"overall": "height gauge", "deck": "mandrel", "bottom": "mandrel"}
    sizes = {
        f"{name}_height": Size(200.0, "mm", "heights", setting) for name, setting in names.items()
    }
    stated = {"heights": Stated("mm", 0.003, 0.004)}
    both = {f"{name}_height": f"of.{name}_height" for name in ("overall", "deck")}
    corners = {"bottom_left": "of.corner", "bottom_right": "of.corner"}
    end = {**corners, "bottom_height": "of.bottom_height"}
    layout = small(
        {"corner": (bottom_at_corner, "mm", both), "closure": (heights.end_closure, "mm", end)},
        sizes,
        stated,
    )
    found = reckon_one(layout, "of.closure_uncertainty", typed(sizes, stated))
    assert found == pytest.approx(math.sqrt(3 * 0.003**2 + 0.004**2 + (2 * 0.004) ** 2), rel=1e-12)


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
    "arctangent": (
        steepness,
        "rad",
        {"rise": "of.a", "run": "of.b"},
        lambda of: GTC.atan(of["a"] / of["b"]),
    ),
}
PARTS = {
    "swept": (bores.swept_volume, "mm**3", {"bore": "of.a", "stroke": "of.b"}),
    "left": (bores.swept_volume, "mm**3", {"bore": "of.e", "stroke": "of.c"}),
}


@pytest.mark.parametrize("name", BY_GTC)
def test_the_uncertainty_of_an_equation_is_that_of_another_calculator(name: str) -> None:
    # U takes the place of u, for the law is linear in it
    equation, unit, inputs, by_them = BY_GTC[name]
    layout, readings = small(PARTS | {name: (equation, unit, inputs)}), typed(stated=TWO_EACH)
    read = {key: one for key, one in READINGS.items() if one.unit == "mm"}
    theirs = by_them(uncertain_numbers(read, TWO_EACH))
    assert reckon_one(layout, f"of.{name}", readings) == pytest.approx(GTC.value(theirs), rel=1e-12)
    assert reckon_one(layout, f"of.{name}_uncertainty", readings) == pytest.approx(
        GTC.uncertainty(theirs), rel=1e-9
    )


def uncertain_numbers(readings: Mapping[str, Size], stated: Mapping[str, Stated]) -> dict[str, Any]:
    """Every reading as GTC has it: its own uncertain number, and one that its setting shares."""
    shared = {
        (one.group, one.setting): GTC.ureal(0.0, stated[one.group].setting or 0.0)
        for one in readings.values()
    }
    return {
        name: GTC.ureal(one.value, stated[one.group].reading) + shared[one.group, one.setting]
        for name, one in readings.items()
    }


# --- the shipped specs

SHIPPED = ("orrindale_qp4", "keldmire_d3")


CUT = {
    "line_bore.line_bored": "yes",
    "line_bore.cap_cut": 0.15,
    "line_bore.finish_size": 61.07,
    "line_bore.rise_front": 0.013,
    "line_bore.rise_rear": 0.027,
    "bottom_cut.parallel_to": ALONG_ITSELF,
    "bottom_cut.cut": 0.002,
    "deck_cut.parallel_to": ALONG_AXIS,
    "deck_cut.cut": 0.003,
}


OFF_LEVEL = {"front_left": 0.0013, "front_right": 0.0071, "rear_left": 0.0048, "rear_right": 0.0009}


def closing(readings: Mapping[str, object]) -> dict[str, object]:
    """Heights that add up, for no forecast is built on others, over a bottom face of which no two
    corners are alike, and no plane goes through all; at the rear all but a little.
    """
    first = [number(readings[f"corners.front_left.{name}"]) for name in ("overall", "deck")]
    below = {corner: first[0] - first[1] + off for corner, off in OFF_LEVEL.items()}
    found: dict[str, object] = {
        f"corners.{corner}.overall": number(readings[f"corners.{corner}.deck"]) + bottom
        for corner, bottom in below.items()
    }
    for end, short in (("front", 0.0), ("rear", 0.0003)):
        if f"axis.{end}" in readings:
            found[f"axis.{end}"] = (below[f"{end}_left"] + below[f"{end}_right"]) / 2 - short
    return found


@cache
def shipped(name: str) -> tuple[Layout, dict[str, object]]:
    """A shipped layout and plausible readings, no two of them alike and no three in a line, so that
    no branch hangs on a tie; every other gauge is stated with two figures.
    """
    layout = lay_out(load_spec(shipped_specs()[name]), Job("SQ-17"))
    readings = plausible(layout)
    for place, key in enumerate(readings):
        if isinstance(readings[key], float) and not key.startswith("instruments."):
            readings[key] = number(readings[key]) + 0.0011 * place + 0.002 * sin(place)
    readings |= closing(readings) | CUT
    for cylinder in layout.cylinders():
        readings |= {
            f"bore_plan.{cylinder}.typed_bore": 82.5,
            f"bore_plan.{cylinder}.typed_offset": 0.01 * cylinder,
        }
    stated = layout.stations.instruments.gauges
    for row in stated.rows[::2]:
        readings[stated.setting[row.key]] = 2 * number(readings[stated.uncertainty[row.key]])
    return layout, readings


def uncertain(layout: Layout) -> list[str]:
    measured = (check.key for check in layout.checks if check.measured)
    return [key for key in measured if upstream(layout, key)[0]]


@pytest.mark.parametrize("name", mostly_long(SHIPPED))
def test_every_uncertainty_of_a_shipped_spec_is_that_of_small_steps(name: str) -> None:
    layout, readings = shipped(name)
    values = reckon(layout, readings)
    keys = [key for key in uncertain(layout) if isinstance(values[key], float)]
    wrong = {
        key: (values[f"release.{key}.uncertainty"], slow)
        for key in keys
        if (slow := by_small_steps(layout, key, readings))
        != pytest.approx(values[f"release.{key}.uncertainty"], rel=1e-6, abs=1e-12)
    }
    assert len(keys) > 80
    assert not wrong


@pytest.mark.parametrize("name", SHIPPED)
def test_the_slope_of_the_deck_is_a_bound_whose_own_doubt_is_next_to_nothing(name: str) -> None:
    layout, cut = shipped(name)
    readings = cut | {"deck_cut.parallel_to": NOT_CUT}  # a deck cut level has no slope
    key = layout.stations.cuts.banks[""].room.crowns.deck_clearance[1]
    followed = by_small_steps(layout, key, readings, ["steepest_slope"])
    assert reckon(layout, readings)[f"release.{key}.uncertainty"] == pytest.approx(
        followed, rel=0.03
    )
