"""How far a bore came in worn, out of round and tapered holds no plan up that leaves the bore
whole; at the other stages it holds the job as before.

Source: common practice, no source; the readings are invented.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from damages import DAMAGES, RESULT
from datumbook.cells.tables import Stage
from datumbook.equations.verdicts import OUT
from datumbook.validator import validate
from datumbook.validator.judge.cured import cured

LAYOUT = shipped_layout()
STAGES: tuple[Stage, ...] = ("received", "finished")
BORED = {f"bore_plan.{number}.typed_bore": 82.50 for number in range(1, 5)}
WORN = {"bores.2.middle.thrust": 82.06}  # 0.06 out of round; clean at 82.00 + 2 × 0.06 and stock


def _cured(told: Mapping[str, object]) -> dict[str, str]:
    values = values_of(LAYOUT, {**clean_readings(LAYOUT), **told})
    assert values[f"{RESULT}.verdict"] == OUT
    return {str(key): size for key, size in cured(LAYOUT, values).items()}


def test_a_bore_that_the_plan_leaves_clean_is_cured() -> None:
    assert _cured(WORN | BORED) == {RESULT: "82.500 mm"}


@pytest.mark.parametrize(
    "otherwise",
    [
        {"bore_plan.2.typed_bore": 82.06},  # not bored
        {"bore_plan.2.typed_bore": 82.17},  # less than its stock more than 82.12
        {"bore_plan.2.typed_offset": 0.20},  # the wall left behind wants 0.40 more
        {"bore_plan.2.typed_offset": 0.12, "bore_plan.2.typed_across": 0.16},  # 0.20 as well
    ],
)
def test_a_bore_that_the_plan_does_not_clean_is_not(otherwise: Mapping[str, object]) -> None:
    assert _cured(WORN | BORED | otherwise) == {}


def test_a_lip_that_was_misread_is_cured_by_no_boring() -> None:
    assert "bore.2.wear" not in _cured(WORN | BORED | {"bore.2.unworn_lip": 82.20})


def test_at_no_other_stage_anything_is_looser(tmp_path: Path) -> None:
    path = DAMAGES["cured-by-plan"].inflict(tmp_path / "book.xlsx")
    received, finished = (validate(path, stage) for stage in STAGES)
    assert [one.code for one in received.findings if one.key == RESULT] == ["check-out"]
    assert received.exit_status == finished.exit_status == 1
    assert "cured-by-plan" not in {one.code for one in (*received.findings, *finished.findings)}
