from __future__ import annotations

from pathlib import Path

import pytest

from builder.findings import Finding
from builder.plan import plan, plan_lines
from builder.plan_words import Measure
from builder.reckoning import reckon
from builder.validator import Validation
from planned_blocks import corners, layout, planned, readings


@pytest.mark.parametrize(
    ("size", "said"), [(0.0014, "0.0014 in"), (0.00135, "0.001350 in"), (1 / 3, "0.333333 in"), (-0.0, "0.0000 in")]
)
def test_a_size_has_the_decimals_of_its_sheet_and_two_more_where_it_needs_them(size: float, said: str) -> None:
    assert Measure("in", 4).said(size) == said


def told(block: dict[str, object]) -> str:
    return "\n".join(plan_lines(planned(block)))


def test_the_cut_its_reason_and_what_it_leaves_are_told() -> None:
    text = told(readings() | corners("deck", 10.695, 10.695, 10.700, 10.6995))
    assert "  Off the deck: 0.0050 in\n" in text
    assert "Cut that cleans the whole deck: not less than 0.0050 in, 0.0050 in after (deck tilted or twisted" in text
    assert "room for 0.007375 in, 0.002375 in after" in text
    assert "; binds" in text


def test_a_cut_between_two_steps_is_told_rounded_up() -> None:
    text = told(readings() | corners("deck", 10.7135, 10.7135, 10.7135, 10.7136))  # mean 10.713525
    assert "  Off the deck: 0.0036 in\n" in text


def test_what_forbids_is_told_with_its_numbers() -> None:
    text = told(readings(plan__crown_metal=0.006))
    assert "Forbidden: no cuts keep these limits together." in text
    assert "-0.0010 in before a cut, not less than 0.0000 in, short by 0.0010 in already" in text
    assert "Off the deck" not in text


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"plan__crown_metal": 0.003}, "bottom: 0.0030 in (off the deck 0.0000 in; off the bottom face 0.0030 in)"),
        ({"plan__tunnel_after": 2.406}, "restores axis to bottom: none can, for the axis moves away from the deck"),
        ({}, "restores axis to bottom: none needed"),
        ({"plan__crown_metal": None}, "the cells of the line bore are not filled"),
    ],
)
def test_the_axis_has_its_line(changed: dict[str, object], words: str) -> None:
    assert words in told(readings(**changed))


def test_the_alternative_that_is_forbidden_says_by_what() -> None:
    text = told(readings(plan__crown_metal=0.003) | corners("overall", *[14.2240] * 4))
    assert "axis to bottom: 0.0030 in, forbidden: Overall height, lowest corner: 14.2240 in before a cut" in text


def test_nearer_to_a_limit_than_the_gauge_can_tell_is_told() -> None:
    assert "UNSURE" not in told(readings() | corners("deck", *[10.7135] * 4))
    block = readings(instruments__heights__uncertainty=0.0004) | corners("deck", *[10.7135] * 4)
    assert "binds; within ± 0.0002 in of its limit, UNSURE" in told(block)  # mean of four: half of one reading's


def test_bores_and_lands_are_told() -> None:
    text = told(readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17, lands__1_2__width=6.1))
    assert "  Cylinder 2 cleans up at 82.400 mm\n" in text
    assert "  Bore all to 82.500 mm" in text
    assert "Forbidden: Land 1 to 2 left to clamp at that size: 4.6" in text


def test_a_bore_past_every_oversize_is_told() -> None:
    text = told(readings(bore__3__unworn_lip=82.0, bores__3__middle__axial=82.6))
    assert "Forbidden: Cylinder 3 is not clean at the largest oversize, 83.000 mm" in text
    assert "Bore all to" not in text


def test_missing_readings_stand_at_the_end_by_name() -> None:
    lines = plan_lines(planned(readings(bore__3__unworn_lip=None)))
    assert lines[-1] == f"  Size that cleans cylinder 3: {layout().places['bore.3.unworn_lip'].label}"
    assert "As far as the readings go: see the end for what is missing." in lines


def test_an_empty_book_plans_nothing() -> None:
    text = told({})
    assert text.count("Nothing can be reckoned yet.") == 2
    assert "Off the deck" not in text


def test_a_damaged_book_is_said_to_be() -> None:
    block = reckon(layout(), readings())
    book = Validation(Path("block.xlsx"), [Finding("formula-replaced", "damage", "x")], layout=layout(), values=block)
    assert any("damaged" in line for line in plan_lines(plan(book)))
