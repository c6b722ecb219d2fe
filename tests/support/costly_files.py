"""Files made to cost much: small ones whose reading or judging would take minutes or gigabytes if
it were not held to a limit.

    python tests/support/costly_files.py [NAME…]     from the project's folder: what each costs, the
    dearest last

Each is a sound small book in which one thing is far too many, too long or too deep. Source: common
knowledge of what stalls parsers, no source; the sizes are our own.
"""

from __future__ import annotations

import base64
import io
import json
import random
import re
import resource
import signal
import subprocess
import sys
import tempfile
import zipfile
import zlib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from string import ascii_letters, digits
from typing import NamedTuple

PROJECT = Path(__file__).resolve().parents[2]
if __name__ == "__main__":
    sys.path[:0] = [str(PROJECT / "builder"), str(PROJECT / "tests" / "support")]

from datumbook.cells.basis import Basis  # noqa: E402
from datumbook.job import Job, scope_of  # noqa: E402
from datumbook.spec import read_spec  # noqa: E402
from datumbook.workbook.record import CHUNK  # noqa: E402
from datumbook.writer import workbook_bytes  # noqa: E402
from foreign_saves import honest_readings, small_layout  # noqa: E402
from many_holes import with_holes  # noqa: E402

Parts = dict[str, bytes]
BOOK, STYLES, TEXTS = "xl/workbook.xml", "xl/styles.xml", "xl/sharedStrings.xml"
SHEET = "xl/worksheets/sheet2.xml"
MADE: dict[str, Callable[[], bytes]] = {}
PATIENCE = 25  # seconds of processor time that a file is given


def costly(make: Callable[[], bytes]) -> Callable[[], bytes]:
    """A file of the record, by what is too much in it."""
    MADE[make.__name__.replace("_", " ")] = make
    return make


@cache
def sound() -> bytes:
    """The small workbook, filled honestly."""
    return workbook_bytes(small_layout(), honest_readings(small_layout(), 1))


def parts_of(data: bytes) -> Parts:
    """The parts of a file by name."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(parts: Parts) -> bytes:
    """A file of these parts."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return buffer.getvalue()


def changed(part: str, old: str, new: str) -> bytes:
    """The sound book with one piece of a part written otherwise."""
    parts = parts_of(sound())
    text = parts[part].decode()
    assert old in text, f"{old!r} is not in {part}"
    parts[part] = text.replace(old, new, 1).encode()
    return packed(parts)


def noise(number: int) -> str:
    """Letters that pack badly, so that no part unpacks to more than two hundred times its size."""
    return "".join(random.Random(number).choices(ascii_letters, k=260))


def number(seed: int) -> str:
    """Digits that pack badly."""
    return "".join(random.Random(seed).choices(digits, k=2_000))


def rows(text: str) -> bytes:
    """The sound book with further rows at the end of a sheet."""
    return changed(SHEET, "</sheetData>", f"{text}</sheetData>")


def behind(text: str) -> bytes:
    """The sound book with something behind the rows of a sheet."""
    return changed(SHEET, "</sheetData>", f"</sheetData>{text}")


def cell(row: int, column: str, inside: str, more: str = "") -> str:
    """A row of one cell."""
    return f'<row r="{row}"><c r="{column}{row}"{more}>{inside}</c></row>'


# --- formulas


@costly
def cells_that_share_a_long_formula() -> bytes:
    text = "+".join(["ABS(A1)"] * 2_000)
    first = cell(1001, "A", f'<f t="shared" ref="A1001:A6000" si="9">{text}</f><v>0</v>')
    more = (cell(row, "A", '<f t="shared" si="9"/><v>0</v>') for row in range(1002, 6001))
    return rows(first + "".join(more))


