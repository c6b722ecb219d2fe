"""The change of a job half way: a new book takes over every reading that has a place in it, and
lists the rest; what was decided for the old work is decided anew.
"""

from __future__ import annotations

from functools import cache
from itertools import permutations
from pathlib import Path

import pytest

from command import run
from datumbook.carrying import carry
from datumbook.comparison import compare
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from simulation.good_job import GoodJob

WORKS = ("measure", "recondition", "full", "deck,hole_work")


@cache
def layout(work: str) -> Layout:
    return lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job("7", work=work.split(",")))


@pytest.mark.parametrize(("first", "then"), mostly_long(permutations(WORKS, 2), 2))
def test_every_reading_goes_over_or_is_listed(first: str, then: str, tmp_path: Path) -> None:
    old, new = layout(first), layout(then)
    typed = GoodJob(old, 3).done()
    write(old, tmp_path / "old.xlsx", typed)
    carried = carry(new, tmp_path / "old.xlsx")
    here = {place.key for place in new.readings()}
    decision = {key for key in typed if key.startswith("decision.")}
    kept = {key: one for key, one in typed.items() if key in here and key not in decision}
    assert carried.typed == kept
    assert carried.unread == []
    assert len(carried.homeless) == len(typed) - len(kept)
    for line in carried.homeless:
        assert "has no cell in the new book" in line or "signed for another work" in line


def test_a_concession_stands_when_the_work_changes_and_the_release_does_not(tmp_path: Path) -> None:
    old, new = layout("measure"), layout("full")
    check = next(key for key in old.stations.release.checks.of if key.startswith("bores.1."))
    conceded = {
        f"release.{check}.conceded_value": 0.041,
        f"release.{check}.reason": "owner accepts",
        f"release.{check}.conceded_by": "A. N.",
        f"release.{check}.conceded_on": "2026-05-04",
        "decision.measured_by": "A. N.",
    }
    write(old, tmp_path / "old.xlsx", conceded)
    carried = carry(new, tmp_path / "old.xlsx")
    assert carried.typed == {key: one for key, one in conceded.items() if "decision" not in key}
    assert [line for line in carried.homeless if "signed for another work" in line]


def test_the_comparison_of_two_works_says_so(tmp_path: Path) -> None:
    for number, work in enumerate(("measure", "recondition")):
        write(layout(work), tmp_path / f"{number}.xlsx", GoodJob(layout(work), 3).done())
    books = [validate(tmp_path / f"{number}.xlsx") for number in range(2)]
    (said,) = [
        one for one in compare(*books).warnings if one.startswith("The work is not the same")
    ]
    assert "measured as it came" in said
    assert "faces skimmed" in said


def test_the_command_carries_over_and_says_what_it_did(tmp_path: Path) -> None:
    old, new = tmp_path / "old.xlsx", tmp_path / "new.xlsx"
    write(layout("full"), old, GoodJob(layout("full"), 3).done())
    made = run(
        *("generate", "orrindale_qp4", "--work", "measure", "--block", "7"),
        *("--readings", str(old), "-o", str(new)),
    )
    assert made.exit_code == 0
    assert "readings carried over." in made.stdout
    assert "Not carried over: Finished!" in made.stdout
    assert "10 sheets" in made.stdout
