"""Attacks on how a book shows what it holds: number formats that lie, print that cannot be read,
rows hidden, colours and what the cells ask for. The same in .xlsx and in .ods.

What somebody can do to a book with a spreadsheet program; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from openpyxl.utils.cell import coordinate_to_tuple

from stored_books import StoredOds, StoredXlsx, ods
from xlsx_parts import MAIN

OnXlsx = Callable[[StoredXlsx], object]
OnOds = Callable[[StoredOds], object]

SHEET, READING, BELOW, RESULT, VERDICT, LIMIT, WORD = "Bores", "B9", "B10", "E9", "F9", "E8", "B7"
"""On the sheet of the bores: a size read and the one below it, an out of round worked out, its
verdict, its limit, and the heading of the sizes.
"""
ROW = coordinate_to_tuple(READING)[0]
INK, RED = "1F2A30", "8F2D1F"

XLSX: dict[str, dict[str, OnXlsx]] = {}
ODS: dict[str, dict[str, OnOds]] = {}


def coded(at: str, code: str) -> OnXlsx:
    """A number format."""
    return lambda book: book.look(SHEET, at, format=code)


def font(at: str, inside: str, face: str = "Arial") -> OnXlsx:
    """A font."""
    return lambda book: book.look(SHEET, at, font=f"<font>{inside}<name val='{face}'/></font>")


XLSX["formats"] = {
    f"{code} on {at}": coded(at, code)
    for at, codes in {
        READING: ('"82.000"#', "0.000,", ";;;", '0.000"1"', "[>80]0.0;0.000", "[White]0.000", "0"),
        RESULT: ('"0.037"#', "0.000,", ";;;", "0.0%", "d-mmm", "0", "0.00E+00", "0;0", "# ?/?"),
        VERDICT: ('"not "@', ";;;", '0;0;0;"OK"', '@"!"', "@;@;@;", r"\O\K"),
        LIMIT: ("0,", '"0.9"', "0.0", "0.000,,", "[=0.04]0.4;0.000", '0.0"4"'),
        WORD: (';;;"along the crank"', '"not "@'),
    }.items()
    for code in codes
}
XLSX["looks"] = {
    "white on white": font(RESULT, '<color rgb="FFFFFFFF"/><sz val="10"/>'),
    "white of the theme": font(RESULT, '<color theme="0"/><sz val="10"/>'),
    "white by its number": font(RESULT, '<color indexed="9"/><sz val="10"/>'),
    "nearly white": font(VERDICT, '<color rgb="FFF0F0F0"/><sz val="10"/>'),
    "ink of the theme made white": font(LIMIT, '<color theme="1" tint="0.99"/><sz val="10"/>'),
    "dark on dark": lambda book: book.look(
        SHEET,
        VERDICT,
        fill=f'<fill><patternFill patternType="solid"><fgColor rgb="FF{INK}"/>'
        "</patternFill></fill>",
    ),
    "half a point high": font(RESULT, f'<color rgb="FF{INK}"/><sz val="0.5"/>'),
    "struck out": font(READING, f'<strike/><color rgb="FF{INK}"/><sz val="10"/>'),
    "in signs": font(RESULT, f'<color rgb="FF{INK}"/><sz val="10"/>', "Wingdings"),
    "repeated across": lambda book: book.look(
        SHEET, READING, alignment='<alignment horizontal="fill"/>'
    ),
    "words of a heading in white": lambda book: white_words(book),
    "a row hidden": lambda book: row_of(book, ROW).set("hidden", "1"),
    "a row without height": lambda book: row_of(book, ROW).set("ht", "0.75"),
    "all rows without height": lambda book: rows_without_height(book),
    "a column hidden": lambda book: column_of(book, 2).set("hidden", "1"),
    "a column without width": lambda book: column_of(book, 2).set("width", "0.1"),
    "a sheet hidden": lambda book: sheet_of(book).set("state", "hidden"),
    "a box over a verdict": lambda book: box_over(book, VERDICT, "<xdr:sp/>"),
    "a picture over a reading": lambda book: box_over(book, READING, "<xdr:pic/>"),
}


def box_over(book: StoredXlsx, address: str, what: str) -> None:
    """Something drawn over one cell."""
    row, column = coordinate_to_tuple(address)
    folder, _, name = book.parts.sheet_parts[SHEET].rpartition("/")
    ties = book.parts.relations(folder, name)
    part = next(target for _, kind, target in ties if kind == "drawing")
    ends = (
        f"<xdr:{end}><xdr:col>{column - 1 + more}</xdr:col><xdr:colOff>0</xdr:colOff>"
        f"<xdr:row>{row - 1 + more}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:{end}>"
        for end, more in (("from", 0), ("to", 1))
    )
    box = "".join(("<xdr:twoCellAnchor>", *ends, what, "</xdr:twoCellAnchor></xdr:wsDr>"))
    book.files[part] = book.files[part].replace(b"</xdr:wsDr>", box.encode())


def row_of(book: StoredXlsx, number: int) -> object:
    (row,) = [one for one in book.sheet(SHEET).iter(f"{MAIN}row") if one.get("r") == str(number)]
    return row


def column_of(book: StoredXlsx, number: int) -> object:
    return next(
        one
        for one in book.sheet(SHEET).iter(f"{MAIN}col")
        if int(one.get("min", "0")) <= number <= int(one.get("max", "0"))
    )


def sheet_of(book: StoredXlsx) -> object:
    (found,) = [one for one in book.parts.workbook.iter(f"{MAIN}sheet") if one.get("name") == SHEET]
    return found


def rows_without_height(book: StoredXlsx) -> None:
    sheet = book.sheet(SHEET)
    for row in sheet.iter(f"{MAIN}row"):
        row.attrib.pop("ht", None)
    (sizes,) = sheet.iter(f"{MAIN}sheetFormatPr")
    sizes.set("defaultRowHeight", "0.5")


def white_words(book: StoredXlsx) -> None:
    cell = book.cell(SHEET, WORD)
    for child in list(cell):
        cell.remove(child)
    cell.set("t", "inlineStr")
    white = '<rPr><color rgb="FFE6ECEE"/></rPr>'
    book.child(cell, f"<is><r>{white}<t>across</t></r><r><t> the crank&#10;mm</t></r></is>")


# --- colours and what the cells ask for


def rules(book: StoredXlsx) -> list[object]:
    return list(book.sheet(SHEET).iter(f"{MAIN}cfRule"))


def drop_colours(book: StoredXlsx, word: str = "") -> None:
    sheet = book.sheet(SHEET)
    for rule in list(sheet.iter(f"{MAIN}cfRule")):
        if not word or word in (rule.findtext(f"{MAIN}formula") or ""):
            parent = rule.getparent()
            assert parent is not None
            parent.remove(rule)


def recolour(book: StoredXlsx, word: str, inside: str) -> None:
    number = str(book.dxf(inside))
    for root in book.parts.sheets.values():
        for rule in root.iter(f"{MAIN}cfRule"):
            if rule.findtext(f"{MAIN}formula") == f'"{word}"':
                rule.set("dxfId", number)


def colour(book: StoredXlsx, cells: str, rule: str, look: str = "") -> None:
    number = book.dxf(look) if look else 0
    xml = f'<conditionalFormatting sqref="{cells}">{rule.format(number)}</conditionalFormatting>'
    book.after(SHEET, "conditionalFormatting", xml)


def entry(book: StoredXlsx, address: str = READING) -> object:
    return next(
        one
        for one in book.sheet(SHEET).iter(f"{MAIN}dataValidation")
        if one.get("sqref") == address
    )


def ask(book: StoredXlsx, cells: str, xml: str) -> None:
    book.after(SHEET, "dataValidations/" + MAIN + "dataValidation", xml.format(cells))


GREEN = (
    '<font><color rgb="FF0B3D36"/></font>'
    '<fill><patternFill><bgColor rgb="FFD3E8E4"/></patternFill></fill>'
)
TRUE_RULE = (
    '<cfRule type="expression" dxfId="{}" priority="1" stopIfTrue="1">'
    "<formula>1=1</formula></cfRule>"
)
XLSX["rules"] = {
    "colours of one sheet gone": drop_colours,
    "the colour of OUT gone on one sheet": lambda book: drop_colours(book, "OUT"),
    "OUT looks like OK": lambda book: recolour(book, "OUT", GREEN),
    "OUT without a colour": lambda book: recolour(book, "OUT", ""),
    "OUT shown as OK by its format": lambda book: recolour(
        book, "OUT", '<numFmt numFmtId="997" formatCode="&quot;OK&quot;;;;&quot;OK&quot;"/>'
    ),
    "all verdicts green": lambda book: colour(book, VERDICT, TRUE_RULE, GREEN),
    "a result shown as another": lambda book: colour(
        book, RESULT, TRUE_RULE, '<numFmt numFmtId="996" formatCode="&quot;0.001&quot;"/>'
    ),
    "readings white": lambda book: colour(
        book, READING, TRUE_RULE, '<font><color rgb="FFFFF3D1"/></font>'
    ),
    "a whole column white": lambda book: colour(
        book, "A:A", TRUE_RULE, '<font><color rgb="FFFFFFFF"/></font>'
    ),
    "a scale of colours over verdicts": lambda book: colour(
        book,
        f"{VERDICT}:F12",
        '<cfRule type="colorScale" priority="1"><colorScale><cfvo type="min"/><cfvo type="max"/>'
        '<color rgb="FFFF0000"/><color rgb="FF00FF00"/></colorScale></cfRule>',
    ),
    "readings white by an extension": lambda book: extended(book),
    "other choices": lambda book: entry(book).attrib.update({"type": "list"}),
    "other words before typing": lambda book: entry(book).set("prompt", "Type the radius."),
    "other words when refused": lambda book: entry(book).set("error", "Type 82.000, it is right."),
    "wider limits": lambda book: next(iter(entry(book))).__setattr__("text", "-999"),
    "words on a verdict": lambda book: ask(
        book,
        VERDICT,
        '<dataValidation allowBlank="1" showInputMessage="1" prompt="This one is OK." sqref="{}"/>',
    ),
    "words on a limit": lambda book: ask(
        book,
        LIMIT,
        '<dataValidation allowBlank="1" showInputMessage="1" prompt="Now 0.4." sqref="{}"/>',
    ),
}


def extended(book: StoredXlsx) -> None:
    """A rule as later programs keep it."""
    spaces = (
        'xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main" '
        'xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"'
    )
    rule = (
        '<x14:cfRule type="expression" priority="1"><xm:f>1=1</xm:f><x14:dxf><font>'
        '<color rgb="FFFFF3D1"/></font></x14:dxf></x14:cfRule>'
    )
    xml = (
        f"<extLst><ext {spaces}><x14:conditionalFormattings><x14:conditionalFormatting>{rule}"
        f"<xm:sqref>{READING}</xm:sqref></x14:conditionalFormatting></x14:conditionalFormattings>"
        "</ext></extLst>"
    )
    book.child(book.sheet(SHEET), xml)


# --- the same in .ods


def data(inside: str, kind: str = "number") -> str:
    return f'<number:{kind}-style style:name="strange-data">{inside}</number:{kind}-style>'


def shown(at: str, inside: str, kind: str = "number") -> OnOds:
    return lambda book: book.look(SHEET, at, data=data(inside, kind))


def printed(at: str, inside: str) -> OnOds:
    return lambda book: book.look(SHEET, at, inside)


DIGITS = '<number:number number:decimal-places="3" number:min-integer-digits="1"{}/>'
ODS["formats"] = {
    "words for a reading": shown(READING, "<number:text>82.000</number:text>"),
    "a reading by thousands": shown(READING, DIGITS.format(' number:display-factor="1000"')),
    "a reading without decimals": shown(READING, '<number:number number:decimal-places="0"/>'),
    "decimals replaced": shown(READING, DIGITS.format(' number:decimal-replacement="000"')),
    "a figure behind a reading": shown(READING, DIGITS.format("") + "<number:text>1</number:text>"),
    "words for a result": shown(RESULT, "<number:text>0.037</number:text>"),
    "a result by thousands": shown(RESULT, DIGITS.format(' number:display-factor="1000"')),
    "nothing for a result": shown(RESULT, "<number:text></number:text>"),
    "percent for a result": shown(
        RESULT,
        '<number:number number:decimal-places="1"/><number:text>%</number:text>',
        "percentage",
    ),
    "a day for a result": shown(
        RESULT, "<number:day/><number:text>-</number:text><number:month/>", "date"
    ),
    "a power of ten for a result": shown(
        RESULT,
        '<number:scientific-number number:decimal-places="0" number:min-exponent-digits="2"/>',
    ),
    "not before a verdict": shown(
        VERDICT, "<number:text>not </number:text><number:text-content/>", "text"
    ),
    "OK for a verdict": shown(VERDICT, "<number:text>OK</number:text>", "text"),
    "a limit otherwise": shown(LIMIT, "<number:text>0.9</number:text>"),
    "a limit by thousands": shown(LIMIT, DIGITS.format(' number:display-factor="1000"')),
    "a limit rounded": shown(LIMIT, '<number:number number:decimal-places="1"/>'),
    "a figure inside a limit": shown(
        LIMIT,
        '<number:number number:decimal-places="3"><number:embedded-text number:position="0">9'
        "</number:embedded-text></number:number>",
    ),
    "not before a heading": shown(
        WORD, "<number:text>not </number:text><number:text-content/>", "text"
    ),
}
ODS["looks"] = {
    "white on white": printed(RESULT, '<style:text-properties fo:color="#ffffff"/>'),
    "dark on dark": printed(
        VERDICT,
        f'<style:table-cell-properties fo:background-color="#{INK}"/>'
        f'<style:text-properties fo:color="#{INK}"/>',
    ),
    "in signs": printed(RESULT, '<style:text-properties style:font-name="Wingdings"/>'),
    "half a point high": printed(RESULT, '<style:text-properties fo:font-size="0.5pt"/>'),
    "struck out": printed(
        READING, '<style:text-properties style:text-line-through-style="solid"/>'
    ),
    "repeated across": printed(
        READING, '<style:table-cell-properties style:repeat-content="true"/>'
    ),
    "words of a heading in white": lambda book: white_span(book),
    "a row hidden": lambda book: book.row(SHEET, ROW).set(ods("table:visibility"), "collapse"),
    "a row filtered away": lambda book: book.row(SHEET, ROW).set(ods("table:visibility"), "filter"),
    "a row without height": lambda book: book.row(SHEET, ROW).set(
        ods("table:style-name"), sized(book, "row", "row-height")
    ),
    "a column hidden": lambda book: book.column(SHEET, 2).set(ods("table:visibility"), "collapse"),
    "a column without width": lambda book: book.column(SHEET, 2).set(
        ods("table:style-name"), sized(book, "column", "column-width")
    ),
    "a sheet hidden": lambda book: hide_table(book),
    "a box over a verdict": lambda book: book.put(
        book.cell(SHEET, VERDICT),
        f'<draw:frame svg:width="2in" svg:height="1in" table:end-cell-address="{SHEET}.G10">'
        "<draw:text-box><text:p>OK</text:p></draw:text-box></draw:frame>",
    ),
    "a box over the sheet": lambda book: book.put(
        book.sheet(SHEET),
        '<table:shapes><draw:custom-shape svg:x="0in" svg:y="0in" svg:width="9in" '
        'svg:height="4in"><text:p>OK</text:p></draw:custom-shape></table:shapes>',
    ),
}


def sized(book: StoredOds, kind: str, size: str) -> str:
    book.put(
        book.automatic,
        f'<style:style style:name="low" style:family="table-{kind}"><style:table-{kind}-properties '
        f'style:{size}="0.01in"/></style:style>',
    )
    return "low"


def hide_table(book: StoredOds) -> None:
    book.put(
        book.automatic,
        '<style:style style:name="gone" style:family="table">'
        '<style:table-properties table:display="false"/></style:style>',
    )
    book.sheet(SHEET).set(ods("table:style-name"), "gone")


def white_span(book: StoredOds) -> None:
    book.put(
        book.automatic,
        '<style:style style:name="white" style:family="text">'
        '<style:text-properties fo:color="#e6ecee"/></style:style>',
    )
    words = next(book.cell(SHEET, WORD).iter(ods("text:p")))
    words.text, said = None, words.text
    span = book.put(words, '<text:span text:style-name="white"/>')
    span.text = said


def colour_formats(book: StoredOds) -> list[object]:
    return list(book.sheet(SHEET).iter(ods("calcext:conditional-format")))


def drop_colour_formats(book: StoredOds, word: str = "") -> None:
    for kind in ("calcext:condition", "style:map"):
        for rule in list(book.content.iter(ods(kind))):
            said = rule.get(ods("calcext:value"), "") + rule.get(ods("style:condition"), "")
            here = kind == "style:map" or rule.getparent() in colour_formats(book)
            parent = rule.getparent()
            if here and (not word or f'"{word}"' in said) and parent is not None:
                parent.remove(rule)


def other_look(book: StoredOds, word: str, other: str) -> None:
    for rule in book.content.iter(ods("calcext:condition")):
        if rule.get(ods("calcext:value")) == f'="{word}"':
            rule.set(ods("calcext:apply-style-name"), other)


def new_colour(book: StoredOds, cells: str, inside: str, data_style: str = "") -> None:
    code = ' style:data-style-name="strange-data"' if data_style else ""
    if data_style:
        book.put(book.automatic, data_style)
    book.put(
        book.automatic,
        f'<style:style style:name="strange" style:family="table-cell"{code}>{inside}</style:style>',
        1,
    )
    first = colour_formats(book)[0]
    first.getparent().insert(  # type: ignore[attr-defined]
        0,
        book.put(
            book.body,
            f'<calcext:conditional-format calcext:target-range-address="{cells}">'
            '<calcext:condition calcext:apply-style-name="strange" '
            f'calcext:value="formula-is(1=1)" calcext:base-cell-address="{cells}"/>'
            "</calcext:conditional-format>",
        ),
    )


def own_rule(book: StoredOds) -> object:
    name = book.cell(SHEET, READING).get(ods("table:content-validation-name"))
    return next(
        one
        for one in book.body.iter(ods("table:content-validation"))
        if one.get(ods("table:name")) == name
    )


def reword(book: StoredOds, kind: str, words: str) -> None:
    message = next(own_rule(book).iter(ods(f"table:{kind}-message")))  # type: ignore[attr-defined]
    next(message.iter(ods("text:p"))).text = words


WHITE_INK = '<style:text-properties fo:color="#fff3d1"/>'
GREEN_LOOK = '<style:table-cell-properties fo:background-color="#d3e8e4"/>'
ODS["rules"] = {
    "colours of one sheet gone": drop_colour_formats,
    "the colour of OUT gone on one sheet": lambda book: drop_colour_formats(book, "OUT"),
    "OUT looks like OK": lambda book: other_look(book, "OUT", "ConditionalStyle_1"),
    "OUT without a colour": lambda book: other_look(book, "OUT", "Default"),
    "all verdicts green": lambda book: new_colour(book, f"{SHEET}.{VERDICT}", GREEN_LOOK),
    "a result shown as another": lambda book: new_colour(
        book, f"{SHEET}.{RESULT}", "", data("<number:text>0.001</number:text>")
    ),
    "readings white": lambda book: new_colour(book, f"{SHEET}.{READING}", WHITE_INK),
    "wider limits": lambda book: own_rule(book).set(  # type: ignore[attr-defined]
        ods("table:condition"),
        "of:cell-content-is-decimal-number() and cell-content-is-between(-999,999)",
    ),
    "other words before typing": lambda book: reword(book, "help", "Type the radius."),
    "other words when refused": lambda book: reword(book, "error", "Type 82.000, it is right."),
    "words on a verdict": lambda book: book.cell(SHEET, VERDICT).set(
        ods("table:content-validation-name"),
        book.cell(SHEET, READING).get(ods("table:content-validation-name"), ""),
    ),
}
