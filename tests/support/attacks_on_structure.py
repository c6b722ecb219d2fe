"""Attacks by how a book is stored or shown: cells told twice, words that a formula makes,
heads of pages that name a size, cells that are not printed.

Elements by ECMA-376 part 1, 18.3, and OASIS OpenDocument 1.3 part 3; what can be done with them is
common knowledge, no source.
"""

from __future__ import annotations

from attacks_on_looks import (
    LIMIT,
    ODS,
    READING,
    RESULT,
    ROW,
    SHEET,
    VERDICT,
    WORD,
    XLSX,
    OnOds,
    OnXlsx,
    font,
    printed,
    row_of,
)
from attacks_on_words import printed as words_printed
from foreign_saves import small_layout
from stored_books import StoredOds, StoredXlsx, ods
from xlsx_parts import MAIN


def made_by_formula(words: str) -> OnXlsx:
    """Printed words that a formula makes now, and otherwise another day."""

    def attack(book: StoredXlsx) -> None:
        text = words_printed(words)
        cell = book.cell(text.at.sheet, text.at.cell)
        for child in list(cell):
            cell.remove(child)
        cell.set("t", "str")
        book.child(cell, f'<f>IF({READING}&gt;0,"x","y")</f>')
        book.child(cell, "<v/>").text = text.words

    return attack


def head(words: str, old: str = "") -> OnXlsx:
    """Words put to the head of the pages, or in the place of others there."""

    def attack(book: StoredXlsx) -> None:
        (found,) = book.sheet(SHEET).iter(f"{MAIN}oddHeader")
        assert old in (found.text or "")
        found.text = (found.text or "").replace(old, words, 1) if old else f"{found.text} {words}"

    return attack


def aligned(at: str, said: str) -> OnXlsx:
    """A cell whose words stand otherwise."""
    return lambda book: book.look(SHEET, at, alignment=f"<alignment {said}/>")


def told_twice(at: str, value: str) -> OnXlsx:
    """A second cell of the same address."""

    def attack(book: StoredXlsx) -> None:
        cell = book.cell(SHEET, at)
        row = cell.getparent()
        assert row is not None
        book.child(row, f'<c r="{at}"><v>{value}</v></c>')

    return attack


def row_told_twice(book: StoredXlsx) -> None:
    """A second row of the same number."""
    (rows,) = book.sheet(SHEET).iter(f"{MAIN}sheetData")
    book.child(rows, f'<row r="{ROW}"><c r="{READING}"><v>81</v></c></row>')


def kind_of(at: str, kind: str, inside: str) -> OnXlsx:
    """A cell of another kind."""

    def attack(book: StoredXlsx) -> None:
        cell = book.cell(SHEET, at)
        for child in list(cell):
            cell.remove(child)
        cell.set("t", kind)
        book.child(cell, inside)

    return attack


def runs(*pieces: tuple[str, str]) -> OnXlsx:
    """The heading of the sizes in pieces of other looks."""

    def attack(book: StoredXlsx) -> None:
        cell = book.cell(SHEET, WORD)
        for child in list(cell):
            cell.remove(child)
        cell.set("t", "inlineStr")
        told = "".join(
            f"<r><rPr>{look}</rPr><t xml:space='preserve'>{one}</t></r>" for look, one in pieces
        )
        book.child(cell, f"<is>{told}</is>")

    return attack


def second(kind: str, part: str, of: str = "xl/styles.xml") -> OnXlsx:
    """A second part of a kind of which a book has one."""

    def attack(book: StoredXlsx) -> None:
        book.tie("xl/workbook.xml", kind, f"/{part}")
        book.part(part, book.files[of].replace(b"0.000", b"0.0"))

    return attack


