"""A book that another version laid out: its readings move by its own record and names, and none is
dropped in silence.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import datumbook
import datumbook.writer
from bored_block import JOB, bored_book, bored_layout, laid_out
from clean_readings import clean_readings
from command import run
from damaged_books import with_cell, with_workbook
from datumbook.carrying import CarryError, carry
from datumbook.validator import validate
from datumbook.workbook.record import chunks
from datumbook.writer import write
from long_runs import mostly_long
from older_books import READING, older_book
from records import content_of, repacked_lines
from xlsx_parts import MAIN


def test_its_readings_are_carried_and_what_found_no_home_is_listed(tmp_path: Path) -> None:
    book = older_book(tmp_path / "old.xlsx")
    assert [one.code for one in validate(book).findings] == ["version-differs"]
    carried = carry(bored_layout(), book)
    wanted = clean_readings(bored_layout())
    assert carried.typed == {
        key: typed for key, typed in wanted.items() if not key.startswith("decision.")
    }
    said = "\n".join(carried.homeless)
    assert "Harbour Trust has no cell in the new book" in said
    assert said.count("signed for another job, spec or version") == sum(
        key.startswith("decision.") for key in wanted
    )


def test_another_unit_of_the_old_book_is_turned_into_the_new_one(tmp_path: Path) -> None:
    def in_inches(line: list[Any]) -> None:
        if line[0] == READING:
            line[3] = "in"

    carried = carry(bored_layout(), older_book(tmp_path / "old.xlsx", in_inches, {READING: 3.25}))
    assert carried.typed[READING] == pytest.approx(3.25 * 25.4, abs=1e-12)


def test_an_older_book_is_read_by_its_names_first(tmp_path: Path) -> None:
    place = bored_layout().place(READING)

    def elsewhere(line: list[Any]) -> None:
        if line[0] == READING:
            line[2] = "Z99"

    assert (
        carry(bored_layout(), older_book(tmp_path / "old.xlsx", elsewhere)).typed[READING] == 82.0
    )

    def without_names(root: Any) -> None:
        for name in list(root.iter(f"{MAIN}definedName")):
            name.getparent().remove(name)

    bare = with_workbook(older_book(tmp_path / "half.xlsx"), tmp_path / "bare.xlsx", without_names)
    assert carry(bored_layout(), bare).typed[READING] == 82.0, f"found at {place.at}"


@pytest.mark.parametrize(
    ("holds", "said"), mostly_long([("#N/A", "#N/A"), ("   ", ""), ("82,014", "")])
)
def test_what_is_no_reading_is_listed_and_words_stay_words(
    tmp_path: Path, holds: str, said: str
) -> None:
    at = bored_layout().place(READING).at
    spoiled = with_cell(
        older_book(tmp_path / "half.xlsx"), tmp_path / "old.xlsx", (at.sheet, at.cell), holds=holds
    )
    carried = carry(bored_layout(), spoiled)
    assert [f"{at}: {said} is neither" in line for line in carried.unread] == (
        [True] if said else []
    )
    assert carried.typed.get(READING) == (holds if "," in holds else None)


def test_an_older_book_that_is_damaged_besides_is_refused(tmp_path: Path) -> None:
    lines = chunks(bored_layout())
    at = ("Record", "A2")
    older = older_book(tmp_path / "half.xlsx")
    spoiled = with_cell(older, tmp_path / "old.xlsx", at, holds=lines[1][:-3] + "AAA")
    with pytest.raises(CarryError, match="record"):
        carry(bored_layout(), spoiled)


def test_generate_takes_an_older_book_and_prints_what_it_left(tmp_path: Path) -> None:
    older_book(tmp_path / "old.xlsx")
    new = tmp_path / "new.xlsx"
    made = run(
        "generate",
        "orrindale_qp4",
        "--block",
        bored_layout().job.block,
        "--work",
        "bore",
        "-o",
        str(new),
        "--readings",
        str(tmp_path / "old.xlsx"),
    )
    assert made.exit_code == 0, made.output
    assert "Not carried over: " in made.output
    assert validate(new).values[READING] == 82.0


def test_a_book_of_this_version_laid_out_otherwise_says_so_in_its_own_sentence(
    tmp_path: Path,
) -> None:
    with pytest.MonkeyPatch.context() as patch:
        content = content_of(bored_layout())
        content["map"][5][2] = "Z99"
        patch.setattr(datumbook.writer, "chunks", lambda *_, **__: repacked_lines(content))
        write(bored_layout(), tmp_path / "book.xlsx", clean_readings(bored_layout()))
    (one,) = validate(tmp_path / "book.xlsx").findings
    assert one.code == "layout-differs"
    assert f"this version of the tool, {datumbook.VERSION}, made it" in one.message
    assert carry(bored_layout(), tmp_path / "book.xlsx").typed[READING] == 82.0


def test_the_same_layout_is_no_older_book() -> None:
    layout = laid_out(JOB)
    assert carry(layout, bored_book()).typed == clean_readings(layout)