@costly
def cells_of_the_book_that_share_a_long_formula() -> bytes:
    """Every formula of the book in the place of its own."""
    text = "+".join(["ABS(A1)"] * 2_000)
    parts = parts_of(sound())
    for name in [name for name in parts if name.startswith("xl/worksheets/sheet")]:
        master = f'<f t="shared" si="0" ref="A1:Z999">{text}</f>'
        whole = re.sub(r"<f>[^<]*</f>", '<f t="shared" si="0"/>', parts[name].decode())
        parts[name] = whole.replace('<f t="shared" si="0"/>', master, 1).encode()
    return packed(parts)


def each_formula(write: Callable[[int], str]) -> bytes:
    """The sound book with every formula rewritten, each by its number."""
    parts, number = parts_of(sound()), 0

    def spell(_: re.Match[str]) -> str:
        nonlocal number
        number += 1
        return f'<f>LEN("{noise(number)}")+{write(number)}</f>'

    for name in [name for name in parts if name.startswith("xl/worksheets/sheet")]:
        parts[name] = re.sub(r"<f>[^<]*</f>", spell, parts[name].decode()).encode()
    return packed(parts)


@costly
def every_formula_long_and_different() -> bytes:
    return each_formula(lambda number: f"{number}" + "+A1" * 5_000)


@costly
def every_formula_deep_and_different() -> bytes:
    return each_formula(lambda number: "(" * 290 + f"{number}" + "+A1)" * 290)


