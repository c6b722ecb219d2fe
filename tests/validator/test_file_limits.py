"""Each limit is broken once in a book that is sound otherwise: the checker must say exactly that,
and nothing else.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
import xlsxwriter

from file_limits import check_file_limits, format_faults, reads_as_cell
from formula_limits import formula_faults

SHEET = "xl/worksheets/sheet1.xml"
BOOK = "xl/workbook.xml"
STYLES = "xl/styles.xml"
TEXTS = "xl/sharedStrings.xml"
LINKS = "xl/worksheets/_rels/sheet1.xml.rels"
VALIDATION = {
    "validate": "list",
    "source": ["mm", "in"],
    "input_title": "Unit of the bore",
    "input_message": "Choose a unit",
    "error_title": "Not a unit",
    "error_message": "Only mm or in",
}


@pytest.fixture(scope="session")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small book with one of everything that has a limit."""
    with xlsxwriter.Workbook(path := tmp_path_factory.mktemp("limits") / "sound.xlsx") as book:
        sheet, other = book.add_worksheet("Bores"), book.add_worksheet("Notes_2")
        sheet.write_number("A1", 81.02, book.add_format({"num_format": "0.0000;-0.0000"}))
        sheet.write_string("A2", "words of A2")
        sheet.write_formula("B1", '=IF(COUNT(A1)=1,ROUND((A1)^(2),4),"")', None, 6564.2404)
        sheet.data_validation("C1", VALIDATION)
        sheet.data_validation(
            "C2", {"validate": "decimal", "criteria": "between", "minimum": -3, "maximum": "=A1"}
        )
        sheet.conditional_format(
            "C1",
            {"type": "formula", "criteria": '=$B$1=""', "format": book.add_format({"bold": 1})},
        )
        sheet.set_footer("&LJob 17&RBores")
        sheet.write_url("D1", "internal:'Notes_2'!A1", string="notes", tip="where the notes are")
        sheet.write_url("D2", "https://example.org/sheet", string="outside")
        book.define_name("in_bore_1", "=Bores!$A$1")
        book.define_name("units", "=Bores!$C$1:$C$2")
        sheet.repeat_rows(0)
        other.write_string("A1", "here")
    return path


@pytest.fixture
def spoil(sound: Path, tmp_path: Path) -> Callable[..., list[str]]:
    """Replace a piece of one part of the sound book and return what the checker says of it."""

    def spoiled(part: str, old: str, new: str) -> list[str]:
        with (
            zipfile.ZipFile(sound) as given,
            zipfile.ZipFile(tmp_path / "spoiled.xlsx", "w") as made,
        ):
            for name in given.namelist():
                text = given.read(name)
                if name == part:
                    assert text.count(old.encode()) == 1, f"{old!r} is not once in {part}"
                    text = text.replace(old.encode(), new.encode())
                made.writestr(name, text)
        return check_file_limits(tmp_path / "spoiled.xlsx")

    return spoiled


def test_a_sound_book_has_no_faults(sound: Path) -> None:
    assert check_file_limits(sound) == []


FORMULA = 'IF(COUNT(A1)=1,ROUND((A1)^(2),4),"")'
NAME = '<definedName name="in_bore_1">Bores!$A$1</definedName>'
CELL_A1 = '<c r="A1" s="1"><v>81.02</v></c>'

