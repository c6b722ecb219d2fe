from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from datumbook.readers import Book, FoundCell, SheetFound, open_book, place_of
from sample import FORMULAS, VALUES, package, write_sample, xlsx_parts


def book_of(folder: Path, rows: str, **more: str) -> Book:
    path = folder / "book.xlsx"
    path.write_bytes(package(xlsx_parts(rows, **more)))
    return open_book(path)


def cell_of(folder: Path, cell: str, **more: str) -> FoundCell:
    (found,) = book_of(folder, f'<row r="1">{cell}</row>', **more).sheets["Bores"].cells.values()
    return found


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return open_book(write_sample(tmp_path_factory.mktemp("xlsx") / "sample.xlsx"))


def test_the_values_of_the_sample(sample: Book) -> None:
    cells = sample.sheets["Bores"].cells
    assert {address: cells[place_of(address)].value for address in VALUES} == VALUES


def test_the_formulas_of_the_sample_with_the_results_they_show(sample: Book) -> None:
    cells = sample.sheets["Bores"].cells
    for address, (formula, shown) in FORMULAS.items():
        cell = cells[place_of(address)]
        assert cell.formula == formula
        assert (cell.error or cell.value or "") == (shown or cell.value or "")
    broken = cells[place_of("B3")]
    assert (broken.value, broken.formula, broken.error) == (None, "1/0", "#DIV/0!")


def test_what_stands_round_the_cells(sample: Book) -> None:
    assert {name: sheet.hidden for name, sheet in sample.sheets.items()} == {
        "Bores": False,
        "Plan": False,
        "Spec": True,
    }
    assert sample.names == {"bores_1": "Bores!$A$1", "plan_size": "Plan!$A$1"}
    assert sample.properties == {"datumbook": "id-42"}
    plan = sample.sheets["Plan"]
    assert (plan.merged, plan.hidden_rows, plan.hidden_columns) == (["C1:D2"], {5}, {6, 7})
    assert (sample.kind, sample.problems) == ("xlsx", [])
    assert (sample.date_1904, sample.full_precision, sample.manual) == (False, True, False)


def test_dates_percents_and_fractions_are_told_apart(sample: Book) -> None:
    cells = sample.sheets["Bores"].cells
    assert {address for address in VALUES if cells[place_of(address)].is_date} == {"A6", "A7"}
    assert {address for address in VALUES if cells[place_of(address)].is_percent} == {"A5"}
    assert cells[place_of("A8")].number_format == "# ??/64"
    assert sample.moment(46026.0) == datetime(2026, 1, 4)


@pytest.mark.parametrize(
    ("code", "is_date"),
    [
        ("General", False),
        ("0.0000", False),
        ("# ??/64", False),
        ('0.00" mm"', False),
        (r"0.00\ \m\m", False),
        ("[Red]0.00;[Blue]-0.00", False),
        ("@", False),
        ("0.00E+00", False),
        ("#,##0_);(#,##0)", False),
        ("[$-409]d\\-mmm\\-yy;@", True),
        ("yyyy\\-mm\\-dd", True),
        ("[h]:mm:ss", True),
        ("mm:ss.0", True),
        ("h:mm AM/PM", True),
    ],
)
def test_which_number_formats_show_a_date(tmp_path: Path, code: str, is_date: bool) -> None:
    code = code.replace('"', "&quot;")
    styles = (
        f'<numFmts><numFmt numFmtId="164" formatCode="{code}"/></numFmts><cellXfs><xf '
        f'numFmtId="164"/></cellXfs>'
    )
    assert cell_of(tmp_path, '<c r="A1" s="0"><v>46026</v></c>', styles=styles).is_date is is_date


@pytest.mark.parametrize(
    ("number", "is_date"),
    [
        (0, False),
        (2, False),
        (9, False),
        (13, False),
        (14, True),
        (17, True),
        (22, True),
        (45, True),
        (47, True),
        (49, False),
    ],
)
def test_built_in_formats_have_numbers_only(tmp_path: Path, number: int, is_date: bool) -> None:
    styles = f'<cellXfs><xf numFmtId="{number}"/></cellXfs>'
    assert cell_of(tmp_path, '<c r="A1" s="0"><v>46026</v></c>', styles=styles).is_date is is_date


