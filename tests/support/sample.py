"""Small workbooks for the tests of the reader: one of every kind of content, and packages put
together by hand.
"""

from __future__ import annotations

import zipfile
from datetime import datetime
from io import BytesIO
from pathlib import Path

import xlsxwriter

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
DOCUMENT = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"

FORMULAS: dict[str, tuple[str, float | str]] = {
    "B1": ("A1+A2", 3.8075),
    "B2": ('IF(COUNT(A1:A2)=2,ROUND(ABS(A1-Plan!$A$1)-0.0005,9),"")', 0.0),
    "B3": ("1/0", "#DIV/0!"),
    "B4": ('IF(A1>1,"OK; [x]","OUT")', "OK; [x]"),
    "B5": ("STDEV(A1:A2)", 2.268045),
    "B6": ('IF(A99="","",1)', ""),
    "B7": ("SUMPRODUCT((A1:A2>1)*A1:A2)", 3.5075),
    "B8": ("INDEX(Plan!A1:A2,MATCH(3.507,Plan!A1:A2,0))+25.4", 28.907),
    "B9": ("(2)^(3)*-A1", -28.06),
    "B10": ("Bores!A1", 3.5075),
}
"""Address on Bores -> formula as generated and the result it shows."""

VALUES: dict[str, float | str] = {
    "A1": 3.5075,
    "A2": 0.3,
    "A3": "µ Ø  two\nlines",
    "A4": "abc",
    "A5": 0.05,
    "A6": 46026.0,
    "A7": 0.0625,
    "A8": 0.28125,
    "A9": "0042",
    "A10": 0.3333333333333333,
}
"""Address on Bores -> what a reader should find there."""


def write_sample(path: Path) -> Path:
    """Write one workbook with every kind of content a reader must understand."""
    book = xlsxwriter.Workbook(path)
    bores, plan, spec = (book.add_worksheet(name) for name in ("Bores", "Plan", "Spec"))
    spec.very_hidden()
    spec.write_string("A1", "#chunk0 QUJD")
    _write_values(book, bores)
    for address, (formula, shown) in FORMULAS.items():
        bores.write_formula(address, formula, None, shown)
    plan.write_number("A1", 3.507)
    plan.merge_range("C1:D2", "title")
    plan.set_row(4, None, None, {"hidden": True})
    plan.set_column("F:G", None, None, {"hidden": True})
    plan.write_string("A6", "below")
    for name, target in {"bores_1": "Bores!$A$1", "plan_size": "Plan!$A$1"}.items():
        book.define_name(name, f"={target}")
    bores.print_area("A1:B10")
    book.set_custom_property("datumbook", "id-42")
    book.close()
    return path


def _write_values(book: xlsxwriter.Workbook, bores: xlsxwriter.worksheet.Worksheet) -> None:
    percent, day, time, fraction, text = (
        book.add_format({"num_format": code})
        for code in ("0.0%", "yyyy-mm-dd", "h:mm", "# ??/64", "@")
    )
    bores.write_number("A1", 3.5075)
    bores.write_number("A2", 0.3)
    bores.write_string("A3", "µ Ø  two\nlines")
    bores.write_rich_string("A4", "a", book.add_format({"bold": True}), "b", "c")
    bores.write_number("A5", 0.05, percent)
    bores.write_datetime("A6", datetime(2026, 1, 4), day)
    bores.write_number("A7", 0.0625, time)
    bores.write_number("A8", 0.28125, fraction)
    bores.write_string("A9", "0042", text)
    bores.write_number("A10", 0.3333333333333333)


def package(parts: dict[str, str | bytes]) -> bytes:
    """Return a zip archive of these parts."""
    held = BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return held.getvalue()


def xlsx_parts(
    rows: str, *, strings: str = "", styles: str = "", workbook: str = "", around: str = ""
) -> dict[str, str | bytes]:
    """Return the parts of a one-sheet workbook: the XML of its rows, shared strings, styles, and
    workbook settings.
    """
    names = {
        "worksheet": "worksheets/sheet1.xml",
        "sharedStrings": "sharedStrings.xml",
        "styles": "styles.xml",
    }
    links = "".join(
        f'<Relationship Id="{k}" Type="{DOCUMENT}/{k}" Target="{part}"/>'
        for k, part in names.items()
    )
    root = f'<Relationship Id="a" Type="{DOCUMENT}/officeDocument" Target="xl/workbook.xml"/>'
    sheets = '<sheets><sheet name="Bores" sheetId="1" r:id="worksheet"/></sheets>'
    return {
        "[Content_Types].xml": "<Types/>",
        "_rels/.rels": f'<Relationships xmlns="{RELATIONS}">{root}</Relationships>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{RELATIONS}">{links}</Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" '
        f'xmlns:r="{DOCUMENT}">{sheets}{workbook}</workbook>',
        "xl/worksheets/sheet1.xml": f"<worksheet "
        f'xmlns="{MAIN}"><sheetData>{rows}</sheetData>{around}</worksheet>',
        "xl/sharedStrings.xml": f'<sst xmlns="{MAIN}">{strings}</sst>',
        "xl/styles.xml": f'<styleSheet xmlns="{MAIN}">{styles}</styleSheet>',
    }


def ods_parts(sheets: str, *, styles: str = "") -> dict[str, str | bytes]:
    """Return the parts of an .ods workbook: the XML inside office:spreadsheet, and that of its
    automatic styles.
    """
    names = {
        "table": "table",
        "office": "office",
        "text": "text",
        "style": "style",
        "number": "datastyle",
    }
    spaces = " ".join(
        f'xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for short, name in names.items()
    )
    body = f"<office:body><office:spreadsheet>{sheets}</office:spreadsheet></office:body>"
    automatic = f"<office:automatic-styles>{styles}</office:automatic-styles>"
    return {
        "mimetype": "application/vnd.oasis.opendocument.spreadsheet",
        "content.xml": f"<office:document-content "
        f"{spaces}>{automatic}{body}</office:document-content>",
    }
