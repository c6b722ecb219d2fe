"""What people and programs add to a book in good faith: remarks, colours, widths, links, other
spellings of a format. None of it is an attack, in .xlsx and in .ods.

Common practice, no source; the kinds of parts by ECMA-376 part 1, 15.
"""

from __future__ import annotations

from attacks_on_contents import FIRST, further_sheet, in_cell, link, own_table, tied
from attacks_on_looks import (
    BELOW,
    INK,
    LIMIT,
    READING,
    RESULT,
    ROW,
    SHEET,
    TRUE_RULE,
    VERDICT,
    WORD,
    OnOds,
    OnXlsx,
    ask,
    coded,
    colour,
    column_of,
    font,
    printed,
    row_of,
    shown,
)
from stored_books import StoredOds, StoredXlsx, ods
from xlsx_parts import MAIN

YELLOW = '<fill><patternFill patternType="solid"><fgColor rgb="FFFFFF00"/></patternFill></fill>'
PICTURE = (
    "<xdr:twoCellAnchor><xdr:from><xdr:col>60</xdr:col><xdr:colOff>0</xdr:colOff>"
    "<xdr:row>5</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:from><xdr:to><xdr:col>66</xdr:col>"
    "<xdr:colOff>0</xdr:colOff><xdr:row>30</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:to>"
    "<xdr:pic/></xdr:twoCellAnchor></xdr:wsDr>"
)


def picture_beside(book: StoredXlsx) -> None:
    """A photograph beside the tables of every sheet that has a drawing."""
    for name, data in book.files.items():
        if name.startswith("xl/drawings/drawing"):
            book.files[name] = data.replace(b"</xdr:wsDr>", PICTURE.encode())


def rules_of_a_neighbour(book: StoredXlsx) -> None:
    """A reading dragged down takes what its cell asks for along."""
    for rule in list(book.sheet(SHEET).iter(f"{MAIN}dataValidation")):
        if rule.get("sqref") == BELOW:
            parent = rule.getparent()
            assert parent is not None
            parent.remove(rule)
        elif rule.get("sqref") == READING:
            rule.set("sqref", f"{READING} {BELOW}")


def pasted_reading(book: StoredXlsx) -> None:
    """A reading pasted from elsewhere: neither format nor look nor rule of its own."""
    book.cell(SHEET, READING).attrib.pop("s", None)
    for rule in list(book.sheet(SHEET).iter(f"{MAIN}dataValidation")):
        parent = rule.getparent()
        if rule.get("sqref") == READING and parent is not None:
            parent.remove(rule)


def head(words: str, foot: bool = False, alone: bool = False) -> OnXlsx:
    """Words of one's own at the head or foot of pages, beside the book's or alone."""

    def add(book: StoredXlsx) -> None:
        (found,) = book.sheet(SHEET).iter(f"{MAIN}{'oddFooter' if foot else 'oddHeader'}")
        found.text = f"&C{words}" if alone else f"{found.text}&C{words}"

    return add


def print_area(area: str) -> OnXlsx:
    """The area of a sheet that is printed."""

    def set_it(book: StoredXlsx) -> None:
        for name in book.parts.workbook.iter(f"{MAIN}definedName"):
            if name.get("name") == "_xlnm.Print_Area" and SHEET in (name.text or ""):
                name.text = area

    return set_it


def seen(**said: str) -> OnXlsx:
    """The view of a sheet: its zoom, its grid, where it is scrolled to."""
    return lambda book: next(book.sheet(SHEET).iter(f"{MAIN}sheetView")).attrib.update(said)


def frozen(book: StoredXlsx) -> None:
    """Panes frozen otherwise."""
    view = next(book.sheet(SHEET).iter(f"{MAIN}sheetView"))
    for pane in list(view):
        view.remove(pane)
    book.child(view, '<pane ySplit="8" topLeftCell="A9" activePane="bottomLeft" state="frozen"/>')