@pytest.mark.parametrize(
    "spelled", ["25.4", "25.399999999999999", "25.3999999999999999997", "2.54E+001"]
)
def test_a_number_reads_the_same_however_many_digits_it_has(tmp_path: Path, spelled: str) -> None:
    assert cell_of(tmp_path, f"<c><v>{spelled}</v></c>").value == 25.4


@pytest.mark.parametrize(
    ("cell", "found"),
    [
        ('<c t="s"><v>0</v></c>', "plain"),
        ('<c t="s"><v>1</v></c>', "two runs"),
        ('<c t="s"><v>2</v></c>', "a\nb _x000D_ _xD83D_"),
        ('<c t="inlineStr"><is><t> in line </t></is></c>', " in line "),
        ('<c t="str"><f>A2</f><v/></c>', ""),
        ("<c><f>A2</f><v></v></c>", None),
        ('<c t="b"><v>true</v></c>', True),
        ('<c t="b"><v>0</v></c>', False),
        ('<c t="d"><v>2026-01-04T12:00:00</v></c>', 46026.5),
    ],
)
def test_each_way_to_store_a_value(tmp_path: Path, cell: str, found: object) -> None:
    strings = (
        "<si><t>plain</t></si><si><r><t>two</t></r><rPh sb='0' eb='1'><t>phonetic</t></rPh><r><t> "
        "runs</t></r></si>"
        "<si><t>a_x000A_b _x005F_x000D_ _xD83D_</t></si>"
    )
    value = cell_of(tmp_path, cell, strings=strings).value
    assert (value, type(value)) == (found, type(found))


def test_a_day_stored_as_a_day_is_a_date(tmp_path: Path) -> None:
    assert cell_of(tmp_path, '<c t="d"><v>2026-01-04</v></c>').is_date


def test_cells_without_an_address_follow_each_other_and_blank_ones_are_not_kept(
    tmp_path: Path,
) -> None:
    rows = (
        '<row><c><v>1</v></c><c s="0"/><c><v>3</v></c></row><row r="4"><c '
        'r="XFD4"><v>4</v></c><c/></row><row/>'
    )
    cells = book_of(tmp_path, rows).sheets["Bores"].cells
    assert {place: cell.value for place, cell in cells.items()} == {
        (1, 1): 1.0,
        (1, 3): 3.0,
        (4, 16384): 4.0,
    }


def test_shared_formulas_are_spelled_out(tmp_path: Path) -> None:
    rows = (
        '<row r="2"><c r="B2"><f t="shared" ref="B2:B4" '
        'si="0">A2*$C$1+Plan!A2</f><v>1</v></c></row>'
        '<row r="4"><c r="B4"><f t="shared" si="0"/><v>2</v></c></row>'
    )
    cells = book_of(tmp_path, rows).sheets["Bores"].cells
    assert [cell.formula for cell in cells.values()] == ["A2*$C$1+Plan!A2", "A4*$C$1+Plan!A4"]


def test_the_text_of_an_array_formula_and_of_a_data_table(tmp_path: Path) -> None:
    assert (
        cell_of(tmp_path, '<c><f t="array" ref="A1">SUM(B1:B3)</f><v>1</v></c>').formula
        == "SUM(B1:B3)"
    )
    assert cell_of(tmp_path, '<c><f t="dataTable" r1="B1"/><v>1</v></c>').formula == "TABLE(B1,)"


def test_settings_that_change_what_numbers_mean(tmp_path: Path) -> None:
    book = book_of(
        tmp_path,
        "",
        workbook='<workbookPr date1904="true"/><calcPr calcMode="manual" fullPrecision="0"/>',
    )
    assert (book.date_1904, book.manual, book.full_precision) == (True, True, False)
    assert book.moment(0.0) == datetime(1904, 1, 1)


