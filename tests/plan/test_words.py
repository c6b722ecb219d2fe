from __future__ import annotations

from pathlib import Path

import pytest

from datumbook.messages.findings import Finding
from datumbook.numbers.printing import NOT_LESS
from datumbook.plan import plan, plan_lines
from datumbook.validator import Validation
from datumbook.workbook.evaluation import reckon
from planned_blocks import corners, layout, planned, readings


def told(block: dict[str, object]) -> str:
    return "\n".join(plan_lines(planned(block)))


def test_the_cut_at_both_corners_and_what_it_leaves_are_told() -> None:
    text = told(readings() | corners("deck", 10.7135, 10.7135, 10.7185, 10.7180))
    assert (
        "  Off the deck: 0.0035 in off the lowest corner, that is 0.0085 in off the highest\n"
        in text
    )
    assert (
        "  Whole deck cleans at 0.0000 in off the lowest corner, that is 0.0050 in off the "
        "highest; tilt or twist is" in text
    )
    assert "asks for 0.0035 in, 0.0200 in after" in text
    assert "; binds" in text


def test_a_true_deck_cleans_without_wanting_it() -> None:
    text = told(readings() | corners("deck", 10.695, 10.695, 10.696, 10.696))
    assert (
        "cleans at 0.0000 in off the lowest corner, that is 0.0010 in off the highest; tilt and "
        "twist are OK" in text
    )


def test_what_may_still_come_off_is_told_as_the_ledger_shows_it() -> None:
    block = (
        readings()
        | corners("deck", 10.6981, 10.6978, 10.6985, 10.6980)
        | corners("overall", *[14.2301] * 4)
    )
    values, places = reckon(layout(), block), layout().places
    for key in ("ledger.deck_removable", "ledger.overall_removable"):
        assert "May still come off" in places[key].label
        assert f", {values[key]:.{places[key].decimals}f} in may still come off, " in told(block)


def test_a_cut_between_two_steps_is_told_rounded_up() -> None:
    block = readings(plan__tunnel_after=2.4041) | corners(
        "deck", *[10.7135] * 4
    )  # the axis goes 0.00005 in down
    assert "  Off the deck: 0.0036 in off" in told(block)


def test_a_cut_that_a_limit_lets_be_rounded_no_further_has_two_more_decimals() -> None:
    block = readings(plan__tunnel_after=2.4041) | corners("deck", *[10.7135] * 4)
    assert "  Off the deck: 0.00355 in off" in told(
        block | corners("overall", *[14.222 + 0.00355] * 4)
    )


def test_what_forbids_is_told_with_its_numbers() -> None:
    text = told(readings(plan__crown_metal=0.006))
    assert "Forbidden: no cuts keep these limits together." in text
    assert f"-0.0010 in before a cut, {NOT_LESS} 0.0000 in, short by 0.0010 in already" in text
    assert "Off the deck" not in text


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        (
            {"plan__crown_metal": 0.003},
            "bottom: 0.0030 in (off the deck 0.0000 in; off the bottom face 0.0030 in)",
        ),
        (
            {"plan__tunnel_after": 2.406},
            "restores axis to bottom: none can, for the axis moves away from the deck",
        ),
        ({}, "restores axis to bottom: none needed"),
        ({"plan__crown_metal": None}, "the cells of the line bore are not filled"),
    ],
)
def test_the_axis_has_its_line(changed: dict[str, object], words: str) -> None:
    assert words in told(readings(**changed))


def test_the_alternative_that_is_forbidden_says_by_what() -> None:
    text = told(readings(plan__crown_metal=0.003) | corners("overall", *[14.2240] * 4))
    assert (
        "axis to bottom: 0.0030 in, forbidden: Overall height, lowest corner: 14.2240 in before a "
        "cut" in text
    )


def test_nearer_to_a_limit_than_the_gauge_can_tell_is_told() -> None:
    assert "UNSURE" not in told(readings() | corners("deck", *[10.7135] * 4))
    block = readings(instruments__heights__uncertainty=0.0004) | corners(
        "deck", 10.7135, *[10.7136] * 3
    )
    assert "binds; within ± 0.00040 in of its limit, UNSURE" in told(
        block
    )  # one corner, one reading's uncertainty


def test_bores_and_lands_are_told() -> None:
    text = told(
        readings(
            bore__2__unworn_lip=82.0,
            bores__2__top__thrust=82.17,
            lands__1_2__width=6.1,
            bore_plan__1__typed_offset=0.0,
            bore_plan__2__typed_offset=0.0,
        )
    )
    assert "  Cylinder 2 cleans up at 82.400 mm\n" in text
    assert (
        "  Finish size, honed: 82.500 mm; bore to 82.440 mm, leaving 0.060 mm for the hone; "
        "have the pistons at hand and measured first\n"
    ) in text
    assert "Forbidden: Land 1 to 2 left to clamp as planned: 4.6" in text


WORN = {"bore__2__unworn_lip": 82.0, "bores__2__top__thrust": 82.17}


def test_the_size_typed_for_every_bore_is_the_finish_size_told() -> None:
    text = told(readings(**WORN, **{f"bore_plan__{one}__typed_bore": 83.0 for one in range(1, 5)}))
    assert "  Finish size, honed: 83.000 mm; bore to 82.940 mm, leaving 0.060 mm" in text
    assert text.count("inish size, honed") == 1
    assert "82.500 mm" not in text


def test_planned_bores_that_differ_are_told_one_by_one() -> None:
    text = told(readings(**WORN, bore_plan__1__typed_bore=83.0, bore_plan__2__typed_bore=82.25))
    for cylinder, size, bar in ((1, "83.000", "82.940"), (3, "82.500", "82.440")):
        line = f"  Cylinder {cylinder}, finish size, honed: {size} mm; bore to {bar} mm, leaving"
        assert line in text
    assert "Cylinder 2, finish size" not in text
    assert "  Cylinder 2 planned at 82.250 mm: not clean at that size\n" in text


def test_a_bore_past_every_oversize_is_told() -> None:
    text = told(readings(bore__3__unworn_lip=82.0, bores__3__middle__axial=82.6))
    assert "Forbidden: Cylinder 3 is not clean at the largest oversize, 83.000 mm" in text
    assert "Finish size" not in text


def test_missing_readings_stand_at_the_end_by_name() -> None:
    lines = plan_lines(planned(readings(bore__3__unworn_lip=None)))
    assert (
        lines[-1] == f"  Size that cleans cylinder 3: {layout().places['bore.3.unworn_lip'].label}"
    )
    assert "As far as the readings go: see the end for what is missing." in lines


def test_an_empty_book_plans_nothing() -> None:
    text = told({})
    assert text.count("Nothing can be worked out yet.") == 3
    assert "Off the deck" not in text


def test_a_damaged_book_is_said_to_be() -> None:
    block = reckon(layout(), readings())
    book = Validation(
        Path("block.xlsx"),
        [Finding("formula-replaced", "damage", "x")],
        layout=layout(),
        values=block,
    )
    assert any("damaged" in line for line in plan_lines(plan(book)))
