"""Readings on the move: nothing is lost, altered or taken on trust between a book, a CSV and
another book.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from bored_block import JOB, bored_book, bored_layout, laid_out
from clean_readings import (
    CONCESSION,
    SIGNED,
    clean_book,
    clean_readings,
    demo_book,
    empty_book,
    shipped_layout,
    validated,
)
from command import run
from damaged_books import with_cell
from datumbook.carrying import CarryError, carry, from_csv, readings_csv, sound, typed_value
from datumbook.cells.columns import DateTyped
from datumbook.job import Job
from datumbook.spec import load_spec
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from project import full_form

BORE, HOLE, TICK, NOTE = (
    "bores.1.top.thrust",
    "lands.2_3.width",
    "cracks.all.outcome",
    "job.owner",
)


def saved(folder: Path, text: str, name: str = "readings.csv") -> Path:
    path = folder / name
    path.write_bytes(text.encode())
    return path


def fill(book: Path, readings: Path, out: Path) -> tuple[int, str]:
    made = run("fill", str(book), str(readings), "-o", str(out))
    return made.exit_code, " ".join(made.output.split())


@pytest.mark.parametrize("book", mostly_long([demo_book, empty_book, clean_book]))
def test_readings_out_as_csv_and_filled_in_again_are_the_same_book(
    tmp_path: Path, book: object
) -> None:
    assert callable(book)
    text = readings_csv(validated(book()))
    assert fill(empty_book(), saved(tmp_path, text), tmp_path / "again.xlsx")[0] == 0
    assert (tmp_path / "again.xlsx").read_bytes() == book().read_bytes()


def test_every_reading_has_its_line_even_when_blank() -> None:
    rows = list(csv.DictReader(io.StringIO(readings_csv(validated(empty_book())))))
    assert [row["key"] for row in rows] == [place.key for place in shipped_layout().readings()]
    assert {row["value"] for row in rows} == {""}
    assert list(rows[0]) == ["key", "sheet", "cell", "label", "unit", "value"]


def test_filling_keeps_what_the_book_holds_and_the_csv_wins(tmp_path: Path) -> None:
    new = saved(tmp_path, f"key,value\n{BORE},82.009\n{NOTE},Harbour Trust\n{HOLE},\n")
    assert fill(bored_book(), new, tmp_path / "filled.xlsx")[0] == 0
    made = validate(tmp_path / "filled.xlsx")
    kept = {
        key: value for key, value in clean_readings(bored_layout()).items() if key not in SIGNED
    }
    assert made.typed == {**kept, BORE: 82.009, NOTE: "Harbour Trust"}, (
        "the names stood under another reading"
    )
    assert made.typed[TICK] == clean_readings(bored_layout())[TICK]
    assert made.verdict == "release"
    assert {one.severity for one in made.findings} <= {"note"}, "at most that series are alike"


def test_a_damaged_book_is_refused_with_what_is_wrong_and_nothing_is_written(
    tmp_path: Path,
) -> None:
    place = bored_layout().place("bores.1.top.out_of_round")
    spoiled = with_cell(
        bored_book(), tmp_path / "spoiled.xlsx", (place.at.sheet, place.at.cell), holds=0.0
    )
    code, said = fill(
        spoiled, saved(tmp_path, f"key,value\n{BORE},82.0\n"), tmp_path / "filled.xlsx"
    )
    assert code == 2
    assert f"{place.at}".replace("!", " ") in said
    assert not (tmp_path / "filled.xlsx").exists()
    carried = carry(bored_layout(), spoiled)
    assert "formula was replaced" in carried.damage[0]
    given = {key for key in clean_readings(bored_layout()) if not key.startswith("decision.")}
    assert carried.typed.keys() == given
    with pytest.raises(CarryError, match="cut off"):
        sound(validate(saved(tmp_path, "PK\x03\x04 no archive", "broken.xlsx")))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("bores.9.top.thrust,82.0", "bores.9.top.thrust"),
        ("bores.1.top.out_of_round,0.0", "bores.1.top.out_of_round"),
        (f"{BORE},eighty", "line 3"),
        (f'{BORE},"82,0"', "line 3"),
        (f"{BORE},82 kg", "kg"),
        (f"{BORE},2026-02-31", "no day of the calendar"),
    ],
)
def test_a_key_or_a_value_that_cannot_be_is_refused_and_nothing_is_written(
    tmp_path: Path, line: str, said: str
) -> None:
    code, output = fill(
        bored_book(), saved(tmp_path, f"key,value\n{HOLE},0.64\n{line}\n"), tmp_path / "filled.xlsx"
    )
    assert code == 2
    assert said in output
    assert not (tmp_path / "filled.xlsx").exists()


@pytest.mark.parametrize("text", ["", "82.0\n", "name,size\nx,1\n", "key,\nx,1\n", "\x00\x01"])
def test_a_file_without_the_two_columns_is_refused_in_words(tmp_path: Path, text: str) -> None:
    with pytest.raises(CarryError, match="key and a value column"):
        from_csv(bored_layout(), saved(tmp_path, text))
    (tmp_path / "latin.csv").write_bytes("key,value\njob.owner,Bj\xf8rn\n".encode("latin-1"))
    with pytest.raises(CarryError, match="not UTF-8"):
        from_csv(bored_layout(), tmp_path / "latin.csv")


SPELLINGS = [
    "key,value\n{bore},82.009\n{hole},0.64\n",
    "key;value\n{bore};82.009\n{hole};0.64\n",
    "key\tvalue\n{bore}\t82.009\n{hole}\t0.64\n",
    "\ufeffkey,value\n{bore},82.009\n{hole},0.64\n",
    "key,value\r\n{bore},82.009\r\n{hole},0.64\r\n",
    "Value, Key ,remark\n82.009,{bore},by hand\n0.64,{hole},\n",
    "key,value,unit\n{bore},82.009,\n{hole},16.256,mm\n",
    "key,value,unit\n{bore},82.009 mm,mm\n{hole},640,thou\n",
    'key,value\n{bore},82.009\n\n{hole},"0.64 in"\n',
    'key,value\n"{bore}","82.009"\n{hole}, .64 \n',
    "key,value\n{bore},82.009\n{hole},16/25\n",
]


@pytest.mark.parametrize("text", SPELLINGS)
def test_a_csv_is_read_however_a_program_or_a_person_wrote_it(tmp_path: Path, text: str) -> None:
    carried = from_csv(bored_layout(), saved(tmp_path, text.format(bore=BORE, hole=HOLE)))
    assert (carried.typed, carried.homeless) == ({BORE: 82.009, HOLE: 0.64}, [])


def test_two_units_for_one_value_are_refused() -> None:
    with pytest.raises(CarryError, match="write one unit"):
        typed_value(bored_layout().place(BORE), "82.009 mm", "in")


RISKY = [
    "=1+1",
    "+44 20",
    "-",
    "@owner",
    "'quoted",
    "=cmd|' /C calc'!A0",
    "plain",
    "a,b;c",
    'say "no"',
]


@pytest.mark.parametrize("words", mostly_long(RISKY, 3))
def test_words_that_a_program_would_take_for_a_formula_are_quoted_and_come_back(
    tmp_path: Path, words: str
) -> None:
    write(bored_layout(), tmp_path / "book.xlsx", {NOTE: words})
    text = readings_csv(validate(tmp_path / "book.xlsx"))
    (value,) = [row["value"] for row in csv.DictReader(io.StringIO(text)) if row["key"] == NOTE]
    assert value[0] not in "=+-@"
    assert from_csv(bored_layout(), saved(tmp_path, text)).typed == {NOTE: words}


def test_numbers_below_nought_stay_numbers(tmp_path: Path) -> None:
    write(bored_layout(), tmp_path / "book.xlsx", {"instruments.bores.part": -2.5})
    text = readings_csv(validate(tmp_path / "book.xlsx"))
    assert from_csv(bored_layout(), saved(tmp_path, text)).typed == {"instruments.bores.part": -2.5}


def test_what_a_program_made_a_date_stays_one_and_is_found_again(tmp_path: Path) -> None:
    key = "holes_front_cover.F3.thread"
    carried = from_csv(shipped_layout(), saved(tmp_path, readings_csv(validated(demo_book()))))
    assert isinstance(carried.typed[key], DateTyped)
    assert carried.typed[key] == 46150


def in_other_units() -> Layout:
    return laid_out(JOB.model_copy(update={"units": {"bores": "in"}}))


def test_readings_move_into_a_book_of_other_units_and_the_block_is_judged_the_same(
    tmp_path: Path,
) -> None:
    layout = in_other_units()
    carried = carry(layout, bored_book())
    assert carried.homeless == []
    assert carried.typed[BORE] == pytest.approx(82.0 / 25.4, abs=1e-12)
    assert carried.typed[HOLE] == pytest.approx(16.0)
    write(layout, tmp_path / "book.xlsx", carried.typed)
    made = validate(tmp_path / "book.xlsx")
    assert (made.verdict, made.findings) == ("release", [])
    back = carry(bored_layout(), tmp_path / "book.xlsx")
    for key, value in clean_readings(bored_layout()).items():
        assert back.typed[key] == (
            pytest.approx(value, abs=1e-12) if isinstance(value, float) else value
        )


def test_readings_that_have_no_cell_in_the_new_book_are_listed_each(tmp_path: Path) -> None:
    text = (
        full_form("orrindale_qp4")
        .replace('"F5", "F6"]', '"F5"]')
        .replace('["170 mm", "135 mm"], ["170 mm", "30 mm"],', '["170 mm", "135 mm"],')
    )
    smaller = saved(tmp_path, text, "smaller.toml")
    more = {
        "holes_front_cover.F5.thread": 0.64,
        "holes_front_cover.F6.thread": 0.64,
        "holes_front_cover.F6.gauge": "fits",
    }
    larger = tmp_path / "larger.xlsx"
    write(shipped_layout(), larger, clean_readings(shipped_layout()) | more)
    carried = carry(lay_out(load_spec(smaller), Job(block="SQ-2209")), larger)
    homeless = [line for line in carried.homeless if "has no cell in the new book" in line]
    gone = [
        place.label
        for place in shipped_layout().readings()
        if place.key.startswith("holes_front_cover.F6.")
    ]
    filled = [label for label in gone if any(label in line for line in homeless)]
    assert len(filled) == len(homeless) == 2  # thread depth, gauge
    signed = [line for line in carried.homeless if "signed for another job or spec" in line]
    assert len(signed) == len(carried.homeless) - 2 == len(CONCESSION) + len(SIGNED)
    assert "holes_front_cover.F5.thread" in carried.typed


def test_a_csv_that_names_a_key_twice_is_a_fault_with_both_lines(tmp_path: Path) -> None:
    for second in (f"{BORE},82.0", f"{BORE},"):
        with pytest.raises(CarryError, match=f"lines 2 and 4: both name {BORE}"):
            from_csv(
                bored_layout(),
                saved(tmp_path, f"key,value\n{BORE},82.009\n{HOLE},0.64\n{second}\n"),
            )


def test_a_cell_that_holds_an_error_is_listed_and_not_dropped_in_silence(tmp_path: Path) -> None:
    at = bored_layout().place(BORE).at
    spoiled = with_cell(bored_book(), tmp_path / "spoiled.xlsx", (at.sheet, at.cell), holds="#N/A")
    carried = carry(bored_layout(), spoiled)
    assert BORE not in carried.typed
    assert [f"{at}: #N/A is neither number nor words" in line for line in carried.unread] == [True]
    text = readings_csv(validate(spoiled))
    assert f"{BORE},{at.sheet},{at.cell}," in text
    assert ",#N/A\n" in text
    code, said = fill(spoiled, saved(tmp_path, text), tmp_path / "filled.xlsx")
    assert code == 0
    assert f"Left out: {at}: #N/A" in said


def test_readings_of_a_damaged_book_come_with_a_warning_beside_them(tmp_path: Path) -> None:
    place = bored_layout().place("bores.1.top.out_of_round")
    spoiled = with_cell(
        bored_book(), tmp_path / "spoiled.xlsx", (place.at.sheet, place.at.cell), holds=0.0
    )
    made = run("readings", str(spoiled))
    assert made.exit_code == 0
    assert "is damaged" in made.stderr
    assert made.stdout == readings_csv(validated(bored_book()))
