"""Crack test and pressure test: what was found, where, and what holds by it. Common practice."""

from __future__ import annotations

from pathlib import Path

import pytest

from as_asked import values_of
from clean_readings import Readings, clean_readings, shipped_layout
from datumbook.equations.verdicts import OK, OPEN, OUT
from datumbook.report.page import report_html
from datumbook.validator import validate
from datumbook.writer import write

CRACK, JACKET = "cracks.all", "tightness.jacket"
FOUND = {f"{CRACK}.where": "between 2 and 3", f"{CRACK}.words": "hairline, 12 mm"}
SIGNED = {"reason": "no magnet here", "conceded_by": "A. N.", "conceded_on": "2026-05-11"}


def standing(check: str, typed: dict[str, str]) -> tuple[object, object]:
    values = values_of(shipped_layout(), clean_readings(shipped_layout()) | typed)
    return values[f"{check}.verdict"], values[f"release.{check}.verdict.standing"]


@pytest.mark.parametrize("row", [CRACK, f"finished_{JACKET}"])
@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ({"outcome": ""}, (OPEN, "holds")),
        ({"outcome": "not done", "words": "no bath"}, (OPEN, "holds")),
        ({"outcome": "sound"}, (OK, "passes")),
        ({"outcome": "cracked"}, (OUT, "holds")),
        ({"outcome": "repaired"}, (OPEN, "holds")),
        ({"outcome": "repaired", "again": "sound"}, (OK, "passes")),
        ({"outcome": "repaired", "again": "cracked"}, (OUT, "holds")),
    ],
)
def test_what_was_found_holds_or_passes(
    row: str, typed: dict[str, str], found: tuple[str, str]
) -> None:
    assert standing(row, {f"{row}.{name}": said for name, said in typed.items()}) == found


def test_a_first_pressure_test_that_leaked_is_answered_by_a_sound_second_one() -> None:
    first, second = {f"{JACKET}.outcome": "leaks"}, {f"finished_{JACKET}.outcome": ""}
    assert standing(JACKET, first | second) == (OUT, "holds")
    assert standing(JACKET, first) == (OUT, "passes")


def test_what_was_not_done_can_be_conceded() -> None:
    conceded = {f"release.{CRACK}.verdict.{name}": said for name, said in SIGNED.items()}
    assert standing(CRACK, {f"{CRACK}.outcome": "not done"} | conceded) == (OPEN, "conceded")


def test_a_crack_is_told_with_its_place_and_its_words(tmp_path: Path) -> None:
    readings: Readings = clean_readings(shipped_layout()) | {f"{CRACK}.outcome": "cracked"} | FOUND
    write(shipped_layout(), tmp_path / "book.xlsx", readings)
    made = validate(tmp_path / "book.xlsx")
    (one,) = made.findings
    assert (one.code, one.key) == ("check-out", f"{CRACK}.verdict")
    told = "cracked, between 2 and 3, hairline, 12 mm"
    assert told in one.message
    assert told in report_html(made)


def test_a_word_that_is_no_outcome_is_refused_by_cell(tmp_path: Path) -> None:
    readings = clean_readings(shipped_layout()) | {f"{CRACK}.outcome": "fine"}
    write(shipped_layout(), tmp_path / "book.xlsx", readings)
    made = validate(tmp_path / "book.xlsx")
    assert [(one.code, one.key) for one in made.findings] == [
        ("reading-not-a-choice", f"{CRACK}.outcome")
    ]