@costly
def every_formula_as_deep_as_is_read() -> bytes:
    """No longer than one that a program might have spelled so."""
    parts = parts_of(sound())

    def spell(found: re.Match[str]) -> str:
        deep = min(290, (7 * (100 + len(found[1]))) // 5)
        return f"<f>{'(' * deep}{found.start()}{'+A1)' * deep}</f>"

    for name in [name for name in parts if name.startswith("xl/worksheets/sheet")]:
        parts[name] = re.sub(r"<f>([^<]*)</f>", spell, parts[name].decode()).encode()
    return packed(parts)


@costly
def every_formula_of_large_ranges() -> bytes:
    return each_formula(lambda number: "+".join(f"SUM(A{number}:ZZ99999)" for _ in range(200)))


@costly
def every_formula_of_many_functions() -> bytes:
    return each_formula(lambda number: f"ABS({number})" + "*IF(A1>1,MAX(A1:B9),1)" * 500)


@costly
def every_formula_of_open_brackets() -> bytes:
    return each_formula(lambda number: f"{number}+" + "(" * 16_000)


@costly
def every_formula_of_quotes() -> bytes:
    return each_formula(lambda number: f"{number}&amp;" + '""""' * 4_000 + '"')


@costly
def every_formula_of_apostrophes() -> bytes:
    return each_formula(lambda number: f"{number}+" + "'" * 16_000)


@costly
def every_formula_of_square_brackets() -> bytes:
    return each_formula(lambda number: f"{number}+" + "a[" * 8_000)


@costly
def every_formula_of_one_long_name() -> bytes:
    return each_formula(lambda number: f"{number}+" + "a.b" * 5_400)


@costly
def every_formula_of_colons() -> bytes:
    return each_formula(lambda number: f"{number}+" + "a:" * 8_000)


@costly
def every_formula_of_blanks() -> bytes:
    return each_formula(lambda number: f"{number}" + " " * 16_000 + "?")


@costly
def every_formula_of_minus_signs() -> bytes:
    return each_formula(lambda number: "-" * 16_000 + f"{number}")


@costly
def many_arrays() -> bytes:
    text = "".join(
        cell(row, "A", f'<f t="array" ref="A{row}:XFD{row}">B1</f><v>0</v>')
        for row in range(1001, 30_001)
    )
    return rows(text)


@costly
def arrays_over_the_whole_sheet() -> bytes:
    text = "".join(
        cell(row, "A", '<f t="array" ref="A1:XFD1048576">B1</f><v>0</v>')
        for row in range(1001, 1_500)
    )
    return rows(text)


@costly
def a_long_sum_in_every_reading() -> bytes:
    parts = parts_of(sound())
    for name in [name for name in parts if name.startswith("xl/worksheets/sheet")]:
        parts[name] = re.sub(
            r"(<c r=[^>]*>)(<v>[^<]*</v>)",
            lambda one: f"{one[1]}<f>1{'+1' * 7000}+{number(one.start())}</f>{one[2]}",
            parts[name].decode(),
        ).encode()
    return packed(parts)


# --- cells, rows and sheets


@costly
def merged_ranges() -> bytes:
    text = "".join(f'<mergeCell ref="A{row}:B{row}"/>' for row in range(1, 100_001))
    return behind(f'<mergeCells count="100000">{text}</mergeCells>')


@costly
def merged_ranges_one_over_another() -> bytes:
    text = "".join(f'<mergeCell ref="A1:XFD{row}"/>' for row in range(1, 100_001))
    return behind(f'<mergeCells count="100000">{text}</mergeCells>')


@costly
def sparse_cells_in_a_million_rows() -> bytes:
    return rows("".join(cell(row, "A", "<v>1</v>") for row in range(2_000, 1_000_000, 4)))


@costly
def cells_far_from_each_other() -> bytes:
    return rows("".join(cell(row, "XFD", "<v>1</v>") for row in range(2_000, 1_040_000, 40)))


@costly
def texts_without_end() -> bytes:
    text = "x" * 32_000 + "</t></is>"
    return rows(
        "".join(
            cell(row, "A", f"<is><t>{noise(row)}{text}", ' t="inlineStr"')
            for row in range(2_000, 3_700)
        )
    )


@costly
def words_of_the_book_in_many_cells() -> bytes:
    return rows("".join(cell(row, "A", "<v>3</v>", ' t="s"') for row in range(2_000, 120_000)))


@costly
def hidden_rows() -> bytes:
    return rows("".join(f'<row r="{row}" hidden="1"/>' for row in range(2_000, 900_000)))


@costly
def hidden_columns() -> bytes:
    text = "".join(f'<col min="{at}" max="16384" hidden="1"/>' for at in range(1, 16_000))
    return changed(SHEET, "<cols>", f"<cols>{text}")


@costly
def numbers_of_a_million_digits() -> bytes:
    return rows(
        "".join(
            cell(row, "A", f"<v>{'9' * 100_000}{number(row)}</v>") for row in range(2_000, 2_400)
        )
    )


@costly
def numbers_with_a_huge_exponent() -> bytes:
    return rows(
        "".join(
            cell(row, "A", f"<v>1e{'9' * 100_000}{number(row)}</v>") for row in range(2_000, 2_400)
        )
    )


@costly
def readings_that_are_long_words() -> bytes:
    return words_everywhere("1/" * 16_000)


@costly
def readings_that_are_digits_and_blanks() -> bytes:
    return words_everywhere("1 " * 16_000 + "x")


@costly
def readings_that_are_letters_o() -> bytes:
    return words_everywhere("O" * 32_000)


@costly
def readings_that_are_signs() -> bytes:
    return words_everywhere("±" * 16_000 + "1,")


def words_everywhere(words: str) -> bytes:
    """The sound book with every number a text."""
    parts = parts_of(sound())
    for name in [name for name in parts if name.startswith("xl/worksheets/sheet")]:
        parts[name] = re.sub(
            r'<c r="([A-Z]+\d+)"( s="\d+")?><v>[^<]*</v>',
            lambda one: (
                f'<c r="{one[1]}"{one[2] or ""} t="inlineStr"><is><t>{words}{noise(one.start())}'
                "</t></is>"
            ),
            parts[name].decode(),
        ).encode()
    return packed(parts)


@costly
def sheets() -> bytes:
    return changed(
        BOOK,
        "</sheets>",
        "".join(
            f'<sheet name="S{at}" sheetId="{at}" r:id="none{at}"/>' for at in range(100, 60_000)
        )
        + "</sheets>",
    )


@costly
def copies_of_a_sheet() -> bytes:
    parts = parts_of(sound())
    relations = "xl/_rels/workbook.xml.rels"
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet"
    listed = told = ""
    for at in range(1, 80):
        parts[f"xl/worksheets/copy{at}.xml"] = parts[SHEET]
        listed += f'<sheet name="Copy{at}" sheetId="{at + 900}" r:id="copy{at}"/>'
        told += f'<Relationship Id="copy{at}" Type="{kind}" Target="worksheets/copy{at}.xml"/>'
    parts[BOOK] = parts[BOOK].replace(b"</sheets>", f"{listed}</sheets>".encode())
    parts[relations] = parts[relations].replace(
        b"</Relationships>", f"{told}</Relationships>".encode()
    )
    return packed(parts)


# --- styles, names and texts


@costly
def a_number_format_of_brackets() -> bytes:
    return with_format("[" * 200_000)


@costly
def a_number_format_of_closed_brackets() -> bytes:
    return with_format("[h" * 100_000)


@costly
def a_number_format_of_quotes() -> bytes:
    return with_format("&quot;" * 200_001)


def with_format(code: str) -> bytes:
    """The sound book with a further number format."""
    return changed(
        STYLES,
        "<numFmts",
        f'<numFmts><numFmt numFmtId="900" formatCode="{code}"/></numFmts><numFmts',
    )


@costly
def number_formats() -> bytes:
    text = "".join(
        f'<numFmt numFmtId="{at}" formatCode="{"[Red]0.00" * 20}{at}"/>'
        for at in range(1_000, 60_000)
    )
    return changed(STYLES, "<numFmts", f"<numFmts>{text}</numFmts><numFmts")


@costly
def cell_styles() -> bytes:
    return changed(STYLES, "</cellXfs>", '<xf numFmtId="0" fontId="0"/>' * 900_000 + "</cellXfs>")


@costly
def conditional_formats() -> bytes:
    text = "".join(
        f'<conditionalFormatting sqref="A{at}:XFD1048576">'
        f'<cfRule type="expression" priority="{at}">'
        f"<formula>A1={at}</formula></cfRule></conditionalFormatting>"
        for at in range(1, 90_000)
    )
    return behind(text)


@costly
def validations() -> bytes:
    text = "".join(
        f'<dataValidation type="decimal" sqref="A{at}:XFD1048576">'
        f"<formula1>{at}</formula1></dataValidation>"
        for at in range(1, 90_000)
    )
    return behind(f"<dataValidations>{text}</dataValidations>")


@costly
def ranges_of_one_validation() -> bytes:
    text = " ".join(f"A{at}:XFD{at}" for at in range(1, 300_000))
    return behind(
        f'<dataValidations><dataValidation type="decimal" sqref="{text}"/></dataValidations>'
    )


@costly
def names() -> bytes:
    return with_names(f'<definedName name="n_{at}">Job!$A$1</definedName>' for at in range(150_000))


@costly
def long_names() -> bytes:
    return with_names(
        f'<definedName name="{"n" * 30_000}{at}">Job!$A$1</definedName>' for at in range(1_500)
    )


@costly
def names_of_long_targets() -> bytes:
    return with_names(
        f'<definedName name="n_{at}">{"Job!$A$1," * 4_000}Job!$A$1</definedName>'
        for at in range(1_500)
    )


@costly
def names_defined_again() -> bytes:
    return with_names('<definedName name="n_1">Job!$A$1</definedName>' for _ in range(150_000))


def with_names(names: Iterator[str]) -> bytes:
    """The sound book with further defined names."""
    return changed(BOOK, "</definedNames>", "".join(names) + "</definedNames>")


@costly
def names_that_all_lead_astray() -> bytes:
    parts = parts_of(sound())
    parts[BOOK] = re.sub(
        r"(<definedName name=\"[^\"]*\">)[^<]*<", r"\1Job!$A$1<", parts[BOOK].decode()
    ).encode()
    return packed(parts)


@costly
def shared_texts() -> bytes:
    return changed(
        TEXTS, "</sst>", "".join(f"<si><t>{at}</t></si>" for at in range(900_000)) + "</sst>"
    )


@costly
def a_shared_text_of_many_runs() -> bytes:
    return changed(TEXTS, "</sst>", "<si>" + "<r><t>x</t></r>" * 900_000 + "</si></sst>")


@costly
def a_shared_text_of_escapes() -> bytes:
    return changed(TEXTS, "</sst>", f"<si><t>{'_x' * 4_000_000}</t></si></sst>")


@costly
def every_printed_word_changed() -> bytes:
    parts = parts_of(sound())
    parts[TEXTS] = re.sub(r">([^<]+)</t>", r">\1 x</t>", parts[TEXTS].decode()).encode()
    return packed(parts)


def reworded(words: str) -> bytes:
    """The sound book with every longer printed text written otherwise, its record apart."""
    parts = parts_of(sound())
    parts[TEXTS] = re.sub(
        r">([^<#][^<]{20,})</t>", rf">\1 {words}</t>", parts[TEXTS].decode()
    ).encode()
    return packed(parts)


@costly
def printed_words_of_a_few_again_and_again() -> bytes:
    return reworded("not the left bore " * 1_500)


@costly
def printed_words_of_signs() -> bytes:
    return reworded("Ø" * 30_000)


@costly
def a_page_head_without_end() -> bytes:
    return changed(SHEET, "<oddHeader>", f"<oddHeader>{'job not the left bore ' * 90_000}")


@costly
def page_heads_of_codes() -> bytes:
    return changed(SHEET, "<oddHeader>", f"<oddHeader>{'&amp;&quot;' * 90_000}")


@costly
def remarks_without_end() -> bytes:
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/comments"
    parts = parts_of(sound())
    said = "".join(
        f'<comment ref="A{at}" authorId="0"><text><r><t>{noise(at)}</t></r></text></comment>'
        for at in range(180_000)
    )
    parts["xl/comments9.xml"] = f"<comments><commentList>{said}</commentList></comments>".encode()
    parts["xl/worksheets/_rels/sheet2.xml.rels"] = (
        '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        f'<Relationship Id="c" Type="{kind}" Target="../comments9.xml"/></Relationships>'
    ).encode()
    return packed(parts)


@costly
def fonts_and_formats_of_every_cell() -> bytes:
    fonts = "".join(
        f'<font><sz val="{at}"/><name val="{noise(at)}"/></font>' for at in range(9_000)
    )
    return changed(STYLES, "</fonts>", f"{fonts}</fonts>")


@costly
def print_areas_of_many_pieces() -> bytes:
    area = ",".join(f"Bores!$A${row}:$B${row}" for row in range(1, 300_000))
    name = f'<definedName name="_xlnm.Print_Area" localSheetId="1">{area}</definedName>'
    return changed(BOOK, "<definedNames>", f"<definedNames>{name}")


# --- XML and archive


@costly
def a_deep_tree() -> bytes:
    return behind("<a>" * 2_000_000)


@costly
def a_deep_tree_that_ends() -> bytes:
    return behind("<a>" * 250 + "<b/>" * 1_500_000 + "</a>" * 250)


@costly
def attributes() -> bytes:
    return behind("<a " + " ".join(f'a{at}=""' for at in range(400_000)) + "/>")


@costly
def a_long_attribute() -> bytes:
    return behind(f'<a b="{"x" * 9_000_000}"/>')


@costly
def an_attribute_of_spaces() -> bytes:
    return behind(f'<a b="{"&#9;" * 2_000_000}"/>')


@costly
def names_of_spaces() -> bytes:
    return behind("".join(f'<a xmlns:n{at}="u{at}"/>' for at in range(300_000)))


@costly
def one_element_of_many_name_spaces() -> bytes:
    return behind("<a " + " ".join(f'xmlns:n{at}="u{at}"' for at in range(60_000)) + "/>")


@costly
def children_of_one_row() -> bytes:
    return rows('<row r="2000">' + "<x/>" * 1_500_000 + "</row>")


@costly
def parts_of_nothing() -> bytes:
    return packed(parts_of(sound()) | {f"xl/media/{at}.bin": b"" for at in range(1_900)})


@costly
def relations() -> bytes:
    told = "".join(
        f'<Relationship Id="n{at}" Type="t/worksheet" Target="{"../x/" * 50}{at}.xml"/>'
        for at in range(60_000)
    )
    return changed("xl/_rels/workbook.xml.rels", "</Relationships>", f"{told}</Relationships>")


@costly
def properties() -> bytes:
    told = "".join(
        f'<property fmtid="x" pid="{at}" name="p{at}"><vt:lpwstr>x</vt:lpwstr></property>'
        for at in range(10, 200_000)
    )
    return changed("docProps/custom.xml", "</Properties>", f"{told}</Properties>")


@costly
def a_bomb_in_a_part() -> bytes:
    return packed(parts_of(sound()) | {"xl/media/image1.bin": bytes(60_000_000)})


@costly
def many_small_bombs() -> bytes:
    bombs = {f"xl/media/{at}.xml": b"<a/>" * 250_000 for at in range(60)}
    return packed(parts_of(sound()) | bombs)


# --- the record


def recorded(content: dict[str, object], level: int = 9) -> bytes:
    """The sound book with another record."""
    return with_record(json.dumps(content).encode(), level)


def with_record(text: bytes, level: int = 9) -> bytes:
    """The sound book with another text packed as its record."""
    words = base64.b64encode(zlib.compress(text, level)).decode()
    pieces = [words[at : at + CHUNK] for at in range(0, len(words), CHUNK)]
    lines = "".join(
        cell(
            number,
            "A",
            f"<is><t>#{number}/{len(pieces)}:{zlib.crc32(piece.encode()):08X}:{piece}</t></is>",
            ' t="inlineStr"',
        )
        for number, piece in enumerate(pieces, 1)
    )
    parts = parts_of(sound())
    name = re.search(r'name="Record" sheetId="(\d+)"', parts[BOOK].decode())
    assert name is not None
    sheet = f"xl/worksheets/sheet{name[1]}.xml"
    start, _, rest = parts[sheet].decode().partition("<sheetData>")
    parts[sheet] = (
        start + "<sheetData>" + lines + "</sheetData>" + rest.partition("</sheetData>")[2]
    ).encode()
    return packed(parts)


def record_of(spec_text: str, job: Job | None = None) -> dict[str, object]:
    """A record as a book of this spec has it, its map apart."""
    from datumbook import VERSION

    job = job or Job("SM-1")
    scope = scope_of(read_spec(spec_text, "small.toml"), job)
    return {
        "format": 1,
        "identity": Basis(scope).identity,
        "version": VERSION,
        "spec_name": "small.toml",
        "spec_text": spec_text,
        "job": job.model_dump(mode="json", by_alias=True),
        "map": [],
    }


@costly
def a_record_of_400_holes() -> bytes:
    return recorded(record_of(with_holes(400)))


@costly
def a_record_of_400_holes_in_one_group() -> bytes:
    return recorded(record_of(with_holes(400, 400)))


@costly
def a_record_of_400_groups_of_holes() -> bytes:
    return recorded(record_of(with_holes(400, 1)))


@costly
def a_record_of_3000_holes() -> bytes:
    return recorded(record_of(with_holes(3_000)))


def spec_text_is(text: str) -> bytes:
    """A record whose spec is another text, with an identity that cannot be right."""
    return recorded(record_of(base_text()) | {"spec_text": text})


@cache
def base_text() -> str:
    """The spec of the small book."""
    return small_layout().spec.text


@costly
def a_spec_of_a_huge_array() -> bytes:
    return spec_text_is(base_text() + "\n[more]\nx = [" + "1," * 4_000_000 + "]")


@costly
def a_spec_of_nested_arrays() -> bytes:
    return spec_text_is("x = " + "[" * 900 + "]" * 900 + ("\n" + "#" * 100) * 100_000)


@costly
def a_spec_of_tables() -> bytes:
    return spec_text_is("".join(f"[t{at}]\nx=1\n" for at in range(200_000)))


@costly
def a_spec_of_one_deep_key() -> bytes:
    return spec_text_is(".".join(["a"] * 200_000) + " = 1")


@costly
def a_spec_of_long_numbers() -> bytes:
    return spec_text_is(
        f"x = {'9' * 4_000}\n" + "\n".join(f"y{at} = {'9' * 4_000}" for at in range(2_000))
    )


@costly
def a_spec_of_faults() -> bytes:
    return spec_text_is(base_text() + "".join(f'\n[wrong{at}]\nx = "1 mm"' for at in range(50_000)))


@costly
def a_spec_of_strange_lengths() -> bytes:
    return spec_text_is(base_text().replace('"56.00 mm"', '"' + "9" * 1_000_000 + ' mm"'))


@costly
def a_spec_of_a_tower_of_powers() -> bytes:
    return spec_text_is(base_text().replace('"56.00 mm"', '"1e999999999 mm"'))


@costly
def a_spec_of_unknown_units() -> bytes:
    return spec_text_is(base_text().replace('"56.00 mm"', '"56.00 ' + "kilo" * 10_000 + 'm"'))


@costly
def a_record_of_a_huge_map() -> bytes:
    return recorded(
        record_of(base_text()) | {"map": [["a", "b", "c", "mm", "reading", "x", ""]] * 400_000}
    )


@costly
def a_record_that_unpacks_to_32_megabytes() -> bytes:
    return with_record(b"[" + b"[]," * 10_000_000 + b"[]]", 9)


@costly
def a_record_of_deep_json() -> bytes:
    return with_record(b"[" * 900_000)


@costly
def a_record_of_a_long_number() -> bytes:
    return with_record(b'{"a": ' + b"9" * 4_000 + b"}")


@costly
def a_record_of_a_huge_job() -> bytes:
    job = {"block": "x" * 5_000_000, "left": {f"s{at}": "x" for at in range(200_000)}}
    return recorded(record_of(base_text()) | {"job": job})


# --- OpenDocument


def ods(body: str, styles: str = "") -> bytes:
    """An .ods file of one sheet with this inside."""
    spaces = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for name in ("office", "table", "text", "style")
    )
    content = (
        f"<office:document-content {spaces}><office:automatic-styles>{styles}"
        "</office:automatic-styles><office:body><office:spreadsheet>"
        f'<table:table table:name="S">{body}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    return packed(
        {
            "mimetype": b"application/vnd.oasis.opendocument.spreadsheet",
            "content.xml": content.encode(),
        }
    )


