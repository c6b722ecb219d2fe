from __future__ import annotations

import re
from pathlib import Path

from as_asked import values_of
from datumbook.messages.findings import Finding
from datumbook.planning import plan, plan_lines
from datumbook.validator import Validation
from planned_blocks import (
    CYLINDERS,
    NOT_CUT,
    cut,
    heights,
    layout,
    line_bored,
    parts,
    planned,
    readings,
    tunnels,
)


def told(block: dict[str, object]) -> str:
    return "\n".join(plan_lines(planned(block)))


def test_a_set_up_is_told_with_what_the_machine_is_set_to() -> None:
    text = told(readings() | heights([10.7135, 10.7135, 10.7185, 10.7180], [14.250] * 4))
    assert (
        "    parallel to the crank line (proposed): cleans at 0.0000 in (lowest corner); "
        "cut 0.0035 in off the lowest corner (front left), asked for by Room at the "
        "middle of cylinder 1, "
        "Room at the middle of cylinder 2, Room at the middle of cylinder 3, Room at the middle of "
        "cylinder 4; touch on the rear left "
        "corner, infeed 0.0085 in; no tilt left\n"
    ) in text
    assert "    not cut: no, for Deck height, tilt lengthwise not OK" in text
    assert (
        "Crown of cylinder 1: 0.0200 in below the deck, parts as measured, not less than 0.0000"
        in text
    )
    assert "0.0000 in left (Orrindale workshop sheet 2, invented); binds" in text


def test_a_true_deck_is_left_as_it_is() -> None:
    text = told(readings() | heights([10.695, 10.695, 10.696, 10.696], [14.250] * 4))
    assert "    not cut (proposed): nothing comes off, every limit holds\n" in text
    assert "Proposed: Bottom face not cut; Deck not cut. The least that serves; it leaves\n" in text
    assert "No limit binds." in text


def test_parts_are_said_to_be_as_drawn_or_as_measured() -> None:
    rods = {f"rods.{one}.rod_length": None for one in CYLINDERS}
    assert "parts as measured, not less than" in told(readings())
    assert "parts as measured where they are, else as drawn, not less than" in told(
        readings() | rods
    )
    pistons = {f"pistons.{one}.compression_height": None for one in CYLINDERS}
    assert "parts as drawn, not less than" in told(readings() | rods | pistons)


def test_a_cut_between_two_steps_is_told_rounded_up() -> None:
    block = readings() | heights([10.71355] * 4, [14.250] * 4)
    assert "(proposed): cleans at 0.0000 in (lowest corner); cut 0.0036 in off" in told(block)


def test_a_cut_that_a_limit_lets_be_rounded_no_further_has_two_more_decimals() -> None:
    block = readings() | parts(higher_pistons=-0.020)
    block |= heights([10.69355] * 4, [14.222 + 0.00355] * 4) | cut("bottom", NOT_CUT)
    assert "cut 0.00355 in off" in told(block)


def test_what_forbids_is_told_with_its_numbers() -> None:
    block = readings() | line_bored(61.070, 0.3, (0.1524, 0.1524))  # 0.006 in
    text = told(block | cut("bottom", NOT_CUT))
    assert "Forbidden: no set-up keeps its limits." in text
    assert "-0.0010 in before, not less than 0.0000 in, short by 0.0010 in already" in text
    assert "Proposed" not in text


def test_the_line_bore_is_told() -> None:
    assert "None: the tunnels stay as they are." in told(readings())
    blank = told(readings(line_bore__line_bored=None))
    assert "None asked for; what follows is worked out with the crank line where it is." in blank
    worn = tunnels([61.090, 61.095, 61.085], [61.040] * 3, (0.0, 0.020, 0.0))
    text = told(readings() | worn | line_bored(61.070, 0.150))
    assert "  Line bore to: 61.070 mm\n  Caps off by: 0.150 mm\n" in text
    assert "  Crank line rises at the front: 0.043 mm\n" in text
    assert "Tunnel 2 binds: saddle 0.011 mm" in text or "Tunnel 2 binds: saddle 0.010 mm" in text
    assert "Takes 0.0017 in from the deck height at the front corners, 0.0017 in at the" in text
    none = told(readings() | worn | line_bored(61.070, 0.0))
    assert "No line goes: more off the caps, or a larger size." in none


def test_heights_that_do_not_add_up_are_told_and_nothing_is_forecast() -> None:
    text = told(readings(axis__front=3.565, axis__rear=3.565))
    assert "Overall less deck and bottom is -0.0100 in: a height is misread" in text
    assert "Proposed" not in text


def test_nearer_to_a_limit_than_the_gauge_can_tell_is_told() -> None:
    level = heights([10.7135] * 4, [14.250] * 4) | cut("bottom", NOT_CUT)
    assert "UNSURE" not in told(readings() | level)
    block = readings(instruments__heights__uncertainty=0.0004) | level
    assert re.search(r"; binds; within ± 0\.000\d+ in of its limit, UNSURE", told(block))


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
    label = layout().places["bore.3.unworn_lip"].label
    assert lines[-1].endswith(f"Size that cleans cylinder 3: {label}")
    assert "Crown of cylinder 3" in lines[-1]  # over the bore it gets
    assert "As far as the readings go: see the end for what is missing." in lines


def test_an_empty_book_plans_nothing() -> None:
    text = told({})
    assert text.count("Nothing can be worked out yet.") == 2
    assert "Proposed" not in text
    assert "Not known whether one is asked for" in text


def test_a_damaged_book_is_said_to_be() -> None:
    block = values_of(layout(), readings())
    book = Validation(
        Path("block.xlsx"),
        [Finding("formula-replaced", "damage", "x")],
        layout=layout(),
        values=block,
    )
    assert any("damaged" in line for line in plan_lines(plan(book)))