def test_names_of_sheets_and_of_programs_are_left_out(tmp_path: Path) -> None:
    names = {
        "a_1": "Bores!$A$1",
        "_xlnm.Print_Area": "x",
        "Print_Titles": "x",
        "_FilterDatabase": "x",
        "gone_1": "#REF!",
    }
    spelled = "".join(
        f'<definedName name="{name}">{target}</definedName>' for name, target in names.items()
    )
    local = '<definedName name="local_1" localSheetId="0">Bores!$A$2</definedName>'
    book = book_of(tmp_path, "", workbook=f"<definedNames>{spelled}{local}</definedNames>")
    assert book.names == {"a_1": "Bores!$A$1", "gone_1": "#REF!"}


@pytest.mark.parametrize(
    ("cells", "code", "address"),
    [
        ('<c r="A1"><v>1</v></c><c r="A1"><v>2</v></c>', "duplicate-cell", "A1"),
        ('<c r="A1"><v>1</v></c><c r="B1"><v>many</v></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v></c><c r="B1"><v>nan</v></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v></c><c r="B1"><v>1_0</v></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v></c><c r="XFE1"><v>2</v></c>', "cell-unreadable", "XFE1"),
        ('<c r="A1"><v>1</v></c><c r="B1" t="s"><v>7</v></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v></c><c r="B1" t="s"><v>-1</v></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v></c><c r="B1" s="7"><v>1</v></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v></c><c r="B1"><f t="shared" si="3"/></c>', "cell-unreadable", "B1"),
        ('<c r="A1"><v>1</v><f>[1]Plan!B2</f></c>', "formula-outside", "A1"),
        ("<c r=\"A1\"><v>1</v><f>'file:///tmp/[x.xlsx]P'!B2</f></c>", "formula-outside", "A1"),
    ],
)
def test_a_problem_names_its_cell_and_the_first_cell_is_still_read(
    tmp_path: Path, cells: str, code: str, address: str
) -> None:
    book = book_of(tmp_path, f'<row r="1">{cells}</row>', strings="<si><t>one</t></si>")
    (problem,) = book.problems
    assert (problem.code, problem.sheet, problem.cell) == (code, "Bores", address)
    assert book.sheets["Bores"].cells[1, 1].value == 1.0
    assert len(book.sheets["Bores"].cells) == 1


def test_two_sheets_or_names_of_one_name_are_problems(tmp_path: Path) -> None:
    # the second sheet is related to a part that is no worksheet, as the sheet of a chart is
    twice = (
        '<sheets><sheet name="bores" sheetId="2" r:id="styles"/></sheets><definedNames>'
        '<definedName name="a_1">Bores!$A$1</definedName><definedName '
        'name="a_1">Bores!$A$2</definedName>'
        "</definedNames>"
    )
    book = book_of(tmp_path, "<row><c><v>1</v></c></row>", workbook=twice)
    assert {problem.code for problem in book.problems} == {"duplicate-sheet", "duplicate-name"}
    assert book.names == {"a_1": "Bores!$A$1"}


def test_hidden_columns_are_clipped_to_the_sheet(tmp_path: Path) -> None:
    columns = (
        '<cols><col min="3" max="4" hidden="1"/><col min="16383" max="99999999" '
        'hidden="on"/></cols>'
    )
    assert book_of(tmp_path, "", around=columns).sheets["Bores"].hidden_columns == {
        3,
        4,
        16383,
        16384,
    }


def test_formulas_entered_over_their_own_cells_make_nothing_of_what_lies_between() -> None:
    """So o-spreadsheet 19 saves every formula; of true arrays so many are one range."""

    def filled(spread: int) -> str:
        arrays = {
            (row, 1): FoundCell(1.0, "SUM(B1)", array=f"A{row}:A{row + spread}")
            for row in range(1, 1501, 2)
        }
        return SheetFound("Bores", cells=arrays | {(4, 1): FoundCell(82.0)}).filled_by((4, 1))

    assert filled(0) == ""
    assert filled(1) == "=SUM(B1) entered over 750 ranges"