VALUE = '<table:table-cell office:value-type="float" office:value="1"/>'


@costly
def ods_rows_repeated() -> bytes:
    return ods(f'<table:table-row table:number-rows-repeated="1048576">{VALUE}</table:table-row>')


@costly
def ods_columns_repeated() -> bytes:
    wide = VALUE.replace("/>", ' table:number-columns-repeated="16384"/>')
    return ods(f"<table:table-row>{wide}</table:table-row>" * 20)


@costly
def ods_blank_rows_repeated() -> bytes:
    often = 'table:number-rows-repeated="1048576"'
    row = f"<table:table-row {often}><table:table-cell/></table:table-row>"
    return ods(row * 200_000)


@costly
def ods_hidden_rows_repeated() -> bytes:
    row = '<table:table-row table:number-rows-repeated="1048576" table:visibility="collapse"/>'
    last = f"<table:table-row>{VALUE}</table:table-row>"
    return ods(row + last + row)


@costly
def ods_hidden_rows_one_after_another() -> bytes:
    row = '<table:table-row table:visibility="collapse"><table:table-cell/></table:table-row>'
    return ods(row * 300_000 + f"<table:table-row>{VALUE}</table:table-row>")


@costly
def ods_many_sheets_of_hidden_rows() -> bytes:
    one = (
        '<table:table-row table:number-rows-repeated="1048575" table:visibility="collapse"/>'
        f"<table:table-row>{VALUE}</table:table-row>"
    )
    return ods("".join(f'{one}</table:table><table:table table:name="S{at}">' for at in range(500)))


