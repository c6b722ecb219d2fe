"""A reading is what a person read: a formula that could change it holds the job and is named by its
cell, in both formats; a sum of numbers alone is honest, worked out here and held against the value
saved with it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import openpyxl
import pytest

from bored_block import at, bored_book, bored_layout
from command import run
from datumbook.carrying import CarryError, carry, from_csv, readings_csv
from datumbook.readers.arithmetic import arithmetic
from datumbook.readers.formulas import outside
from datumbook.validator import Validation, validate
from engines import roundtrip
from long_runs import mostly_long
from worked_out import Stored, in_ods, in_xlsx, kept

Put = Callable[[Path, Mapping[str, Stored]], Path]

SIZES = [
    f"bores.{number}.{depth}.{way}"
    for number in (1, 2, 3, 4)
    for depth in ("top", "middle", "bottom")
    for way in ("thrust", "axial")
]
TICKS = ["cracks.all.outcome", "measured_bores.step"]
SIGNED = ["decision.measured_by", "decision.released_by", "decision.read_again"]
DAY = "decision.released_on"

# a name of our own: the formula as .xlsx and as .ods store it
NUMBERS = {
    "another cell": ("B12", "of:=[.B12]"),
    "another cell and nothing": ("B12+0", "of:=[.B12]+0"),
    "another sheet": ("Finished!B9", "of:=[$Finished.B9]"),
    "a cell by words": ('INDIRECT("B12")', 'of:=INDIRECT("B12")'),
    "a cell by steps": ("OFFSET(A1,11,1)", "of:=OFFSET([.A1];11;1)"),
    "a defined name": ("r_bores.1.top.axial", "of:=r_bores.1.top.axial"),
    "a mean": ("AVERAGE(B:B)", "of:=AVERAGE([.B1:.B1048576])"),
    "chance": ("RAND()", "of:=RAND()"),
    "chance that does nothing": ("82+0*RAND()", "of:=82+0*RAND()"),
    "the clock": ("82+NOW()*0", "of:=82+NOW()*0"),
    "words as a number": ('VALUE("82.0")', 'of:=VALUE("82.0")'),
    "a number in a function": ("N(82)", "of:=N(82)"),
    "a sum by a function": ("SUM(81.9,0.1)", "of:=SUM(81.9;0.1)"),
    "a choice": ("IF(TRUE,82,83)", "of:=IF(TRUE();82;83)"),
    "a constant array": ("{82.0}", "of:={82.0}"),
    "percent": ("8200%", "of:=8200%"),
    "words and a number": ('"82"+0', 'of:="82"+0'),
    "a power": ("82^1", "of:=82^1"),
    "two numbers without a sign": ("82 0", "of:=82 0"),
    "unreadable": ("82+(", "of:=82+("),
    "unreadable signs": ("82§§", "of:=82§§"),
}
OUTSIDE = {
    "the web": (
        'WEBSERVICE("https://example.org/82")',
        'of:=COM.MICROSOFT.WEBSERVICE("https://example.org/82")',
    ),
    "another program": ('DDE("soffice","a.ods","b")', 'of:=DDE("soffice";"a.ods";"b")'),
    "another file": ("[1]Plan!B2", "of:=['file:///tmp/a.ods'#$Plan.B2]"),
}
IN_WORDS = {
    "today": ('TEXT(TODAY(),"yyyy-mm-dd")', 'of:=TEXT(TODAY();"yyyy-mm-dd")'),
    "another cell": ("B12", "of:=[.B12]"),
    "words alone": ('"A. N."', 'of:="A. N."'),
    "joined": ('"A."&" N."', 'of:="A."&" N."'),
    "a choice": ('IF(1=1,"yes","no")', 'of:=IF(1=1;"yes";"no")'),
    "a cell by words": ('INDIRECT("B12")', 'of:=INDIRECT("B12")'),
    "a number": ("82", "of:=82"),
}
SUMS = {
    "81.9+0.1": 82.0,
    "82+0.001": 82.001,
    "164/2": 82.0,
    "(80+84)/2": 82.0,
    "41*2": 82.0,
    "+82.002": 82.002,
    "-(-82)": 82.0,
    "8.2E1": 82.0,
}
LIES = {"82.9+0.1": 82.0, "164/2": 82.01, "82.002": "82.002", "82+0": 8.2}


@pytest.fixture(
    scope="module", params=["xlsx", pytest.param("ods", marks=pytest.mark.program("libreoffice"))]
)
def put(request: pytest.FixtureRequest) -> Put:
    """How formulas come into a clean book of each format."""
    if request.param == "xlsx":
        return lambda folder, cells: in_xlsx(bored_book(), folder / "book.xlsx", cells)
    source = roundtrip("libreoffice_ods", bored_book())
    return lambda folder, cells: in_ods(source, folder / "book.ods", cells)


def said(made: Validation) -> dict[tuple[str, str], str]:
    """What is found, by sheet and cell; results that still show the readings replaced left out."""
    return {
        (one.sheet, one.cell): one.code
        for one in made.findings
        if one.code not in ("results-stale", "results-missing") and one.severity != "note"
    }


def test_every_formula_that_is_no_sum_of_numbers_holds_the_job_in_its_cell(
    put: Put, tmp_path: Path
) -> None:
    cells = {
        key: Stored(*spelled, kept(key))
        for key, spelled in zip(SIZES, NUMBERS.values(), strict=False)
    }
    assert len(cells) == len(NUMBERS) > 18
    made = validate(put(tmp_path, cells))
    assert said(made) == {at(key): "reading-worked-out" for key in cells}
    assert (made.verdict, made.exit_status) == ("hold", 1)
    assert not cells.keys() & made.typed.keys(), "what nobody read is no reading"


def test_a_formula_that_reaches_out_is_damage_and_no_reading(put: Put, tmp_path: Path) -> None:
    for spelled in OUTSIDE.values():
        made = validate(put(tmp_path, {SIZES[0]: Stored(*spelled, 82.0)}))
        told = [one for one in made.findings if (one.sheet, one.cell) == at(SIZES[0])]
        assert [(one.code, one.key) for one in told] == [("formula-outside", SIZES[0])]
        assert (made.verdict, SIZES[0] in made.typed) == ("untrusted", False)


def test_what_calls_another_program_by_its_older_spelling_reaches_out() -> None:
    # ECMA-376 part 1, 18.17: of a link to another program, its name, a bar, its topic
    assert outside("cmd|'/c calc'!A0") == "d|'/c calc'!"
    assert outside('"a|b"&B11') is None
    assert outside("SUM(B11:B13)") is None


@pytest.mark.parametrize("spelled", mostly_long(IN_WORDS, 2))
def test_a_tick_a_name_a_reason_or_a_day_by_formula_holds_the_job_in_its_cell(
    put: Put, spelled: str, tmp_path: Path
) -> None:
    cells = {key: Stored(*IN_WORDS[spelled], kept(key)) for key in (*TICKS, *SIGNED, DAY)}
    made = validate(put(tmp_path, cells))
    held = {place for place, code in said(made).items() if code == "reading-worked-out"}
    assert held == {at(key) for key in cells}
    assert made.verdict == "hold"


@pytest.mark.parametrize("rows", [1, 3])
def test_every_cell_that_an_array_fills_holds_the_job(put: Put, rows: int, tmp_path: Path) -> None:
    first = "bores.2.top.thrust"
    filled = [f"bores.2.{depth}.thrust" for depth in ("top", "middle", "bottom")][:rows]
    made = validate(put(tmp_path, {first: Stored("B8:B10", "of:=[.B8:.B10]", 82.0, rows)}))
    assert said(made) == {at(key): "reading-worked-out" for key in filled}
    (one, *_) = [one for one in made.findings if one.code == "reading-worked-out"]
    assert "entered over" in one.message


def test_a_sum_of_numbers_is_taken_with_or_without_its_result(put: Put, tmp_path: Path) -> None:
    sums = [(text, worked, value) for text, worked in SUMS.items() for value in (worked, None)]
    cells = {
        key: Stored(text, f"of:={text}", value)
        for key, (text, _, value) in zip(SIZES, sums, strict=False)
    }
    assert len(cells) == len(sums)
    made = validate(put(tmp_path, cells))
    assert said(made) == {}
    assert {key: made.typed[key] for key in cells} == {
        key: pytest.approx(worked, abs=1e-12)
        for key, (_, worked, _) in zip(SIZES, sums, strict=False)
    }
    noted = {(one.sheet, one.cell) for one in made.findings if one.code == "reading-is-formula"}
    assert noted == {at(key) for key in cells}


def test_a_sum_that_shows_something_else_holds_the_job_in_its_cell(
    put: Put, tmp_path: Path
) -> None:
    cells = {
        key: Stored(text, f"of:={text}", value)
        for key, (text, value) in zip(SIZES, LIES.items(), strict=False)
    }
    made = validate(put(tmp_path, cells))
    assert said(made) == {at(key): "reading-sum-differs" for key in cells}
    first = next(one for one in made.findings if one.key == SIZES[0])
    assert "=82.9+0.1 makes 83, but the cell shows 82" in first.message


@pytest.mark.program("libreoffice")
@pytest.mark.parametrize("route", ["openpyxl", "libreoffice", "libreoffice_ods"])
def test_sums_that_a_program_saved_are_taken(route: str, tmp_path: Path) -> None:
    book = openpyxl.load_workbook(bored_book())
    for key, text in zip(SIZES, SUMS, strict=False):
        sheet, cell = at(key)
        book[sheet][cell] = f"={text}"
    book.save(tmp_path / "typed.xlsx")
    saved = tmp_path / "typed.xlsx"
    made = validate(saved if route == "openpyxl" else roundtrip(route, saved))
    assert [one.message for one in made.findings if one.severity == "reading"] == []
    for key, worked in zip(SIZES, SUMS.values(), strict=False):
        assert made.typed[key] == pytest.approx(worked, abs=1e-12)


def test_what_a_formula_made_is_never_carried_over_as_a_reading(tmp_path: Path) -> None:
    held = {
        SIZES[0]: Stored('INDIRECT("B12")', "", 82.0),
        SIZES[1]: Stored("82.9+0.1", "", 82.0),
        "decision.released_by": Stored('"B. M."', "", "B. M."),
    }
    book = in_xlsx(bored_book(), tmp_path / "book.xlsx", held)
    carried = carry(bored_layout(), book)
    assert not held.keys() & carried.typed.keys()
    for key in held:
        assert [line for line in carried.unread if ("!".join(at(key))) in line], key
    text = readings_csv(validate(book))
    (tmp_path / "book.csv").write_text(text, "utf-8")
    with pytest.raises(CarryError, match=SIZES[0]):
        from_csv(bored_layout(), tmp_path / "book.csv")
    made = run("fill", str(book), str(tmp_path / "book.csv"), "-o", str(tmp_path / "again.xlsx"))
    assert (made.exit_code, made.output.count("Left out")) == (0, len(held))
    assert not held.keys() & validate(tmp_path / "again.xlsx").typed.keys()


@pytest.mark.parametrize(
    "text", ["", "1/0", "(1", "1e999", "1e308*10", "A1", "pi()", "2^3", "1,2", "1%", "TRUE", '"1"']
)
def test_no_other_formula_is_a_sum_of_numbers(text: str) -> None:
    assert arithmetic(text) is None
