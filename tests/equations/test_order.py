"""Order: done numbers, turns and series. Common practice, no source; each case worked by hand."""

from __future__ import annotations

import math

import pytest

from datumbook.equations import order

NAN = math.nan


def test_latest_done_is_nought_when_nothing_is_done() -> None:
    assert order.latest_done(NAN, NAN) == 0
    assert order.latest_done(2.0, NAN, 7.0) == 7


def test_verdict_of_order_wants_the_needed_done_and_the_others_earlier() -> None:
    assert order.verdict_of_order(NAN, 0.0, 0.0, 0.0, 1.0) == "", "not done it has no turn"
    assert order.verdict_of_order(2.0, 1.0, 1.0, 1.0, 1.0) == "OK"
    assert order.verdict_of_order(2.0, 2.0, 1.0, 1.0, 1.0) == "OUT", "its number is used twice"
    assert order.verdict_of_order(2.0, 1.0, 1.0, 0.0, 1.0) == "OUT"
    assert order.verdict_of_order(2.0, 1.0, 2.0, 1.0, 1.0) == "OUT", (
        "two operations cannot have one number"
    )


def test_verdict_of_turn_is_out_only_after_a_later_number() -> None:
    assert [order.verdict_of_turn(done, 1.0, 2.0) for done in (NAN, 1.0, 2.0, 3.0)] == [
        "",
        "OUT",
        "OUT",
        "OK",
    ]


@pytest.mark.parametrize(
    ("step", "line"), [("deck", 1.0), ("Bore", 2.0), ("hone", 3.0), ("", 0.0), ("99", 0.0)]
)
def test_line_of_step_is_where_the_route_has_it_and_nought_for_what_is_no_step(
    step: str, line: float
) -> None:
    assert order.line_of_step(step, "deck", "bore", "hone") == line


@pytest.mark.parametrize(("line", "number"), [(1.0, 7.0), (2.0, None), (3.0, 9.0), (0.0, None)])
def test_done_number_on_line_is_blank_where_nothing_is_numbered(
    line: float, number: float | None
) -> None:
    assert order.done_number_on_line(line, 7.0, NAN, 9.0) == number


def test_moved_since_names_the_last_operation_after_the_step_and_nothing_before_it_is_said() -> (
    None
):
    assert order.moved_since(3.0, 2.0, 5.0, 4.0) == 5.0
    assert order.moved_since(5.0, 2.0, 5.0, NAN) is None
    assert order.moved_since(NAN, 2.0, 5.0) is None
    assert order.moved_since(3.0, NAN, NAN) is None


def test_verdict_of_series_waits_for_the_step_and_refuses_one_without_a_number() -> None:
    assert order.verdict_of_series("", NAN) == "OPEN"
    assert order.verdict_of_series("hone", NAN) == "OUT"
    assert order.verdict_of_series("hone", 9.0) == "OK"


def test_times_used_counts_the_operations_of_one_number_and_nought_for_none() -> None:
    numbers = (2.0, 3.0, NAN, 3.0)
    assert [order.times_used(done, *numbers) for done in (2.0, 3.0, 4.0, NAN)] == [1, 2, 0, 0]


def test_verdict_of_number_and_fault_of_turn_tell_a_number_used_twice() -> None:
    found = [order.verdict_of_number(*one) for one in ((NAN, 0.0), (2.0, 1.0), (2.0, 2.0))]
    assert found == ["", "OK", "OUT"]
    assert order.verdict_of_turn(3.0, 2.0, 1.0) == "OUT"
    assert order.fault_of_turn("OUT", 2.0) == "its done number is used twice"
    assert order.fault_of_turn("OUT", 1.0) == "not after what comes before it"
    assert order.fault_of_turn("OK", 1.0) == order.fault_of_turn("", 0.0) == ""


def test_verdict_of_record_holds_finished_sizes_of_which_the_route_knows_no_cut() -> None:
    assert order.verdict_of_record(0.0, 0.0) == order.verdict_of_record(0.0, 3.0) == "OPEN"
    assert order.verdict_of_record(1.0, 0.0) == "OUT"
    assert order.verdict_of_record(1.0, 1.0) == "OK"