@costly
def ods_spaces_repeated() -> bytes:
    text = '<text:s text:c="32767"/>' * 3_000
    return ods(
        f'<table:table-row><table:table-cell office:value-type="string"><text:p>{text}</text:p>'
        "</table:table-cell></table:table-row>" * 5
    )


@costly
def ods_merged() -> bytes:
    wide = VALUE.replace("/>", ' table:number-columns-spanned="3" table:number-rows-spanned="9"/>')
    return ods(f"<table:table-row>{wide}</table:table-row>" * 150_000)


@costly
def ods_formulas_of_brackets() -> bytes:
    texts = (
        "[" * 16_000,
        "[." * 8_000,
        "['" * 8_000,
        '"' * 15_999,
        "[.A1:" * 3_000,
        "[$a#" * 4_000,
    )
    return ods(
        "".join(
            f"<table:table-row><table:table-cell table:formula='of:={text}'/></table:table-row>"
            * 50
            for text in texts
        )
    )


@costly
def ods_styles() -> bytes:
    return ods("", "".join(f'<style:style style:name="s{at}"/>' for at in range(500_000)))


@costly
def ods_deep_words() -> bytes:
    deep = "<text:span>" * 240 + "x" + "</text:span>" * 240
    return ods(
        f'<table:table-row><table:table-cell office:value-type="string"><text:p>{deep}</text:p>'
        "</table:table-cell></table:table-row>" * 5_000
    )


