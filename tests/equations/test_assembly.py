"""The state of assembly: which condition differs, what that makes of a verdict, and which number it
takes. Source: common practice, counted here by hand and by plain lists of words.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest

from datumbook.equations import assembly, verdicts
from datumbook.equations.assembly import (
    DIFFERS,
    NOT_SAID,
    WARMTH,
    first_that_differs,
    out_of_warmth,
    said_or_not,
    unfit,
    unfit_by_state,
    unlike_state,
    unlike_torque,
    verdict_of_state,
)

NAN = float("nan")
MARKS = ("", NOT_SAID, DIFFERS, WARMTH)


@pytest.mark.parametrize(
    ("read", "meant", "mark"),
    [
        ("torqued", "torqued", ""),
        ("Torqued", "torqued", ""),
        ("off", "torqued", DIFFERS),
        ("yes", "torqued", DIFFERS),
        ("", "torqued", NOT_SAID),
    ],
)
def test_unlike_state_and_said_or_not(read: str, meant: str, mark: str) -> None:
    assert unlike_state(read, meant) == mark
    assert said_or_not(read) == ("" if read else NOT_SAID)


@pytest.mark.parametrize(
    ("thousandths", "mark"), [(950, ""), (949, DIFFERS), (1050, ""), (1051, DIFFERS), (1000, "")]
)
def test_unlike_torque_takes_its_share_of_what_is_meant_with_both_ends(
    thousandths: int, mark: str
) -> None:
    for meant in (42.0, 57.0, 98.1, 120.0):
        assert unlike_torque(thousandths * meant / 1000, meant, within=0.05) == mark
    assert unlike_torque(NAN, 57.0, within=0.05) == NOT_SAID


@pytest.mark.parametrize("tenths", range(170, 232, 3))
def test_out_of_warmth_is_the_band_in_whole_tenths(tenths: int) -> None:
    assert out_of_warmth(tenths / 10, 18.0, 22.0) == ("" if 180 <= tenths <= 220 else WARMTH)
    assert out_of_warmth(NAN, 18.0, 22.0) == NOT_SAID


@pytest.mark.parametrize("marks", [*product(MARKS, repeat=3)])
def test_unfit_by_state_verdict_of_state_and_first_that_differs_over_every_three_conditions(
    marks: tuple[str, ...],
) -> None:
    found = unfit_by_state(*marks)
    assert found == ("STALE" if DIFFERS in marks else "OPEN" if WARMTH in marks else "")
    unsaid = "OPEN" if NOT_SAID in marks else "OK"
    assert verdict_of_state(found, *marks) == (found or unsaid)
    remedies = ("caps", "plate", "rest")
    wanted = [one for one, mark in zip(remedies, marks, strict=True) if mark in (DIFFERS, WARMTH)]
    pairs = [cell for pair in zip(marks, remedies, strict=True) for cell in pair]
    assert first_that_differs(*pairs) == (wanted[0] if wanted else "")


@pytest.mark.parametrize(("moved", "by_state"), [*product((NAN, 4.0), ("", "STALE", "OPEN"))])
def test_unfit_is_stale_where_it_was_moved_whatever_its_state(moved: float, by_state: str) -> None:
    assert unfit(moved, by_state) == (by_state if moved != moved else "STALE")


@pytest.mark.parametrize("shape", ["between", "at_most", "at_least"])
@pytest.mark.parametrize("value", [NAN, 9.8, 9.9, 9.95, 10.0, 10.1])
def test_in_state_between_in_state_at_most_and_in_state_at_least_judge_only_what_counts(
    shape: str, value: float
) -> None:
    plain: Callable[..., str] = getattr(verdicts, f"verdict_{shape}")
    in_state: Callable[..., str] = getattr(assembly, f"in_state_{shape}")
    ends = {"between": {"low": 9.9, "high": 10.0}, "at_most": {"high": 10.0}}.get(
        shape, {"low": 9.9}
    )
    judged = plain(value=value, uncertainty=0.01, **ends)
    assert in_state(value=value, uncertainty=0.01, unfit="", **ends) == judged
    for word in ("STALE", "OPEN"):
        held = in_state(value=value, uncertainty=0.01, unfit=word, **ends)
        assert held == ("OPEN" if value != value else word)
