"""The demonstration: its files are there, and exactly the honest problems of its story are
found.
"""

from __future__ import annotations

from pathlib import Path

from clean_readings import CONCEDED, demo_book, shipped_layout, validated
from datumbook.carrying import from_csv
from datumbook.commands.demo import BLOCK, ENGINE, run_demo
from datumbook.equations.verdicts import OPEN
from datumbook.spec import shipped_specs

READINGS = shipped_specs()[ENGINE].with_suffix(".readings.csv")
STORY = {
    ("reading-is-date", "holes_front_cover.F3.thread"),
    ("reading-missing", "holes_head_studs.D1.counterbore"),
}
"""What was forgotten, and what a program made of 5/8. The limits missed depend on the spec:
below.
"""


def test_the_verdict_is_hold_and_the_problems_are_those_of_the_story() -> None:
    made = validated(demo_book())
    assert (made.verdict, made.exit_status, made.state) == ("hold", 1, "ON HOLD")
    assert {(one.code, one.key) for one in made.findings if one.severity == "reading"} >= STORY
    assert {one.severity for one in made.findings} <= {"reading", "check"}, (
        "nothing happened to the book itself"
    )
    assert next(one for one in made.findings if one.code == "reading-is-date").suggestion == "5/8"


def test_every_check_that_is_out_is_told_or_conceded_or_of_the_block_as_it_came() -> None:
    made, layout = validated(demo_book()), shipped_layout()
    told = {one.key for one in made.findings if one.severity == "check"}
    holding = [
        check for check in layout.checks if made.values[f"release.{check.key}.standing"] == "holds"
    ]
    assert told <= {check.key for check in holding}
    spoiled = {one.key for one in made.findings if one.severity == "reading"}
    assert {check.key for check in holding if made.values[check.verdict] != OPEN} <= told | spoiled
    assert "block_corners.rear_left.overall" in told, (
        "the deck cut intended takes the block below its least height"
    )
    assert CONCEDED not in told


def test_every_reading_of_the_story_has_its_cell_and_comes_back() -> None:
    carried = from_csv(shipped_layout(), READINGS)
    assert carried.homeless == []
    assert validated(demo_book()).typed == carried.typed


def test_the_files_are_the_same_bytes_each_time(tmp_path: Path) -> None:
    demo = run_demo(tmp_path / "deep" / "folder")
    assert demo.spec.read_bytes() == shipped_specs()[ENGINE].read_bytes()
    assert demo.filled.read_bytes() == demo_book().read_bytes()
    assert demo.empty.is_file()
    assert demo.validation.layout is not None
    assert demo.validation.layout.job.block == BLOCK
