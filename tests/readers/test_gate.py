from __future__ import annotations

import os
import random
import warnings
import zipfile
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest

from datumbook.messages.findings import catalogue
from datumbook.readers import FILE_LIMITS, Refused, inspect, open_book
from sample import ods_parts, package, write_sample, xlsx_parts

NUMBER = '<row r="1"><c r="A1"><v>3.5</v></c></row>'
SEEDS = 1_000


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    return write_sample(tmp_path_factory.mktemp("gate") / "sample.xlsx").read_bytes()


def refused(folder: Path, data: bytes, name: str = "book.xlsx") -> Refused:
    path = folder / name
    path.write_bytes(data)
    with pytest.raises(Refused) as caught:
        open_book(path)
    assert name in caught.value.finding.message
    return caught.value


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"key,value\nbores_1,3.5\n", "plain text or CSV"),
        ("Maß;Größe\n".encode(), "plain text or CSV"),
        (b"<!DOCTYPE html><html></html>", "a web page"),
        (b"\xef\xbb\xbf  <HTML><table>", "a web page"),
        (b"%PDF-1.7\n", "a PDF"),
        (b'<?xml version="1.0"?><Workbook/>', "a bare XML file"),
        (bytes(range(256)), "of no kind this program knows"),
        (b"text\0text", "of no kind this program knows"),
        (b"PK\x05\x06" + bytes(18), "an empty archive"),
        (package({"notes.txt": "hello"}), "an archive that holds no sheets"),
        (package({"[Content_Types].xml": "", "xl/workbook.bin": b"x"}), "a binary workbook"),
    ],
)
def test_what_is_no_workbook_is_named(tmp_path: Path, data: bytes, words: str) -> None:
    found = refused(tmp_path, data)
    assert found.finding.code == "not-a-workbook"
    assert words in found.finding.message


def test_a_file_with_nothing_in_it_was_cut_off(tmp_path: Path) -> None:
    found = refused(tmp_path, b"").finding
    assert (found.code, "nothing is in it" in found.message) == ("file-truncated", True)


def test_a_document_of_another_kind_is_no_workbook(tmp_path: Path) -> None:
    parts = xlsx_parts(NUMBER) | {"xl/workbook.xml": '<document xmlns="urn:another"/>'}
    assert refused(tmp_path, package(parts)).finding.code == "not-a-workbook"


@pytest.mark.parametrize("share", [0.02, 0.5, 0.99])
def test_a_file_cut_off_is_said_to_be_so(tmp_path: Path, sound: bytes, share: float) -> None:
    assert refused(tmp_path, sound[: int(len(sound) * share)]).finding.code == "file-truncated"


def test_a_damaged_part_is_named(tmp_path: Path) -> None:
    held = BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as archive:
        for name, data in xlsx_parts(NUMBER).items():
            archive.writestr(name, data)
    found = refused(
        tmp_path, held.getvalue().replace(b"<v>3.5</v>", b"<v>9.5</v>")
    )  # its checksum is now wrong
    assert (found.finding.code, found.part) == ("part-damaged", "xl/worksheets/sheet1.xml")


def test_a_missing_part_is_named(tmp_path: Path) -> None:
    parts = xlsx_parts(NUMBER)
    del parts["xl/worksheets/sheet1.xml"]
    found = refused(tmp_path, package(parts))
    assert (found.finding.code, found.part) == ("part-missing", "xl/worksheets/sheet1.xml")


def test_xml_that_breaks_off_is_named(tmp_path: Path) -> None:
    parts = xlsx_parts(NUMBER)
    parts["xl/worksheets/sheet1.xml"] = str(parts["xl/worksheets/sheet1.xml"])[:-30]
    found = refused(tmp_path, package(parts))
    assert (found.finding.code, found.part) == ("part-garbled", "xl/worksheets/sheet1.xml")


@pytest.mark.parametrize(
    ("inside", "code", "words"),
    [
        (b"", "old-format", "binary format"),
        ("EncryptedPackage".encode("utf-16-le"), "file-locked", "locked with a password"),
    ],
)
def test_old_and_locked_files_are_told_apart(
    tmp_path: Path, inside: bytes, code: str, words: str
) -> None:
    found = refused(tmp_path, bytes.fromhex("d0cf11e0a1b11ae1") + bytes(512) + inside)
    assert found.finding.code == code
    assert words in found.finding.message


def test_an_ods_locked_with_a_password_is_said_to_be_so(tmp_path: Path) -> None:
    parts = ods_parts("") | {"META-INF/manifest.xml": "<manifest><encryption-data/></manifest>"}
    assert refused(tmp_path, package(parts)).finding.code == "file-locked"


