"""What the bench prints is read there again, every unit as it is printed; a fit is told in the
unit it is asked in; the answer comes first.
"""

from __future__ import annotations

import re

import pytest

from datumbook.calculator import BenchError, work
from datumbook.calculator.answers import SENSIBLE, printed
from datumbook.formulas import kinds
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import COUNT, PRINTED, convert, shown
from datumbook.standards import table

IN_EVERY_UNIT = [(kind, word, places) for kind in SENSIBLE for word, places in SENSIBLE[kind]]


@pytest.mark.parametrize(("kind", "word", "places"), IN_EVERY_UNIT)
@pytest.mark.parametrize("value", [12.5, 0.0123, -3.25, 4.5e6])
def test_every_answer_is_read_again(kind: str, word: str, places: int, value: float) -> None:
    dimension = kinds.dimension(getattr(kinds, kind))
    said = printed(kind, value, [(word, places)])
    again = read_quantity(said, dimension)
    step = 10.0**-places
    from_said = float(again.number) if word in ("", COUNT) else again.to(word)
    told = convert(1.0, word, word) * float(said.split()[0].rstrip("°")) if word else float(said)
    assert from_said == pytest.approx(told, abs=step / 100)


@pytest.mark.parametrize("word", sorted({*table("units")["words"], *PRINTED} - {"", COUNT}))
def test_every_unit_is_read_as_it_is_printed(word: str) -> None:
    assert read_quantity(f"3 {shown(word)}").unit == word


@pytest.mark.parametrize(
    ("typed", "unit", "number"),
    [
        ("6e-6/°F", "1/degF", 6e-6),
        ("6e-6 /degF", "1/degF", 6e-6),
        ("10.8e-6/°C", "1/degC", 10.8e-6),
        ("5000/min", "1/min", 5000.0),
        ("80/s", "1/s", 80.0),
        ("3 /min", "1/min", 3.0),
    ],
)
def test_a_stroke_before_a_unit_is_one_over_it(typed: str, unit: str, number: float) -> None:
    found = read_quantity(typed)
    assert (found.unit, float(found.number)) == (unit, number)


def test_the_answer_stands_before_what_it_is_made_of() -> None:
    told = work("spindle_speed", ["diameter=1/2in", "cutting_speed=100ft/min"])
    lines = [line.strip() for line in told.splitlines() if line.strip()]
    assert lines[1] == "gives  763.9 rev/min"  # 100 ft/min x 12 / (pi / 2)
    first = {
        word: told.index(word) for word in ("gives", "diameter  ", "spindle speed =", "source")
    }
    assert list(first.values()) == sorted(first.values())


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("85 H7/s6", []),
        ("85", ["H7/s6"]),
        ("85", ["H7", "/", "s6"]),
        ("85", ["H7/s6", "parent_ring=104mm", "liner_bore=80mm"]),
    ],
)
def test_a_fit_is_asked_with_quotes_or_without(name: str, more: list[str]) -> None:
    told = work(name, more)
    assert "85.000 to 85.035 mm = 3.34646 to 3.34783 in" in told  # ISO 286-1: H7 over 80 to 120
    assert ("pressure" in told) == any("=" in one for one in more)


@pytest.mark.parametrize("asked", ["3.75in H7/s6", '3.75" H7/s6', "3 3/4 in H7/s6"])
def test_a_fit_in_inches_is_told_in_inches_first(asked: str) -> None:
    # 95.25 mm, over 80 to 120: H7 0 to 35; s6 over 80 to 100: 71 to 93 micrometres
    told = work(asked, [])
    assert told.startswith("3.75 in H7/s6: interference")
    assert "3.75000 to 3.75138 in = 95.250 to 95.285 mm" in told
    assert "-0.00366 in = -0.093 mm" in told
    assert "mm" not in told.splitlines()[-1]
    example = re.search(r"parent_ring=([\d.]+in) liner_bore=([\d.]+in)$", told)
    assert example
    pressed = work(asked, [f"parent_ring={example[1]}", f"liner_bore={example[2]}"])
    assert re.search(r"pressure +[\d.]+ ksi = [\d.]+ MPa", pressed)
    assert re.search(r"bore closes by +[\d.]+ in = [\d.]+ mm", pressed)


def test_one_argument_is_left_out_for_the_result() -> None:
    with pytest.raises(BenchError, match=r"leave exactly cutting_speed out and give result=…"):
        work("spindle_speed", ["diameter=1/2in"])
    told = work("spindle_speed", ["diameter=1/2in", "result=764/min"])
    assert "gives  cutting_speed 100.0 ft/min" in told
    with pytest.raises(BenchError, match="none is left out: leave exactly one out"):
        work("spindle_speed", ["diameter=1/2in", "cutting_speed=100ft/min", "result=764/min"])
