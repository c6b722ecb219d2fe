from __future__ import annotations

from pathlib import Path

import pytest

from datumbook.readers import Book, FoundCell, open_book
from datumbook.readers.formulas import from_open_formula
from sample import ods_parts, package

CALC = "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"


def book_of(folder: Path, rows: str, *, styles: str = "", around: str = "", **more: str) -> Book:
    path = folder / "book.ods"
    parts = ods_parts(
        f'<table:table table:name="Bores" table:style-name="ta1">{rows}</table:table>{around}',
        styles=styles,
    )
    path.write_bytes(package(parts | more))
    return open_book(path)


def cells_of(folder: Path, cells: str, **more: str) -> dict[tuple[int, int], FoundCell]:
    return (
        book_of(folder, f"<table:table-row>{cells}</table:table-row>", **more).sheets["Bores"].cells
    )


@pytest.mark.parametrize(
    ("open_formula", "spelled"),
    [
        ("of:=[.B4]+[.$B$5]", "B4+$B$5"),
        ("of:=SUM([.B4:.C9];[$Bores.B4:.C9])", "SUM(B4:C9,Bores!B4:C9)"),
        ("of:=[$Bores.$B$4:$Bores.$C$9]", "Bores!$B$4:$C$9"),
        ("of:=[$'Rob''s gauge'.B4]", "'Rob''s gauge'!B4"),
        ('of:=IF([.A1]>1;"a;b[.c]";"")', 'IF(A1>1,"a;b[.c]","")'),
        ("of:=SUM({1;2|3;4})", "SUM({1,2;3,4})"),
        ("of:=SUM(([.A1:.A2]~[.B1]))", "SUM((A1:A2,B1))"),
        ("of:=[.A1:.B2]![.B1:.B9]", "A1:B2 B1:B9"),
        ("of:=[.#REF!]+[$Bores.#REF!#REF!]", "#REF!+#REF!"),
        ("of:=['file:///tmp/x.ods'#$Plan.A1]", "'[file:///tmp/x.ods]Plan'!A1"),
        ("=[.A1]", "A1"),
    ],
)
def test_open_formula_in_the_other_spelling(open_formula: str, spelled: str) -> None:
    """Source: OASIS OpenFormula 1.3 part 4, section 5.8 (references; from memory), and files of two
    programs.
    """
    assert from_open_formula(open_formula) == spelled


def test_repeats_are_counted_and_empty_ones_are_skipped(tmp_path: Path) -> None:
    rows = (
        '<table:table-row table:number-rows-repeated="2"><table:table-cell '
        'table:number-columns-repeated="3"/>'
        '<table:table-cell table:number-columns-repeated="2" office:value-type="float" '
        'office:value="1.5"/>'
        '<table:table-cell table:number-columns-repeated="16379"/></table:table-row>'
        "<table:table-row "
        'table:number-rows-repeated="1048570"><table:table-cell/></table:table-row>'
        '<table:table-row><table:table-cell office:value-type="float" '
        'office:value="2"/></table:table-row>'
    )
    cells = book_of(tmp_path, rows).sheets["Bores"].cells
    assert {place: cell.value for place, cell in cells.items()} == {
        (1, 4): 1.5,
        (1, 5): 1.5,
        (2, 4): 1.5,
        (2, 5): 1.5,
        (1048573, 1): 2.0,
    }


@pytest.mark.parametrize(
    ("attributes", "text", "value"),
    [
        ('office:value-type="float" office:value="25.3999999999999999997"', "25.4", 25.4),
        ('office:value-type="percentage" office:value="0.05"', "5%", 0.05),
        ('office:value-type="date" office:date-value="2026-01-04"', "01/04/26", 46026.0),
        ('office:value-type="date" office:date-value="2026-01-04T12:00:00"', "", 46026.5),
        ('office:value-type="time" office:time-value="PT01H30M00S"', "1:30", 0.0625),
        ('office:value-type="boolean" office:boolean-value="true"', "TRUE", True),
        (
            'office:value-type="string"',
            "a<text:span>b</text:span><text:s text:c='2'/>c<text:tab/>d",
            "ab  c\td",
        ),
        (
            'office:value-type="string"',
            "one</text:p><text:p>two<text:line-break/>three",
            "one\ntwo\nthree",
        ),
        ('office:value-type="string" office:string-value=" kept "', "shown", " kept "),
    ],
)
def test_each_way_to_store_a_value(
    tmp_path: Path, attributes: str, text: str, value: object
) -> None:
    note = "<office:annotation><text:p>a note beside it</text:p></office:annotation>"
    cells = cells_of(
        tmp_path, f"<table:table-cell {attributes}>{note}<text:p>{text}</text:p></table:table-cell>"
    )
    assert (cells[1, 1].value, type(cells[1, 1].value)) == (value, type(value))
    assert cells[1, 1].is_date == ("date" in attributes or "time" in attributes)
    assert cells[1, 1].is_percent == ("percentage" in attributes)


def test_an_error_is_no_text(tmp_path: Path) -> None:
    cells = cells_of(
        tmp_path,
        '<table:table-cell table:formula="of:=1/0" office:value-type="string" '
        'office:string-value="#DIV/0!"/>'
        f'<table:table-cell office:value-type="string" xmlns:c="{CALC}" c:value-type="error" '
        f'office:string-value="">'
        "<text:p>Err:502</text:p></table:table-cell>"
        '<table:table-cell office:value-type="string"><text:p>#DIV/0!</text:p></table:table-cell>',
    )
    assert [cell.error for cell in cells.values()] == ["#DIV/0!", "Err:502", None]
    assert cells[1, 3].value == "#DIV/0!"  # typed as a text


