"""The engines on one small workbook whose results are plain: cached results in it are wrong, so
none can be trusted.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import xlsxwriter

import engines
import programs
from engines import ROUTES, EngineError, Results, libreoffice, libreoffice_many, roundtrip, stored

WRONG = -777
GUARDED = 'IF(COUNT({x})=1,IF(ROUND(ABS({x}-0.3)-0.1,9)<=0,"OK","OUT"),"OPEN")'

# readings in column A, the formula beside each in column B, and what it must show
LINES: dict[int, tuple[float | str | None, str, object]] = {
    1: (82.5, "=A1*2", 165.0),
    2: (None, '=IF(COUNT(A2)=1,A2*2,"")', ""),
    3: ("12,5", '=IF(COUNT(A3)=1,A3*2,"")', ""),
    4: (
        0.4,
        "=" + GUARDED.format(x="A4"),
        "OK",
    ),  # at the limit; raw: ABS(0.4-0.3)-0.1 is above 0 by 3e-17
    5: (0.2, "=" + GUARDED.format(x="A5"), "OK"),
    6: (0.4001, "=" + GUARDED.format(x="A6"), "OUT"),
    7: (None, "=" + GUARDED.format(x="A7"), "OPEN"),
    8: (0.0, "=1/A8", EngineError()),
    9: (1.005, "=ROUND(ROUND(A9,9),2)", 1.01),  # as a person rounds the printed number
    10: (2.0, "=Data!B1+Other!A1", 172.0),
    11: (2.0, "=in_first+1", 83.5),
}


def small_book(path: Path) -> Path:
    """Write the small workbook: readings, formulas with a wrong cached result, a blank styled cell,
    a second sheet.
    """
    with xlsxwriter.Workbook(path) as book:
        data, other = book.add_worksheet("Data"), book.add_worksheet("Other")
        grey = book.add_format({"bg_color": "#DDDDDD"})
        for row, (reading, formula, _) in LINES.items():
            data.write(f"A{row}", reading, grey)
            data.write_formula(f"B{row}", formula, None, WRONG)
        other.write_number("A1", 7)
        book.define_name("in_first", "=Data!$A$1")
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return small_book(tmp_path / "small.xlsx")


@pytest.fixture
def no_programs(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))


def test_every_formula_is_recalculated(engine: Callable[[Path], Results], book: Path) -> None:
    found = engine(book)
    for row, (_, _, expected) in LINES.items():
        shown = found["Data", f"B{row}"]
        assert shown == (
            pytest.approx(expected, abs=1e-9) if isinstance(expected, float) else expected
        ), f"B{row}"


def test_constants_and_blanks_come_back_as_they_are(
    engine: Callable[[Path], Results], book: Path
) -> None:
    found = engine(book)
    for row, (reading, _, _) in LINES.items():
        assert found["Data", f"A{row}"] == reading
    assert found["Other", "A1"] == 7


def test_every_stored_cell_and_no_other_is_reported(
    engine: Callable[[Path], Results], book: Path
) -> None:
    assert set(engine(book)) == set(stored(book))
    assert len(stored(book)) == 2 * len(LINES) + 1


def test_errors_are_equal_whatever_an_engine_calls_them() -> None:
    assert EngineError("#DIV/0!") == EngineError("Div")
    assert EngineError("#DIV/0!") != "#DIV/0!"


def test_stored_reads_what_is_there_and_calculates_nothing(book: Path) -> None:
    assert {stored(book)["Data", f"B{row}"] for row in LINES} == {WRONG}


@pytest.mark.program("libreoffice")
def test_many_books_of_one_name_in_one_process(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paths = []
    for number in (1, 2):
        (tmp_path / str(number)).mkdir()
        with xlsxwriter.Workbook(paths_to := tmp_path / str(number) / "same.xlsx") as book:
            book.add_worksheet("Data").write_formula("A1", f"=SUM({number},10)", None, WRONG)
        paths.append(paths_to)
    assert [found["Data", "A1"] for found in libreoffice_many(paths)] == [11, 12]
    monkeypatch.setattr(engines, "office", no_second_conversion)
    assert libreoffice(paths[0])["Data", "A1"] == 11


def no_second_conversion(*_: object, **__: object) -> None:
    raise AssertionError("the same content was converted twice")


@pytest.mark.program("libreoffice", "gnumeric")
def test_every_route_keeps_formulas_readings_and_names(book: Path) -> None:
    saved = {route: roundtrip(route, book) for route in ROUTES}
    assert {route: path.suffix for route, path in saved.items()} == {
        route: suffix for route, (suffix, _) in ROUTES.items()
    }
    sheets = {route: path for route, path in saved.items() if path.suffix == ".xlsx"}
    for route, found in zip(sheets, libreoffice_many(list(sheets.values())), strict=True):
        assert (found["Data", "A1"], found["Data", "B11"], found["Data", "B6"]) == (
            82.5,
            83.5,
            "OUT",
        ), route


@pytest.mark.program("libreoffice")
def test_a_program_trusts_cached_results_when_it_only_opens_and_saves(book: Path) -> None:
    # measured with LibreOffice 7.4: the reason why a generated book must carry true results
    assert stored(roundtrip("libreoffice", book))["Data", "B1"] == WRONG
    assert stored(roundtrip("openpyxl", book))["Data", "B1"] is None


@pytest.mark.program("libreoffice")
def test_an_unreadable_file_is_said_to_be_so(tmp_path: Path) -> None:
    with pytest.raises(RuntimeError, match="did not write"):
        programs.office([tmp_path / "absent.xlsx"], programs.AS_XLSX, tmp_path, recalculate=True)


@pytest.mark.usefixtures("no_programs")
def test_a_missing_program_skips_in_plain_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(programs.REQUIRED, raising=False)
    with pytest.raises(pytest.skip.Exception, match="gnumeric is not on this machine"):
        programs.need("gnumeric")


@pytest.mark.usefixtures("no_programs")
def test_a_missing_program_fails_where_programs_are_required(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv(programs.REQUIRED, "1")
    with pytest.raises(pytest.fail.Exception, match=f"{programs.REQUIRED} is set"):
        programs.need("libreoffice")


def test_a_program_that_fails_is_quoted() -> None:
    with pytest.raises(RuntimeError, match="ended with 3: no such gauge"):
        programs.run([sys.executable, "-c", "print('no such gauge'); raise SystemExit(3)"])


def test_a_program_that_hangs_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(programs, "SECONDS_ALLOWED", 0.2)
    with pytest.raises(RuntimeError, match=f"ended with -{int(signal.SIGKILL)}"):
        programs.run([sys.executable, "-c", "import time; time.sleep(30)"])