BROKEN = {
    "a sheet name with a blank": (
        BOOK,
        'name="Notes_2"',
        'name="Notes 2"',
        "sheet name 'Notes 2' needs quotes",
    ),
    "a sheet name too long": (
        BOOK,
        'name="Notes_2"',
        f'name="{"N" * 32}"',
        "has 32 characters, at most 31",
    ),
    "two sheets of one name": (
        BOOK,
        'name="Notes_2"',
        'name="BORES"',
        "sheet name 'bores' occurs twice",
    ),
    "a name that is a cell": (BOOK, '"in_bore_1"', '"tap12"', "name 'tap12' reads as a cell"),
    "a name that is a row and column": (
        BOOK,
        '"in_bore_1"',
        '"r1c1"',
        "name 'r1c1' reads as a cell",
    ),
    "a name too long": (BOOK, '"in_bore_1"', f'"a_{"b" * 254}"', "has 256 characters, at most 255"),
    "a name with a blank": (BOOK, '"in_bore_1"', '"in bore"', "name 'in bore' must be letters"),
    "two names that differ in capitals": (
        BOOK,
        '"in_bore_1"',
        '"UNITS"',
        "name 'units' is defined twice",
    ),
    "a name of a constant": (
        BOOK,
        NAME,
        NAME.replace("Bores!$A$1", "3.5"),
        "stands for '3.5', which is no cell",
    ),
    "a name of a lost cell": (
        BOOK,
        NAME,
        NAME.replace("$A$1", "#REF!"),
        "stands for 'Bores!#REF!'",
    ),
    "a name of a lost sheet": (BOOK, NAME, NAME.replace("Bores", "Bore"), "stands for 'Bore!$A$1'"),
    "a name of one sheet": (
        BOOK,
        '"in_bore_1"',
        '"in_bore_1" localSheetId="0"',
        "belongs to one sheet",
    ),
    "a prompt too long": (
        SHEET,
        'prompt="Choose a unit"',
        f'prompt="{"p" * 256}"',
        "prompt of the validation",
    ),
    "an error text too long": (
        SHEET,
        'error="Only mm or in"',
        f'error="{"e" * 226}"',
        "has 226 characters",
    ),
    "a prompt title too long": (
        SHEET,
        '"Unit of the bore"',
        f'"{"t" * 33}"',
        "promptTitle of the validation",
    ),
    "an error title too long": (
        SHEET,
        '"Not a unit"',
        f'"{"t" * 33}"',
        "errorTitle of the validation",
    ),
    "a list too long": (
        SHEET,
        "mm,in",
        "mm," * 85 + "in",
        "the list of the validation of Bores!C1 has 257",
    ),
    "a volatile validation": (
        SHEET,
        "<formula2>A1",
        "<formula2>TODAY()",
        "validation of Bores!C2 uses TODAY",
    ),
    "a volatile condition": (
        SHEET,
        '$B$1=""',
        "$B$1=NOW()",
        "the conditional format of Bores!C1 uses NOW",
    ),
    "a text too long": (
        TEXTS,
        "words of A2",
        "w" * 32_768,
        "the text of Bores!A2 has 32768 characters",
    ),
    "a text too long beyond the first plane": (
        TEXTS,
        "words of A2",
        "&#x1F529;" * 16_384,
        "has 32768 characters",
    ),
    "a row outside": (
        SHEET,
        '"A1" s="1"',
        '"A1048577" s="1"',
        "Bores!A1048577 lies outside the grid",
    ),
    "a column outside": (SHEET, '"A1" s="1"', '"XFE1" s="1"', "Bores!XFE1 lies outside the grid"),
    "a cell stored twice": (SHEET, CELL_A1, CELL_A1 * 2, "Bores!A1 is stored twice"),
    "a truth value": (
        SHEET,
        CELL_A1,
        '<c r="A1" t="b"><v>1</v></c>',
        "Bores!A1 holds a truth value",
    ),
    "an entered array": (
        SHEET,
        "<f>IF",
        '<f t="array" ref="B1">IF',
        "the formula of Bores!B1 is entered as array",
    ),
    "a formula that is not portable": (
        SHEET,
        FORMULA,
        "STDEV(A1:A9)",
        "the formula of Bores!B1 uses STDEV",
    ),
    "a footer too long": (
        SHEET,
        "&amp;LJob 17",
        "&amp;L" + "J" * 249,
        "oddFooter of Bores has 258 characters",
    ),
    "a tooltip too long": (
        SHEET,
        "where the notes are",
        "t" * 256,
        "the tooltip of the hyperlink of Bores!D1 has 256",
    ),
    "a location too long": (
        SHEET,
        "'Notes_2'!A1\" tooltip",
        "l" * 2080 + '" tooltip',
        "hyperlink of Bores!D1 has",
    ),
    "an address too long": (
        LINKS,
        "example.org/sheet",
        "e" * 2080,
        "the location of the hyperlink of Bores!D2",
    ),
    "a format that hides": (STYLES, "0.0000;-0.0000", ";;;", "number format ';;;' hides the value"),
    "a format that is not there": (
        STYLES,
        'numFmtId="164" fontId',
        'numFmtId="165" fontId',
        "format 165 is used",
    ),
}


@pytest.mark.parametrize(("part", "old", "new", "sentence"), BROKEN.values(), ids=BROKEN)
def test_one_thing_broken_is_one_sentence(
    spoil: Callable[..., list[str]], part: str, old: str, new: str, sentence: str
) -> None:
    faults = spoil(part, old, new)
    assert len(faults) == 1, faults
    assert sentence in faults[0]


def test_too_many_hyperlinks(spoil: Callable[..., list[str]]) -> None:
    link = '<hyperlink ref="E1" location="Notes_2!A1"/>'
    assert spoil(SHEET, "<hyperlinks>", "<hyperlinks>" + link * 65_488) == []
    assert spoil(SHEET, "<hyperlinks>", "<hyperlinks>" + link * 65_489) == [
        "Bores has 65491 hyperlinks, at most 65490 are allowed"
    ]