def test_hidden_sheets_rows_and_columns_merges_and_percent_styles(tmp_path: Path) -> None:
    styles = (
        '<number:percentage-style style:name="N1"/><style:style style:name="ce1" '
        'style:data-style-name="N1"/>'
        '<style:style style:name="ta1"><style:table-properties '
        'table:display="false"/></style:style>'
    )
    rows = (
        '<table:table-column table:number-columns-repeated="2"/><table:table-column '
        'table:visibility="collapse"/>'
        '<table:table-row table:visibility="filter"><table:table-cell '
        'table:number-columns-spanned="2" '
        'table:number-rows-spanned="3"/><table:covered-table-cell/></table:table-row><table:table-row>'
        '<table:table-cell table:style-name="ce1" office:value-type="float" '
        'office:value="0.05"/></table:table-row>'
        '<table:table-row table:visibility="collapse" table:number-rows-repeated="1048574"/>'
    )
    sheet = book_of(tmp_path, rows, styles=styles).sheets["Bores"]
    assert (sheet.hidden, sheet.hidden_rows, sheet.hidden_columns) == (True, {1}, {3})
    assert (sheet.merged, sheet.cells[2, 1].is_percent) == (["A1:B3"], True)


def test_names_settings_and_properties(tmp_path: Path) -> None:
    around = (
        '<table:calculation-settings table:precision-as-shown="true"><table:null-date '
        'table:date-value="1904-01-01"/>'
        "</table:calculation-settings><table:named-expressions>"
        '<table:named-range table:name="bores_1" table:cell-range-address="$Bores.$A$1"/>'
        '<table:named-expression table:name="factor_1" '
        'table:expression="of:=25.4"/></table:named-expressions>'
    )
    meta = (
        '<m xmlns:meta="urn:oasis:names:tc:opendocument:xmlns:meta:1.0"><meta:user-defined '
        'meta:name="datumbook">id-42'
        '</meta:user-defined><meta:user-defined meta:name="n" '
        'meta:value-type="float">1</meta:user-defined></m>'
    )
    settings = (
        '<c xmlns:config="urn:oasis:names:tc:opendocument:xmlns:config:1.0">'
        '<config:config-item config:name="AutoCalculate">false</config:config-item></c>'
    )
    book = book_of(tmp_path, "", around=around, **{"meta.xml": meta, "settings.xml": settings})
    assert book.names == {"bores_1": "$Bores.$A$1", "factor_1": "25.4"}
    assert book.properties == {"datumbook": "id-42"}
    assert (book.date_1904, book.full_precision, book.manual) == (True, False, True)


def test_a_cell_that_cannot_be_read_is_a_problem_with_its_place(tmp_path: Path) -> None:
    book = book_of(
        tmp_path,
        "<table:table-row><table:table-cell/><table:table-cell "
        'office:value-type="float"/></table:table-row>',
    )
    (problem,) = book.problems
    assert (problem.code, problem.sheet, problem.cell) == ("cell-unreadable", "Bores", "B1")


CHART = "application/vnd.oasis.opendocument.chart"
LED_TO = (
    '<draw:object xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0" '
    'xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="{}"/>'
)


def with_a_chart(folder: str, target: str, *, there: bool = True) -> dict[str, str | bytes]:
    """A book with one chart, kept in a folder and led to by a target."""
    space = "urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"
    entry = f'<m:file-entry m:media-type="{CHART}" m:full-path="{folder}"/>'
    cell = f"<table:table-cell>{LED_TO.format(target)}</table:table-cell>"
    row = f"<table:table-row>{cell}</table:table-row>"
    return (
        ods_parts(f'<table:table table:name="Bores">{row}</table:table>')
        | {"META-INF/manifest.xml": f'<m:manifest xmlns:m="{space}">{entry}</m:manifest>'}
        | ({f"{folder}content.xml": "<x/>"} if there else {})
    )


@pytest.mark.parametrize(
    ("folder", "target"), [("Chart1/", "./Chart1"), ("Graph1-0/", "Graph1-0/")]
)
def test_a_chart_lies_in_the_file_whatever_its_folder_is_called(
    folder: str, target: str, tmp_path: Path
) -> None:
    """Calligra Sheets 3.2 and Gnumeric 1.12; others keep theirs as Object 1."""
    (book := tmp_path / "chart.ods").write_bytes(package(with_a_chart(folder, target)))
    assert open_book(book).problems == []


@pytest.mark.parametrize(
    ("folder", "target", "there"),
    [
        ("Chart1/", "./Chart1", False),
        ("Chart1/", "./Chart2", True),
        ("http://shop.example/", "http://shop.example", True),
        ("../Chart1/", "../Chart1", True),
    ],
)
def test_what_only_calls_itself_a_chart_of_the_file_leads_outside(
    tmp_path: Path, folder: str, target: str, there: bool
) -> None:
    (book := tmp_path / "chart.ods").write_bytes(package(with_a_chart(folder, target, there=there)))
    assert "external-link" in {one.code for one in open_book(book).problems}