HARMLESS_XLSX: dict[str, OnXlsx] = {
    "a day at the head": head("printed 12.05.2026"),
    "a shop at the head": head("Miller & Sons Engine Works, Main Street 12"),
    "a telephone at the foot": head("Tel. 0123-456 78", foot=True),
    "a shop alone at the head": head("Miller and Sons, 12 May 2026", alone=True),
    "a shop alone at the foot": head("Shop 5, sheet for Anna", foot=True, alone=True),
    "a smaller print area": print_area(f"{SHEET}!$A$1:$F$12"),
    "a larger print area": print_area(f"{SHEET}!$A$1:$CZ$400"),
    "a print area that is gone": print_area("#REF!"),
    "zoomed": seen(zoomScale="60", zoomScaleNormal="60"),
    "with its grid": seen(showGridLines="1"),
    "scrolled": seen(topLeftCell="A40"),
    "as pages": seen(view="pageBreakPreview"),
    "frozen otherwise": frozen,
    "words on a slope": lambda book: book.look(
        SHEET, WORD, alignment='<alignment textRotation="90"/>'
    ),
    "a reading in the middle": lambda book: book.look(
        SHEET, READING, alignment='<alignment horizontal="center" indent="1"/>'
    ),
    "words wrapped and shrunk": lambda book: book.look(
        SHEET, WORD, alignment='<alignment wrapText="1" shrinkToFit="1"/>'
    ),
    "decimals of another country": coded(READING, "[$-407]0.000"),
    "a small sign beside": font(READING, '<sz val="8"/>', "Courier New"),
    "a reading in yellow": lambda book: book.look(SHEET, READING, fill=YELLOW),
    "a verdict in yellow": lambda book: book.look(SHEET, VERDICT, fill=YELLOW),
    "a result in blue, large": font(RESULT, '<b/><color rgb="FF0000C0"/><sz val="14"/>'),
    "ink of the program's own": font(READING, '<sz val="11"/>'),
    "a faint pattern": lambda book: book.look(
        SHEET, READING, fill='<fill><patternFill patternType="gray125"/></fill>'
    ),
    **{
        f"{code} on {at}": coded(at, code)
        for at, codes in {
            READING: ("General", "0.0000", "@", "0.000;-0.000", "[$-409]0.000", "#,##0.000"),
            RESULT: ("General", "0.000000", "#,##0.0000", "0.0000_-".removesuffix("_-")),
            LIMIT: ("General", "0.000######"),
            VERDICT: ("@", "0.00", "0%"),
            WORD: ("@", "0.000"),
        }.items()
        for code in codes
    },
    "a wide column": lambda book: column_of(book, 2).set("width", "40"),
    "a high row": lambda book: row_of(book, ROW).set("ht", "60"),
    "an address of a letter": link("mailto:owner@example.com", "AA60"),
    "a page of the net": link("https://example.com/casting", READING),
    "remarks": tied("comments", "xl/comments1.xml", b"<comments/>", of=FIRST),
    "a printer": tied("printerSettings", "xl/printerSettings/p1.bin", b"\0D\0M", of=FIRST),
    "data of a place of documents": tied(
        "customXml", "customXml/item1.xml", b"<p:properties xmlns:p='x'/>"
    ),
    "a sheet of one's own with a sum": further_sheet(f"SUM({SHEET}!{READING},1)"),
    "a sheet of one's own with words": further_sheet('IF(1&gt;0,"see [1] and http://a.b","")'),
    "a link to a sheet in a formula": further_sheet(f'HYPERLINK("#{SHEET}!A1","go")'),
    "a name of one's own": lambda book: book.name(
        "my_bore", f"{SHEET}!${READING[0]}${READING[1:]}"
    ),
    "a picture beside": picture_beside,
    "large readings in bold by a rule": lambda book: colour(
        book, READING, TRUE_RULE, '<font><b/><color rgb="FF0000C0"/></font>'
    ),
    "a colour beside the tables": lambda book: colour(
        book, "AZ90:AZ99", TRUE_RULE, '<font><color rgb="FFFFFFFF"/></font>'
    ),
    "a list beside the tables": lambda book: ask(
        book,
        "AZ90",
        '<dataValidation type="list" sqref="{}"><formula1>"a,b"</formula1></dataValidation>',
    ),
    "a reading dragged down": rules_of_a_neighbour,
    "a reading pasted": pasted_reading,
}

GREY = f'<style:text-properties fo:color="#{INK}"/>'


def in_head(words: str) -> OnOds:
    """Words of one's own at the head of all pages."""

    def add(book: StoredOds) -> None:
        for one in book.styles.iter(ods("style:header")):
            book.put(one, f"<style:region-center><text:p>{words}</text:p></style:region-center>")

    return add


HARMLESS_ODS: dict[str, OnOds] = {
    "a day at the head": in_head("printed 12.05.2026"),
    "a shop at the head": in_head("Miller &amp; Sons, Main Street 12"),
    "a smaller print area": lambda book: book.sheet(SHEET).set(
        ods("table:print-ranges"), f"{SHEET}.A1:{SHEET}.F12"
    ),
    "a sheet that is not printed": lambda book: book.sheet(SHEET).set(ods("table:print"), "false"),
    "a heading on a slope": printed(
        WORD, '<style:table-cell-properties style:rotation-angle="90"/>'
    ),
    "a reading in the middle": printed(
        READING, '<style:paragraph-properties fo:text-align="center" fo:margin-left="0.1in"/>'
    ),
    "a reading in yellow": printed(
        READING, '<style:table-cell-properties fo:background-color="#ffff00"/>'
    ),
    "a result in blue, large": printed(
        RESULT, '<style:text-properties fo:color="#0000c0" fo:font-size="14pt"/>'
    ),
    "ink of the program's own": printed(
        READING, '<style:text-properties style:use-window-font-color="true"/>'
    ),
    "a reading as it comes": shown(READING, '<number:number number:min-integer-digits="1"/>'),
    "a reading with more decimals": shown(
        READING, '<number:number number:decimal-places="5" number:min-integer-digits="1"/>'
    ),
    "a reading with a mark of thousands": shown(
        READING,
        '<number:number number:decimal-places="3" number:min-integer-digits="1" '
        'number:grouping="true"/>',
    ),
    "words as text": shown(VERDICT, "<number:text-content/>", "text"),
    "a link to a page": in_cell(
        '<text:p><text:a xlink:href="https://example.com">casting</text:a></text:p>'
    ),
    "a sheet of one's own with a sum": own_table(f"of:=SUM([{SHEET}.{READING}];1)"),
    "a remark": in_cell("<office:annotation><text:p>seen twice</text:p></office:annotation>"),
    "a menu as it was": lambda book: book.part("Configurations2/toolbar/a.xml", b"<a/>"),
    "a picture of the file's own": in_cell(
        '<draw:frame><draw:image xlink:href="Pictures/a.png"/></draw:frame>'
    ),
    "a wide column": lambda book: wide(book),
}


def wide(book: StoredOds) -> None:
    """A column made wider."""
    book.put(
        book.automatic,
        '<style:style style:name="wide" style:family="table-column">'
        '<style:table-column-properties style:column-width="3in"/></style:style>',
    )
    book.column(SHEET, 2).set(ods("table:style-name"), "wide")