@pytest.mark.parametrize(
    "name",
    ["A1", "tap12", "in1", "XFD1048576", "r1c1", "R1C1", "rc", "R", "c", "r5", "C12", "True"],
)
def test_names_that_some_notation_reads_as_a_cell(name: str) -> None:
    assert reads_as_cell(name)


@pytest.mark.parametrize(
    "name", ["XFE1", "XFD1048577", "tap_12", "r1c1_", "rcx", "bore", "A0", "R1C1D1"]
)
def test_names_that_no_notation_reads_as_a_cell(name: str) -> None:
    assert not reads_as_cell(name)


@pytest.mark.parametrize(
    "formula",
    [
        '=IF(COUNT(A1:B3)<6,"INCOMPLETE",IF(ROUND(ABS(A1-B1)-C1,9)<=0,"PASS","FAIL"))',
        '="a blank, a TRUE and a ""quoted"" -1"',
        "=SQRT(SUM((A1)^(2),(A2)^(2)))/(3)^(0.5)",
        "=INDEX(Sizes!$A$1:$A$9,MATCH(B1,Sizes!$B$1:$B$9,0),1)",
        "=in_bore_1*25.4+0.123456789012345",
        "=" + "ABS(" * 64 + "1" + ")" * 64,
        "=SUM(" + ",".join(["A1"] * 255) + ")",
        "=" + "+".join(["A1"] * 2730) + "+1",  # 8192 characters
    ],
)
def test_portable_formulas_have_no_faults(formula: str) -> None:
    assert formula_faults(formula) == ()


@pytest.mark.parametrize(
    ("formula", "sentence"),
    [
        ("=" + "+".join(["A1"] * 2731), "has 8193 characters, at most 8192"),
        ("=" + "ABS(" * 65 + "1" + ")" * 65, "nests functions 65 deep"),
        ("=SUM(" + ",".join(["A1"] * 256) + ")", "gives a function 256 arguments"),
        ("=SUM(A1, B1)", "has a blank or a newline"),
        ("=A1+\nB1", "has a blank or a newline"),
        ("=_xlfn.XLOOKUP(A1,B1:B3,C1:C3)", "uses _XLFN.XLOOKUP, which is not portable"),
        ("=OFFSET(A1,1,1)", "uses OFFSET, which recalculates by itself"),
        ("=IF(A1>0,TRUE,0)", "has TRUE: write 1 or 0"),
        ("=A1*3.1415926535897932", "of 17 digits, at most 15"),
        ("=A1*1E9", "write it without an exponent"),
        ("=A1^(2)", "has an operand of ^ without brackets"),
        ("=(A1)^2", "has an operand of ^ without brackets"),
        ("=(2)^(3)^(2)", "has two powers in a row"),
        ("=-A1", "has a sign before an operand"),
        ("=A1*-1", "has a sign before an operand"),
        ("=SUM(A:A)", "refers to the whole row or column A:A"),
        ("=SUM(Data!1:3)", "refers to the whole row or column Data!1:3"),
        ("=[1]Data!A1", "has the reference [1]Data!A1"),
        ("='Data'!A1", "has the reference 'Data'!A1"),
        ("=SUM((A1,B1))", "joins or crosses ranges"),
        ("=#REF!+1", "has the error #REF!"),
        ("=SUM({1,2})", "has an array constant"),
        ("=SUM(A1", "has a bracket that is not closed"),
        ("=SUM(A1))", "cannot be read"),
        ("A1", "is not a formula"),
    ],
)
def test_each_rule_of_formulas_can_be_broken(formula: str, sentence: str) -> None:
    faults = formula_faults(formula)
    assert len(faults) == 1, faults
    assert sentence in faults[0]


def test_a_truth_function_breaks_two_rules() -> None:
    assert formula_faults("=TRUE()") == (
        "uses TRUE, which is not portable",
        "has TRUE: write 1 or 0",
    )


@pytest.mark.parametrize(
    ("code", "sentences"),
    [
        ("", ["is empty"]),
        ("0.00 " + '"m"' * 90, ["has more than 255 characters"]),
        ('0.00" mm', ["has a quote that is not closed"]),
        ("[Red0.00", ["has a square bracket that is not closed"]),
        ("0;0;0;@;0", ["has more than four parts"]),
        ("0.00;", ["hides the value"]),
        ('# ??/64" in"', []),
        ("0.0000;-0.0000;0;@", []),
        (r"yyyy\-mm\-dd", []),
    ],
)
def test_number_formats(code: str, sentences: list[str]) -> None:
    assert list(format_faults(code)) == sentences
