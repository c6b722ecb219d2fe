"""What programs honestly make of a book when they save it, and what people add to it: none of it is
damage.
"""

from __future__ import annotations

import random
import re
import shutil
import subprocess
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from clean_readings import clean_book
from datumbook.validator import Validation, validate
from foreign_saves import honest_books, small_layout
from programs import absent, surroundings

Rewrite = Callable[[dict[str, bytes]], None]
PHOTO = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00"


@pytest.fixture(scope="module")
def honest(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return honest_books(small_layout(), range(1, 2), tmp_path_factory.mktemp("saves"))[0]


@pytest.fixture(scope="module")
def whole() -> Path:
    return clean_book()


def saved(book: Path, to: Path, rewrite: Rewrite) -> Validation:
    """The book with its parts rewritten, judged."""
    with zipfile.ZipFile(book) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    rewrite(parts)
    with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, data in parts.items():
            kind = zipfile.ZIP_STORED if "media" in name else zipfile.ZIP_DEFLATED
            archive.writestr(name, data, kind)
    return validate(to)


def accused(made: Validation) -> list[str]:
    return [one.message for one in made.findings if one.severity == "damage"]


def sheets(parts: dict[str, bytes]) -> list[str]:
    return [name for name in parts if name.startswith("xl/worksheets/sheet")]


def numbers_for_words(parts: dict[str, bytes]) -> None:
    """Every printed or given word that says a number and nothing else is stored as that number."""
    texts = re.findall(r"<t[^>]*>([^<]*)</t>", parts["xl/sharedStrings.xml"].decode())
    said = {at: one for at, one in enumerate(texts) if re.fullmatch(r"\d+(\.\d+)?%?", one)}
    assert said, "the book prints no such words"

    def number(match: re.Match[str]) -> str:
        words = said.get(int(match[2]))
        if words is None:
            return match[0]
        value = float(words.strip("%")) / (100 if words.endswith("%") else 1)
        return f"{match[1]}><v>{value:.17g}</v></c>"

    for name in sheets(parts):
        whole = re.sub(r'(<c [^>]*?) t="s"><v>(\d+)</v></c>', number, parts[name].decode())
        parts[name] = whole.encode()


def test_words_that_became_numbers_are_the_same(whole: Path, tmp_path: Path) -> None:
    made = saved(whole, tmp_path / "numbers.xlsx", numbers_for_words)
    assert accused(made) == []
    assert made.values == validate(whole).values


def test_another_number_than_the_words_say_is_told(whole: Path, tmp_path: Path) -> None:
    def other(parts: dict[str, bytes]) -> None:
        texts = parts["xl/sharedStrings.xml"].decode()
        changed = re.sub(r"(<t[^>]*>)(\d+(?:\.\d+)?%?)</t>", r"\g<1>9\2</t>", texts)
        assert changed != texts
        parts["xl/sharedStrings.xml"] = changed.encode()
        numbers_for_words(parts)

    made = saved(whole, tmp_path / "other.xlsx", other)
    assert {one.code for one in made.findings} - {one.code for one in validate(whole).findings}


def names_applied(parts: dict[str, bytes]) -> None:
    """Every reference to a reading is written as its name, as a command of one program does."""
    names = re.findall(
        r'<definedName name="([^"]+)">([A-Za-z0-9_]+)!\$([A-Z]+)\$(\d+)</definedName>',
        parts["xl/workbook.xml"].decode(),
    )
    order = re.findall(r'<sheet name="([^"]+)"', parts["xl/workbook.xml"].decode())
    known = {(sheet, f"{column}{row}"): name for name, sheet, column, row in names}
    applied = 0
    for number, sheet in enumerate(order, 1):
        part = f"xl/worksheets/sheet{number}.xml"

        def formula(match: re.Match[str], sheet: str = sheet) -> str:
            nonlocal applied
            found = re.sub(
                r"(?<![\w!$:.])(?:(\w+)!)?([A-Z]{1,3}\d+)(?![\w(:!])",
                lambda one: known.get((one[1] or sheet, one[2]), one[0]),
                match[1],
            )
            applied += found != match[1]
            return f"<f>{found}</f>"

        parts[part] = re.sub(r"<f>([^<]*)</f>", formula, parts[part].decode()).encode()
    assert applied > 100


def test_names_applied_to_formulas_say_the_same(honest: Path, tmp_path: Path) -> None:
    assert accused(saved(honest, tmp_path / "named.xlsx", names_applied)) == []


def test_a_name_of_another_cell_in_a_formula_is_told(honest: Path, tmp_path: Path) -> None:
    def astray(parts: dict[str, bytes]) -> None:
        names_applied(parts)
        used = re.search(r"<f>[^<]*?([a-z]\w*__\w+)", parts["xl/worksheets/sheet3.xml"].decode())
        assert used is not None
        book = parts["xl/workbook.xml"].decode()
        parts["xl/workbook.xml"] = re.sub(
            rf'(<definedName name="{used[1]}">)[^<]*', r"\1Job!$A$900", book
        ).encode()

    assert accused(saved(honest, tmp_path / "astray.xlsx", astray)) != []


def photographs(parts: dict[str, bytes]) -> None:
    """Nine photographs of 8 MB each, and one whose metadata declare a document type."""
    noise = random.Random(8).randbytes(8 << 20)
    for number in range(9):
        parts[f"xl/media/image{number}.jpeg"] = PHOTO + noise
    described = b'<?xpacket?><!DOCTYPE x [<!ENTITY a "b">]><x:xmpmeta/>'
    parts["xl/media/image9.jpeg"] = PHOTO + described + noise[:1000]


def test_photographs_are_honest_whatever_stands_in_them(honest: Path, tmp_path: Path) -> None:
    assert accused(saved(honest, tmp_path / "photographs.xlsx", photographs)) == []


def test_a_sheet_that_begins_like_a_picture_is_not_read(honest: Path, tmp_path: Path) -> None:
    def disguised(parts: dict[str, bytes]) -> None:
        name = sheets(parts)[2]
        parts[name] = PHOTO + parts[name]

    made = saved(honest, tmp_path / "disguised.xlsx", disguised)
    assert [one.code for one in made.findings] == ["part-garbled"]


def test_an_ods_of_a_program_that_writes_no_brackets_is_the_same_book(
    honest: Path, tmp_path: Path
) -> None:
    """Saved by Calligra Sheets, which writes Release!B15 unbracketed, links without a type, and no
    names.
    """
    if shutil.which("calligraconverter") is None:
        pytest.skip("calligraconverter is not on this machine")
    book = tmp_path / "saved.ods"
    done = subprocess.run(
        ["calligraconverter", "--batch", honest, book],
        env=surroundings() | {"QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        timeout=300,
        check=False,
    )
    if not book.exists():
        absent(f"calligraconverter wrote nothing: {done.stderr[-500:].decode(errors='replace')}")
    made, before = validate(book), validate(honest)
    assert accused(made) == []
    assert (made.verdict, made.typed) == (before.verdict, before.typed)
    assert {key for key in made.values if made.values[key] != before.values[key]} == set()