# --- what a file costs

ASKED = """
import re, sys, time
from pathlib import Path
from datumbook.validator import validate
begun = time.process_time()
made = validate(Path(sys.argv[1]))
spent = time.process_time() - begun
peak = re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())
code = made.findings[0].code if made.findings else ""
print(made.verdict, f"{spent:.2f}", int(peak[1]) // 1024, len(made.findings), code)
"""


class Cost(NamedTuple):
    """What judging a file took: processor time in seconds, memory in MB of the whole process."""

    name: str
    kilobytes: float
    verdict: str
    seconds: float
    megabytes: float
    findings: int
    code: str


def cost(name: str, data: bytes, folder: Path) -> Cost:
    """Judge a file in a process of its own; RuntimeError where that fails."""
    path = folder / f"book.{'ods' if name.startswith('ods') else 'xlsx'}"
    path.write_bytes(data)
    said = subprocess.run(
        [sys.executable, "-c", ASKED, str(path)],
        capture_output=True,
        text=True,
        preexec_fn=_ended_late,
    )
    if said.returncode == -signal.SIGXCPU:
        return Cost(name, len(data) / 1024, "none", PATIENCE, 0, 0, "")
    if said.returncode:
        raise RuntimeError(f"{name}: {said.stderr[-1500:]}")
    verdict, seconds, megabytes, findings, *code = said.stdout.split()
    return Cost(
        name,
        len(data) / 1024,
        verdict,
        float(seconds),
        float(megabytes),
        int(findings),
        *code or [""],
    )


def _ended_late() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (PATIENCE, PATIENCE + 5))


def main() -> None:
    """Print what the files cost, the dearest last."""
    asked = sys.argv[1:] or list(MADE)
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for name in asked:
            found.append(cost(name, MADE[name](), Path(folder)))
            print(line(found[-1]), flush=True)
    print("\nThe dearest:")
    for one in sorted(found, key=lambda one: one.seconds)[-10:]:
        print(line(one))


def line(one: Cost) -> str:
    """What a file costs, in one line."""
    return (
        f"{one.name:55} {one.kilobytes:8.0f} kB {one.verdict:10} {one.seconds:6.2f} s "
        f"{one.megabytes:5.0f} MB {one.findings:6} {one.code}"
    )


if __name__ == "__main__":
    main()