XLSX["structure"] = {
    "a heading made by a formula": made_by_formula("across the crank"),
    "the name of a row made by a formula": made_by_formula("End wall before cylinder 1"),
    "an instruction made by a formula": made_by_formula("Thrust side"),
    "a stop at the head": head("Stop 99"),
    "another block at the head": head("Block 77"),
    "a size at the head": head("bore to 82.5"),
    "a not at the head": head("not to be honed"),
    "approved at the head": head("Approved, Miller"),
    "another job at the head": head("XX-9", small_layout().job.block),
    "pushed out of its cell": aligned(RESULT, 'indent="200"'),
    "a verdict pushed out of its cell": aligned(VERDICT, 'horizontal="left" indent="250"'),
    "in another set of signs": font(RESULT, '<sz val="10"/>', "Webdings"),
    "in Greek letters": font(VERDICT, '<sz val="10"/>', "Symbol"),
    "in letters of a window": font(VERDICT, '<sz val="10"/>', "Marlett"),
    "a reading told twice": told_twice(READING, "81.5"),
    "a result told twice": told_twice(RESULT, "0"),
    "a row told twice": row_told_twice,
    "a limit that is an error": kind_of(LIMIT, "e", "<v>#N/A</v>"),
    "a limit in words": kind_of(LIMIT, "inlineStr", "<is><t>0.4</t></is>"),
    "a result in words": kind_of(RESULT, "inlineStr", "<is><t>0.001</t></is>"),
    "a word of a heading struck out": runs(("<strike/>", "across"), ("<b/>", " the crank\nmm")),
    "a word of a heading tiny": runs(('<sz val="1"/>', "across"), ("<b/>", " the crank\nmm")),
    "a word of a heading in signs": runs(
        ('<rFont val="Wingdings"/>', "across"), ("<b/>", " the crank\nmm")
    ),
    "a second set of styles": second("styles", "xl/styles2.xml"),
    "a second set of words": second("sharedStrings", "xl/words2.xml", "xl/sharedStrings.xml"),
    "a row of half a point": lambda book: row_of(book, ROW).attrib.update(
        {"ht": "0.5", "customHeight": "1"}
    ),
}


def ods_word(at: str, formula: str) -> OnOds:
    """A printed word that a formula makes."""
    return lambda book: book.cell(SHEET, at).attrib.update(
        {ods("table:formula"): formula, ods("office:value-type"): "string"}
    )


def ods_head(words: str) -> OnOds:
    """Words put to the head of all pages."""

    def attack(book: StoredOds) -> None:
        for one in book.styles.iter(ods("style:header")):
            book.put(one, f"<style:region-center><text:p>{words}</text:p></style:region-center>")

    return attack


def typed_as(at: str, **said: str) -> OnOds:
    """A cell of another kind."""

    def attack(book: StoredOds) -> None:
        cell = book.cell(SHEET, at)
        for name in ("value", "string-value"):
            cell.attrib.pop(ods(f"office:{name}"), None)
        cell.attrib.update(
            {ods(f"office:{name.replace('_', '-')}"): one for name, one in said.items()}
        )

    return attack


def shown_words(at: str, words: str) -> OnOds:
    """Other words shown than the cell is said to hold."""

    def attack(book: StoredOds) -> None:
        next(book.cell(SHEET, at).iter(ods("text:p"))).text = words

    return attack


def shown_piece(at: str, said: str) -> OnOds:
    """The words of a cell in a look of their own."""

    def attack(book: StoredOds) -> None:
        book.put(
            book.automatic,
            '<style:style style:name="strange-run" style:family="text">'
            f"<style:text-properties {said}/></style:style>",
        )
        words = next(book.cell(SHEET, at).iter(ods("text:p")))
        words.text, shown = None, words.text
        book.put(words, '<text:span text:style-name="strange-run"/>').text = shown

    return attack


ODS["structure"] = {
    "a heading made by a formula": ods_word(WORD, 'of:=IF(1;"a";"b")'),
    "the name of a row made by a formula": ods_word("A9", 'of:=IF(1;"a";"b")'),
    "approved at the head": ods_head("Approved, Miller"),
    "a reading of half a point in a run": shown_piece(READING, 'fo:font-size="1pt"'),
    "a verdict of half a point in a run": shown_piece(VERDICT, 'fo:font-size="1pt"'),
    "a stop at the head": ods_head("Stop 99"),
    "a size at the head": ods_head("bore to 82.5"),
    "a whole size at the head": ods_head("Bore all to 83"),
    "a size with its unit at the head": ods_head("deck both banks at 219 mm"),
    "a verdict at the head": ods_head("fit for assembly"),
    "a verdict not printed": printed(
        VERDICT, '<style:table-cell-properties style:print-content="false"/>'
    ),
    "a reading not printed": printed(
        READING, '<style:table-cell-properties style:print-content="false"/>'
    ),
    "upside down": printed(RESULT, '<style:table-cell-properties style:rotation-angle="180"/>'),
    "pushed out of its cell": printed(RESULT, '<style:paragraph-properties fo:margin-left="9in"/>'),
    "in Greek letters": printed(VERDICT, '<style:text-properties style:font-name="Symbol"/>'),
    "a limit in words": typed_as(LIMIT, value_type="string", string_value="0.4"),
    "other words shown": shown_words(WORD, "along the crank"),
}