def test_an_archive_locked_with_a_password_is_said_to_be_so(tmp_path: Path, sound: bytes) -> None:
    data = bytearray(sound)
    directory = data.index(b"PK\x01\x02")
    data[directory + 8] |= 1  # the flag "encrypted" of the first entry (APPNOTE.TXT 4.4.4)
    assert refused(tmp_path, bytes(data)).finding.code == "file-locked"


def test_strict_open_xml_is_not_read_as_an_empty_book(tmp_path: Path) -> None:
    strict = "http://purl.oclc.org/ooxml/spreadsheetml/main"
    parts = xlsx_parts(NUMBER) | {"xl/workbook.xml": f'<workbook xmlns="{strict}"/>'}
    assert refused(tmp_path, package(parts)).finding.code == "strict-format"


@pytest.mark.parametrize("code", ["utf-8", "utf-16-le", "utf-16-be"])
def test_entities_are_refused_in_any_part(tmp_path: Path, code: str) -> None:
    bomb = '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbb">]><a>&b;</a>'
    found = refused(tmp_path, package(xlsx_parts(NUMBER) | {"docProps/app.xml": bomb.encode(code)}))
    assert (found.finding.code, found.part) == ("refused-xml", "docprops/app.xml")


def test_a_part_stored_twice_is_refused(tmp_path: Path) -> None:
    held = BytesIO(package(xlsx_parts(NUMBER)))
    with zipfile.ZipFile(held, "a") as archive, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # zipfile warns of the same thing
        archive.writestr("XL/worksheets/sheet1.xml", "<worksheet/>")
    assert refused(tmp_path, held.getvalue()).finding.code == "duplicate-part"


def test_two_sheets_of_one_part_are_refused(tmp_path: Path) -> None:
    again = '<sheets><sheet name="Copy" sheetId="2" r:id="worksheet"/></sheets>'
    assert (
        refused(tmp_path, package(xlsx_parts(NUMBER, workbook=again))).finding.code
        == "duplicate-part"
    )


def test_a_part_that_unpacks_too_far_is_refused_while_it_is_unpacked(tmp_path: Path) -> None:
    found = refused(tmp_path, package(xlsx_parts(NUMBER) | {"xl/media/big.bin": bytes(3 << 20)}))
    assert (found.finding.code, found.part) == ("unpacks-too-far", "xl/media/big.bin")
    assert "200 times" in found.finding.message


@pytest.mark.parametrize(
    ("limit", "value", "code", "words"),
    [
        ("whole", 100, "refused-size", "larger"),
        ("entries", 5, "too-many-parts", "parts"),
        ("cells", 0, "too-many-cells", "cells"),
        ("tags", 10, "too-many-tags", "tags"),
    ],
)
def test_each_limit_holds(tmp_path: Path, limit: str, value: int, code: str, words: str) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(package(xlsx_parts(f"{NUMBER}<!--{'tooth ' * 600}-->")))
    with pytest.raises(Refused) as caught:
        inspect(path, replace(FILE_LIMITS, **{limit: value}))
    assert caught.value.finding.code == code
    assert words in caught.value.finding.message


def test_the_limit_on_everything_unpacked_holds(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(package(xlsx_parts(f"<!--{'tooth ' * 600}-->")))
    with pytest.raises(Refused, match="unpacks to more"):
        inspect(path, replace(FILE_LIMITS, total=path.stat().st_size + 1))


def test_many_cells_are_refused_before_they_are_read(tmp_path: Path) -> None:
    row = f"<row>{'<c/>' * 1000}</row>"
    noise = (
        random.Random(1).randbytes(20_000).hex()
    )  # keeps the ratio of the part below its own limit
    found = refused(tmp_path, package(xlsx_parts(f"<!--{noise}-->" + row * 401)))
    assert (found.finding.code, found.part) == ("too-many-cells", "xl/worksheets/sheet1.xml")
    assert "400000 cells" in found.finding.message


def test_repeated_cells_of_an_ods_count_each_time(tmp_path: Path) -> None:
    cell = (
        '<table:table-cell table:number-columns-repeated="16384" office:value-type="float" '
        'office:value="1"/>'
    )
    row = f'<table:table-row table:number-rows-repeated="1048576">{cell}</table:table-row>'
    found = refused(
        tmp_path,
        package(ods_parts(f'<table:table table:name="Bores">{row}</table:table>')),
        "book.ods",
    )
    assert found.finding.code == "too-many-cells"


def test_no_file_a_folder_and_an_impossible_path(tmp_path: Path) -> None:
    for path, words in (
        (tmp_path / "none.xlsx", "no such file"),
        (tmp_path, "folder"),
        ("a\0b.xlsx", ""),
    ):
        with pytest.raises(Refused) as caught:
            open_book(path)
        assert caught.value.finding.code == "no-file"
        assert words in caught.value.finding.message


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="this user may read every file")
def test_a_file_one_may_not_read(tmp_path: Path, sound: bytes) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(sound)
    path.chmod(0)
    with pytest.raises(Refused) as caught:
        open_book(path)
    assert caught.value.finding.code == "no-file"


