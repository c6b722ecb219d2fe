"""Verdicts: first that applies, limits included, never wrong on a limit, in Python and in every
engine.

Sources: the decision rule after ISO 14253-1, each case worked by hand in whole ten-thousandths; the
rest count.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from case_book import CaseBook, Entry, Question
from datumbook.equations import verdicts
from datumbook.equations.faces import ALONG_AXIS, ALONG_ITSELF, ALONG_OPPOSITE, NOT_CUT
from datumbook.equations.line_bore import AS_THEY_ARE, BORED
from datumbook.formulas.tracing import called
from datumbook.numbers.units import to_coherent
from engines import Results

NAN = math.nan
STEPS = 10_000
tenths = st.integers(-50_000, 50_000)
widths = st.integers(0, 500)


def ruled(value: int, low: int, high: int, uncertainty: int) -> str:
    """The decision rule in whole numbers, where nothing is ever rounded."""
    if value + uncertainty < low or value - uncertainty > high:
        return "OUT"
    return "UNSURE" if value - uncertainty < low or value + uncertainty > high else "OK"


@given(tenths, tenths, widths, widths)
def test_verdict_between_is_the_rule_in_whole_numbers(
    value: int, low: int, width: int, uncertainty: int
) -> None:
    high = low + width
    found = verdicts.verdict_between(value / STEPS, low / STEPS, high / STEPS, uncertainty / STEPS)
    assert found == ruled(value, low, high, uncertainty)


@given(tenths, tenths, widths)
def test_verdict_at_most_and_verdict_at_least_are_verdict_between_with_one_end_far_away(
    value: int, limit: int, uncertainty: int
) -> None:
    found = verdicts.verdict_at_most(value / STEPS, limit / STEPS, uncertainty / STEPS)
    assert found == ruled(value, -(10**9), limit, uncertainty)
    found = verdicts.verdict_at_least(value / STEPS, limit / STEPS, uncertainty / STEPS)
    assert found == ruled(value, limit, 10**9, uncertainty)


@given(tenths, widths)
def test_no_value_at_all_is_open_whatever_the_limits(limit: int, uncertainty: int) -> None:
    assert verdicts.verdict_between(NAN, limit, limit, uncertainty) == "OPEN"
    assert verdicts.verdict_at_most(NAN, limit, uncertainty) == "OPEN"
    assert verdicts.verdict_at_least(NAN, limit, uncertainty) == "OPEN"


# --- 1500 cases exactly on a limit


def exact_cases() -> Iterator[tuple[Question, str]]:
    """Value, limits and uncertainty in ten-thousandths, so chosen that value ± uncertainty meets a
    limit exactly.
    """
    for number in range(375):
        nominal, tolerance, uncertainty = 400_000 + 1237 * number, 1 + number % 97, number % 23
        low, high = nominal - tolerance, nominal + tolerance
        for value in (low - uncertainty, low + uncertainty, high - uncertainty, high + uncertainty):
            unit = ("mm", "in")[number % 2]
            given = {"value": value, "low": low, "high": high, "uncertainty": uncertainty}
            entries = {name: Entry(steps / STEPS, unit) for name, steps in given.items()}
            yield (
                Question(verdicts.verdict_between, entries, None),
                ruled(value, low, high, uncertainty),
            )


def test_verdicts_exactly_on_a_limit_are_never_wrong_in_python() -> None:
    wrong = []
    for question, verdict in exact_cases():
        values = {
            name: to_coherent(float(one.value), str(one.unit))
            for name, one in question.given.items()
        }  # type: ignore[union-attr, arg-type]
        if called(question.equation, values) != verdict:
            wrong.append((values, verdict))
    assert not wrong


def test_verdicts_exactly_on_a_limit_are_never_wrong_in_an_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    cases = list(exact_cases())
    book = CaseBook([question for question, _ in cases])
    found = book.answers(engine(book.write(tmp_path / "exact.xlsx")))
    wanted = [verdict for _, verdict in cases]
    assert len(wanted) == 1500
    assert set(wanted) == {"OK", "UNSURE"}
    assert found == wanted


def test_raw_floats_would_have_been_wrong_in_many_of_these_cases() -> None:
    def raw(value: float, low: float, high: float, uncertainty: float) -> str:
        if value + uncertainty < low or value - uncertainty > high:
            return "OUT"
        return "UNSURE" if value - uncertainty < low or value + uncertainty > high else "OK"

    wrong = sum(
        called(raw, {name: one.value for name, one in question.given.items()}) != verdict  # type: ignore[union-attr]
        for question, verdict in exact_cases()
    )
    assert wrong > 100


# --- ticks, concessions, the state of the job


@pytest.mark.parametrize(
    ("value", "high", "verdict"),
    [
        (0.001, 0.001, "OK"),
        (0.002, 0.001, "OUT"),
        (NAN, 0.001, ""),
        (0.002, NAN, "OPEN"),
        (NAN, NAN, ""),
    ],
)
def test_stated_at_most(value: float, high: float, verdict: str) -> None:
    assert verdicts.stated_at_most(value, high) == verdict


@pytest.mark.parametrize(
    ("tick", "verdict"),
    [("done", "OK"), ("DONE", "OK"), ("", "OPEN"), ("not done", "OUT"), (" done", "OUT")],
)
def test_verdict_of_tick(tick: str, verdict: str) -> None:
    assert verdicts.verdict_of_tick(tick) == verdict


NAN = float("nan")


@pytest.mark.parametrize(
    "equation", [verdicts.verdict_between, verdicts.verdict_at_most, verdicts.verdict_at_least]
)
def test_no_missing_number_of_a_verdict_is_ever_ok(equation: Callable[..., str]) -> None:
    names = list(inspect.signature(equation).parameters)
    sound = {"value": 1.0, "low": 0.5, "high": 1.5, "uncertainty": 0.0}
    assert equation(**{name: sound[name] for name in names}) == "OK"
    for missing in names:
        assert (
            equation(**{name: NAN if name == missing else sound[name] for name in names}) == "OPEN"
        )


def test_fresh_between_is_stale_once_a_later_operation_moved_the_feature() -> None:
    assert verdicts.fresh_between(1.0, 0.5, 1.5, 0.0, moved_since=NAN) == "OK"
    assert verdicts.fresh_between(1.0, 0.5, 1.5, 0.0, moved_since=4.0) == "STALE"
    assert verdicts.fresh_between(2.0, 0.5, 1.5, 0.0, moved_since=NAN) == "OUT"
    assert verdicts.fresh_between(NAN, 0.5, 1.5, 0.0, moved_since=4.0) == "OPEN", (
        "a missing reading comes first"
    )


def test_fresh_at_most_and_fresh_at_least_are_stale_before_anything_is_judged() -> None:
    assert verdicts.fresh_at_most(1.0, 1.5, 0.0, moved_since=NAN) == "OK"
    assert verdicts.fresh_at_most(2.0, 1.5, 0.0, moved_since=1.0) == "STALE"
    assert verdicts.fresh_at_least(0.4, 0.5, 0.2, moved_since=1.0) == "STALE"
    assert verdicts.fresh_at_least(0.4, 0.5, 0.2, moved_since=NAN) == "UNSURE"
    assert verdicts.fresh_at_least(0.2, 0.5, 0.2, moved_since=NAN) == "OUT"


def test_verdict_of_cut_holds_an_intended_cut_until_it_is_done() -> None:
    for decided_on in (ALONG_AXIS, ALONG_OPPOSITE, ALONG_ITSELF, BORED):
        for intended in (0.1, 0.0, -0.1):
            assert verdicts.verdict_of_cut(decided_on, intended, NAN) == "OPEN"
            assert verdicts.verdict_of_cut(decided_on, intended, 4.0) == "OK"
        assert verdicts.verdict_of_cut(decided_on, NAN, 4.0) == "OPEN"
    for stays in (NOT_CUT, AS_THEY_ARE):
        assert verdicts.verdict_of_cut(stays, 0.0, NAN) == "OK"
    assert verdicts.verdict_of_cut("", 0.0, NAN) == "OPEN"
    assert verdicts.verdict_of_cut("", NAN, 4.0) == "OPEN"


def test_verdict_of_count_is_open_until_all_are_there_and_out_with_one_too_many() -> None:
    assert [verdicts.verdict_of_count(counted, 5.0) for counted in (NAN, 0.0, 4.0, 5.0, 6.0)] == [
        "OPEN"
    ] * 3 + ["OK", "OUT"]
    assert verdicts.verdict_of_count(0.0, 0.0) == "OPEN", "nothing has come out yet"


def test_asked_at_most_and_asked_at_least_are_that_of_its_size_blank_where_none_goes_in() -> None:
    assert verdicts.asked_at_most("yes", 0.090, 0.080, 0.0) == "OUT"
    assert verdicts.asked_at_most("yes", 0.079, 0.080, 0.002) == "UNSURE"
    assert verdicts.asked_at_most("yes", math.nan, 0.080, 0.0) == "OPEN"
    assert verdicts.asked_at_most("", math.nan, 0.080, 0.0) == ""
    assert [verdicts.asked_at_least(said, 1.1, 1.2, 0.0) for said in ("yes", "no")] == ["OUT", ""]


@given(tenths, tenths)
def test_verdict_of_spread_is_plain_acceptance_the_limit_included(spread: int, most: int) -> None:
    assert verdicts.verdict_of_spread(spread / STEPS, most / STEPS) == (
        verdicts.OK if spread <= most else verdicts.OUT
    )
    assert (
        verdicts.verdict_of_spread(NAN, most / STEPS)
        == verdicts.verdict_of_spread(spread / STEPS, NAN)
        == verdicts.OPEN
    )


@pytest.mark.parametrize(
    ("outcome", "again", "verdict"),
    [
        ("", "", "OPEN"),
        ("not done", "", "OPEN"),
        ("not done", "sound", "OPEN"),
        ("sound", "", "OK"),
        ("cracked", "", "OUT"),
        ("leaks", "sound", "OUT"),
        ("repaired", "", "OPEN"),
        ("repaired", "sound", "OK"),
        ("Repaired", "leaks", "OUT"),
        ("good", "", "OUT"),
    ],
)
def test_verdict_of_outcome(outcome: str, again: str, verdict: str) -> None:
    assert verdicts.verdict_of_outcome(outcome, again) == verdict


def test_spot_between_spot_at_most_and_spot_at_least_ask_nothing_where_nothing_is_read() -> None:
    assert verdicts.spot_between(NAN, 0.5, 1.5, 0.0, moved_since=4.0) == ""
    assert verdicts.spot_at_most(NAN, 1.5, 0.0, moved_since=NAN) == ""
    assert verdicts.spot_at_least(NAN, 0.5, 0.0, moved_since=NAN) == ""
    assert verdicts.spot_between(1.6, 0.5, 1.5, 0.0, moved_since=NAN) == "OUT"
    assert verdicts.spot_at_most(1.4, 1.5, 0.2, moved_since=NAN) == "UNSURE"
    assert verdicts.spot_at_least(1.0, 0.5, 0.0, moved_since=4.0) == "STALE"
    assert verdicts.spot_at_least(1.0, NAN, 0.0, moved_since=NAN) == "OPEN"


def test_read_between_asks_nothing_where_nothing_is_read_and_judges_what_is() -> None:
    assert verdicts.read_between(NAN, 9.9, 10.0, 0.0) == ""
    for value, verdict in ((9.9, "OK"), (10.0, "OK"), (9.8, "OUT"), (10.1, "OUT")):
        assert verdicts.read_between(value, 9.9, 10.0, 0.0) == verdict
    assert verdicts.read_between(9.95, 9.9, 10.0, 0.08) == "UNSURE"


def test_verdict_of_gauge_and_gauged_good_put_one_hole_out_and_the_others_with_their_group() -> (
    None
):
    assert [verdicts.verdict_of_gauge(one) for one in ("", "fits", "not")] == ["", "OK", "OUT"]
    assert [verdicts.gauged_good(one, "OK") for one in ("", "fits", "not")] == ["done", "done", ""]
    assert [verdicts.gauged_good(one, "OPEN") for one in ("", "fits", "not")] == ["", "done", ""]
