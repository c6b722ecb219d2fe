"""What was released is held by eight signs: any later change is told, no honest saving is."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bored_block import bored_layout
from clean_readings import clean_readings
from command import run
from datumbook.validator import validate
from datumbook.validator.judge.seal import seal_of
from datumbook.writer import write

SEAL = "decision.seal"


def released_readings() -> dict[str, float | str]:
    return clean_readings(bored_layout()) | {"decision.decision": "released"}


def sealed(path: Path, seal: str = "", **changed: float | str) -> Path:
    """The sound book with what is changed in it, sealed as it was before the change."""
    layout, typed = bored_layout(), released_readings()
    own = seal or seal_of(layout, typed)
    write(layout, path, typed | {k.replace("__", "."): v for k, v in changed.items()} | {SEAL: own})
    return path


def test_a_sealed_book_is_released_and_says_so(tmp_path: Path) -> None:
    book = sealed(tmp_path / "book.xlsx")
    made = validate(book)
    assert (made.findings, made.state) == ([], "RELEASED")
    assert f"Sealed as {made.seal}; nothing was changed since." in run("validate", book).output


def test_a_released_book_is_told_its_seal(tmp_path: Path) -> None:
    write(bored_layout(), tmp_path / "book.xlsx", typed := released_readings())
    said = run("validate", tmp_path / "book.xlsx").output
    assert f"Seal of all that stands in it: {seal_of(bored_layout(), typed)}." in said


@pytest.mark.parametrize(
    "changed",
    [
        {"bores__2__middle__thrust": 82.001},
        {"decision__measured_by": "Somebody Else"},
        {"job__received_on": "2026-05-03"},
        {"job__owner": "another owner"},
    ],
)
def test_a_change_after_the_release_holds_the_job(
    changed: dict[str, float | str], tmp_path: Path
) -> None:
    made = validate(sealed(tmp_path / "book.xlsx", **changed))
    assert "seal-broken" in [one.code for one in made.findings]
    assert made.exit_status == 1


@given(st.data())
def test_any_one_entry_changed_or_taken_away_has_another_seal(data: st.DataObject) -> None:
    layout, typed = bored_layout(), released_readings()
    before, key = seal_of(layout, typed), data.draw(st.sampled_from(sorted(typed)))
    value = typed[key]
    other = value + 0.001 if isinstance(value, float) else f"{value}x"
    assert seal_of(layout, typed | {key: other}) != before
    assert seal_of(layout, {k: v for k, v in typed.items() if k != key}) != before


def test_what_programs_do_to_words_and_numbers_leaves_the_seal() -> None:
    layout, typed = bored_layout(), released_readings()
    saved = {
        key: value * (1 + 1e-15) if isinstance(value, float) else f" {value} "
        for key, value in typed.items()
    }
    assert seal_of(layout, saved) == seal_of(layout, typed)
    said = {**typed, "job.owner": "8.80"}
    assert seal_of(layout, said) == seal_of(layout, {**typed, "job.owner": 8.8})


def test_a_seal_copied_by_hand_may_be_small_and_spaced(tmp_path: Path) -> None:
    own = seal_of(bored_layout(), released_readings())
    made = validate(sealed(tmp_path / "book.xlsx", seal=f" {own.lower()} "))
    assert made.findings == []
    wrong = validate(sealed(tmp_path / "wrong.xlsx", seal="ABCD-EFGH"))
    assert [one.code for one in wrong.findings] == ["seal-broken"]


def test_another_job_or_spec_has_another_seal() -> None:
    layout = bored_layout()
    other = layout.for_job(layout.job.model_copy(update={"block": "OTHER"}), "0000-0000-0000")
    assert seal_of(layout, {}) != seal_of(other, {})