def test_macros_and_links_are_problems_of_a_book_that_is_read_all_the_same(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsm"
    outsiders = {
        "xl/vbaProject.bin": b"x",
        "xl/externalLinks/externalLink1.xml": "<a/>",
        "xl/connections.xml": "<a/>",
    }
    path.write_bytes(package(xlsx_parts(NUMBER) | outsiders))
    book = open_book(path)
    assert [problem.code for problem in book.problems] == [
        "has-macros",
        "external-link",
        "external-link",
    ]
    assert book.sheets["Bores"].cells[1, 1].value == 3.5


def small_xlsx() -> dict[str, str | bytes]:
    return xlsx_parts(
        '<row r="1"><c r="A1" t="s" s="1"><v>0</v></c><c r="B1"><f>A1+1</f><v>2</v></c></row>'
        '<row r="2"><c r="B2"><f t="shared" si="0" ref="B2:B3">A2</f></c><c r="C2" '
        't="b"><v>1</v></c></row>',
        strings="<si><t>bore_x000A_</t></si>",
        styles='<cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs>',
        workbook="<definedNames><definedName "
        "name='a_1'>Bores!$A$1</definedName></definedNames><calcPr/>",
        around='<mergeCells><mergeCell ref="A1:B2"/></mergeCells>',
    )


def small_ods() -> dict[str, str | bytes]:
    cells = (
        '<table:table-cell table:formula="of:=[.B1]+[$Bores.C1:.D9]" office:value-type="float" '
        'office:value="3.5"/>'
        '<table:table-cell office:value-type="date" office:date-value="2026-01-04" '
        'table:number-columns-repeated="2"/>'
        '<table:table-cell office:value-type="time" office:time-value="PT01H30M00S" '
        'table:number-rows-spanned="2"/>'
        '<table:table-cell office:value-type="string"><text:p>a<text:s '
        'text:c="3"/></text:p></table:table-cell>'
    )
    row = (
        f'<table:table-row table:visibility="collapse" '
        f'table:number-rows-repeated="2">{cells}</table:table-row>'
    )
    name = '<table:named-range table:name="a_1" table:cell-range-address="$Bores.$A$1"/>'
    return ods_parts(f'<table:table table:name="Bores">{row}</table:table>{name}')


@pytest.mark.parametrize("parts", [small_xlsx(), small_ods()], ids=["xlsx", "ods"])
def test_a_mutated_book_is_read_or_refused_and_nothing_else(
    tmp_path: Path, parts: dict[str, str | bytes]
) -> None:
    """Source of the method: common practice, no source. The seed is fixed, so that a failure can be
    repeated.
    """
    chance = random.Random(20261125)
    path = tmp_path / "book"
    outcomes: list[str] = []
    for round_number in range(SEEDS):
        path.write_bytes(mutated(parts, chance, inside=round_number % 2 == 0))
        outcomes.append(outcome(path))
    assert set(outcomes) <= {"read", *catalogue()}
    assert (
        SEEDS // 50 < outcomes.count("read") < SEEDS - SEEDS // 50
    )  # both ends are really reached


def outcome(path: Path) -> str:
    try:
        open_book(path)
    except Refused as refusal:
        return refusal.finding.code
    return "read"


def mutated(parts: dict[str, str | bytes], chance: random.Random, *, inside: bool) -> bytes:
    """Change a few bytes: of one part before it is packed (its checksum is then right), or of the
    archive.
    """
    if not inside:
        return scratched(package(parts), chance)
    name = chance.choice([name for name in parts if name.startswith(("xl/", "content"))])
    return package(parts | {name: scratched(str(parts[name]).encode(), chance)})


def scratched(data: bytes, chance: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.randint(1, 3)):
        changed[chance.randrange(len(changed))] = chance.choice(
            [0, 32, 34, 45, 57, 60, 62, 255, chance.randrange(256)]
        )
    return bytes(changed)
