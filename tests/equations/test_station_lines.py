"""Station lines: common practice, no source; each case worked by hand."""

from __future__ import annotations

from datumbook.equations import station_lines
from datumbook.equations.station_lines import AS_IT_IS


def test_left_as_it_is_and_in_job_or_left_take_a_station_out_once_it_is_said_why_and_by_whom() -> (
    None
):
    assert station_lines.left_as_it_is(AS_IT_IS, "owner's wish", "J. K.") == AS_IT_IS
    assert station_lines.left_as_it_is(AS_IT_IS, "", "J. K.") == station_lines.UNSAID
    assert station_lines.left_as_it_is("in this job", "owner's wish", "J. K.") == ""
    assert [station_lines.in_job_or_left(one) for one in ("", station_lines.UNSAID, AS_IT_IS)] == [
        "in this job",
        "in this job",
        AS_IT_IS,
    ]


def test_still_to_read_and_comes_next_pass_over_what_is_left() -> None:
    assert station_lines.still_to_read(24.0, 20.0, "") == 4.0
    assert station_lines.still_to_read(24.0, 0.0, AS_IT_IS) == 0.0
    assert station_lines.comes_next(4.0, 2.0) > station_lines.comes_next(4.0, 3.0) > 0.0
    assert station_lines.comes_next(0.0, 1.0) == 0.0


def test_next_to_do_is_to_read_then_to_see_what_holds_then_to_sign() -> None:
    said = [
        station_lines.next_to_do(2.0, 3.0, "ON HOLD"),
        station_lines.next_to_do(0.0, 3.0, "ON HOLD"),
        station_lines.next_to_do(0.0, 0.0, "RELEASABLE"),
        station_lines.next_to_do(0.0, 0.0, "RELEASED"),
        station_lines.next_to_do(2.0, 3.0, "REJECTED"),
    ]
    assert said == [
        station_lines.READ,
        station_lines.LOOK,
        station_lines.SIGN,
        station_lines.DONE_WITH,
        station_lines.DONE_WITH,
    ]


def test_without_forecast_says_when_one_station_of_several_is_left() -> None:
    assert station_lines.without_forecast("", "") == "as worked out"
    assert station_lines.without_forecast("", AS_IT_IS).startswith("none")
