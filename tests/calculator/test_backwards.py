"""An equation asked backwards: there and back again, for every equation that gives a number."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.calculator import BenchError, work
from datumbook.calculator.answers import SENSIBLE
from datumbook.calculator.backwards import SPAN, NotOneError, missed, solved
from datumbook.calculator.equations import BENCH_KINDS, equations, kind_names
from datumbook.calculator.typed import coherent
from datumbook.formulas.tracing import called, parameters
from datumbook.numbers.quantities import read_quantity

ALL = {name: one for module in equations().values() for name, one in module.items()}
NUMERIC = sorted(name for name, one in ALL.items() if kind_names(one)["return"] != "Words")


def gives(*typed: str) -> list[str]:
    """Return the argument asked for, in its units."""
    name, *arguments = typed
    found = re.search(r"^  gives  (\w+) (.+)$", work(name, arguments), re.MULTILINE)
    assert found
    return [found[1], *found[2].split(" = ")]


PUBLISHED = [  # the sources of tests/support/published, read from the result to an argument
    # handbook tables of drilling speeds: 1/2 in turns 764 a minute at 100 ft/min
    (
        "spindle_speed diameter=1/2in spindle_speed=764rpm",
        ["cutting_speed", "100.0 ft/min", "30.5 m/min"],
    ),
    ("spindle_speed cutting_speed=100fpm spindle_speed=764rpm", ["diameter", "0.5000 in"]),
    # GTZ drilling, lesson 5: a 10 mm drill turns 700 a minute at 22 m/min
    ("spindle_speed diameter=10mm spindle_speed=700rpm", ["cutting_speed", "22.0 m/min"]),
    # Shigley, 9th ed., example 8-3: 25 000 lbf on 3/4 in at K = 0.2
    (
        "torque_for_clamp torque_for_clamp=3750lbf.in nut_factor=0.2 diameter=3/4in",
        ["clamp", "25000 lbf"],
    ),
    ("clamp_load clamp_load=25000lbf nut_factor=0.2 diameter=3/4in", ["torque", "312.5 lbf·ft"]),
    ("clamp_load clamp_load=25000lbf torque=3750lbf.in diameter=3/4in", ["nut_factor", "0.2000"]),
    # Engineering thermodynamics, Otto example p. 616: bore 250, stroke 375, 0.0184 m³, ratio 8
    ("swept_volume swept_volume=18407.77cm3 stroke=375mm", ["bore", "250.000 mm", "9.8425 in"]),
    ("swept_volume swept_volume=18407.77cm3 bore=250mm", ["stroke", "375.000 mm"]),
    # a university tutorial sheet: four cylinders of 70 x 75 mm, 1154.54 cm³ worked by hand
    ("capacity capacity=1154.54cc stroke=75mm cylinders=4", ["bore", "70.000 mm"]),
    ("capacity capacity=1154.54cc bore=70mm cylinders=4", ["stroke", "75.000 mm"]),
    ("capacity capacity=1154.54cc bore=70mm stroke=75mm", ["cylinders", "4"]),
    # GTZ drilling lesson 5, unit by unit: 0.1 mm a turn at 700 turns a minute
    ("feed_speed feed_speed=0.07m/min spindle_speed=700rpm", ["feed", "0.100 mm"]),
    (
        "compression_ratio compression_ratio=8 swept_volume=18407.77cm3",
        ["clearance_volume", "2629.68 cm³"],
    ),
    # Shigley, 9th ed., tables 8-1 and 8-2: areas of M8 and 1/2-13, printed to three or four figures
    ("metric_stress_area metric_stress_area=36.61mm2 pitch=1.25mm", ["major", "8.000 mm"]),
    ("unified_stress_area unified_stress_area=0.1419in2 pitch=1/13in", ["major", "0.5000 in"]),
    ("drill_point drill_point=0.0312in diameter=0.104in", ["point_angle", "118.07°"]),
    # geometry
    ("oil_clearance tunnel_size=2.404in journal=2.25in oil_clearance=2thou", ["shell_thickness"]),
    ("compression_ratio compression_ratio=9 swept_volume=400cc", ["clearance_volume", "50.00 cm³"]),
]


@pytest.mark.parametrize(("typed", "said"), PUBLISHED, ids=lambda each: str(each)[:60])
def test_published_figures_are_found_the_other_way(typed: str, said: list[str]) -> None:
    found = gives(*typed.split())
    assert found[: len(said)] == said


@given(st.data())
def test_there_and_back_again(data: st.DataObject) -> None:
    """Every argument of every equation: the only answer is the argument, or the refusal has it, or
    the equation gives the same for a range of arguments, as one that rounds.
    """
    name = data.draw(st.sampled_from(NUMERIC))
    kinds, group = kind_names(ALL[name]), parameters(ALL[name])[1]
    kinds = {word: "Length" if kind == "Measure" else kind for word, kind in kinds.items()}
    single = [
        word for word, kind in kinds.items() if word not in {"return", group} and kind != "Words"
    ]
    known = {
        word: [data.draw(value(kind)) for _ in range(3)]
        if word == group
        else data.draw(value(kind))
        for word, kind in kinds.items()
        if word != "return"
    }
    if not single:
        return
    asked = data.draw(st.sampled_from(single))
    try:
        wanted = called(ALL[name], known)
    except (ArithmeticError, LookupError, TypeError, ValueError):
        return
    if not isinstance(wanted, float) or not math.isfinite(wanted):
        return
    by = missed(ALL[name], known, asked, wanted)
    try:
        found: tuple[float | None, ...] = solved(by, kinds[asked])
    except NotOneError as refusal:
        found = refusal.found
    assert found, f"no {asked} is found, but {known[asked]} is one"
    near = [
        one for one in found if one is not None and math.isclose(one, known[asked], rel_tol=1e-6)
    ]
    assert near or by(found[0]) == 0 == by(found[-1])


def value(kind: str) -> st.SearchStrategy[Any]:
    """A value of a kind as it occurs at a bench, in the coherent set."""
    if kind == "Words":
        return st.sampled_from(["yes", "done", "down", "tilt"])
    if kind == "Count":
        return st.integers(1, 8).map(float)
    if kind == "Angle":
        return st.floats(0.1, 3.0)
    wanted = "[count]" if kind == "Count" else None
    usual = read_quantity(BENCH_KINDS[kind][1], wanted).to(coherent(kind))
    return st.floats(0.2, 5.0).map(lambda times: usual * times)


@pytest.mark.parametrize("kind", sorted(set(BENCH_KINDS) - {"Words", "Measure"}))
def test_every_kind_has_a_span_that_holds_its_example(kind: str) -> None:
    wanted = "[count]" if kind == "Count" else None
    low, high = SPAN[kind]
    assert low <= read_quantity(BENCH_KINDS[kind][1], wanted).to(coherent(kind)) <= high
    assert SENSIBLE[kind]


@pytest.mark.parametrize(
    ("by", "kind", "answer", "below"),
    [
        (lambda x: x - 57.142, "Length", 57.142, None),
        (lambda x: x + 0.02, "Length", -0.02, None),  # below zero where nothing above it answers
        (lambda x: x, "Length", 0.0, None),
        (lambda x: abs(x - 57.142), "Length", 57.142, None),  # a dip that only touches
        (lambda x: math.sqrt(x - 8.0) - 0.001, "Length", 8.000001, None),  # at the edge of results
        (lambda x: (x - 3.0) * (x + 7.0), "Length", 3.0, -7.0),
        (lambda x: 1 / (x - 5.0), "Length", None, None),  # leaps over nothing, and is never nothing
        (lambda x: math.floor(x) - 2.5, "Length", None, None),
        (lambda x: x + 196.0, "Temperature", -196.0, None),
        (lambda x: x + 443.0, "Temperature", None, None),  # below absolute zero
        (lambda x: 288.634 * x - 1154.54, "Count", 4.0, None),
        (lambda x: 288.634 * x - 1000.0, "Count", None, None),  # three cylinders and a half
    ],
)
def test_the_one_answer_is_found_and_none_is_said(
    by: Callable[[float], float], kind: str, answer: float | None, below: float | None
) -> None:
    def guarded(size: float) -> float:
        try:
            return by(size)
        except (ValueError, ZeroDivisionError):
            return math.nan

    if answer is None:
        with pytest.raises(NotOneError) as refusal:
            solved(guarded, kind)
        assert refusal.value.found == ()
    else:
        found = solved(guarded, kind)
        assert found[0] == pytest.approx(answer, rel=1e-7, abs=1e-9)
        assert found[1] == (None if below is None else pytest.approx(below))


@pytest.mark.parametrize(
    ("by", "answers"),
    [
        # two diameters a hundredth apart lie between two sizes tried
        (lambda x: abs(x - 57.142) - 0.006, (57.136, 57.148)),
        (lambda x: max(x, 5.0) - 5.0, None),
        (lambda x: round(x, 1) - 0.7, None),
    ],
)
def test_more_than_one_is_no_answer(
    by: Callable[[float], float], answers: tuple[float, float] | None
) -> None:
    with pytest.raises(NotOneError) as refusal:
        solved(by, "Length")
    assert refusal.value.found
    if answers:
        assert refusal.value.found == pytest.approx(answers)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "journal_out_of_round vertical=57.142mm journal_out_of_round=0.006mm",
            r"More than one horizontal .* 57\.136 mm and 57\.148 mm among them: type horizontal",
        ),
        (
            "clamp_load clamp_load=-5kN nut_factor=0.2 diameter=8mm",
            r"^No torque up to 100000\.0 N·m gives this clamp_load with nut_factor 0\.2, diameter",
        ),
        ("capacity capacity=1000cc bore=70mm stroke=75mm", r"^No cylinders up to 1000 gives"),
        ("spindle_speed spindle_speed=764rpm", r"but cutting_speed and diameter are left out"),
        (
            "spindle_speed spindle_speed=764rpm cutting_speed=100fpm diameter=1/2in",
            r"but none is left out: leave exactly one out",
        ),
        ("spindle_speed diameter=1/2in", r"or leave exactly cutting_speed out and give result=…"),
        (
            "spindle_speed spindle_speed=764mm diameter=1/2in",
            r"gives a spindle speed\. \"764mm\" is",
        ),
        ("verdict_at_most value=1mm high=2mm verdict_at_most=OK", r"gives words, which lead back"),
        ("out_of_round thrust=1mm out_of_round=1mm out_of_round=2mm", r"is given twice"),
        ("mean_height mean_height=9in", r"corners of mean_height is any number of values"),
        ("face_reading face_reading=1in touch_reading=1in feeler=1mm", r"quill of .* is words"),
    ],
)
def test_refuses_what_has_no_one_answer(typed: str, said: str) -> None:
    name, *arguments = typed.split()
    with pytest.raises(BenchError, match=said):
        work(name, arguments)
