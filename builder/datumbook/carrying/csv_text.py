"""A CSV as people and their programs write it: encoding and separator are told from the file
itself, and what is not certain is refused.

A separator is certain where it alone makes a key and a value column of the header, an encoding
where it says so itself or where every code page that explains the file's own printed words reads
the rest alike.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NoReturn

from datumbook.messages import ExpectedError
from datumbook.messages.findings import printable

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
CODE_PAGES = (
    "cp1252",
    "cp1250",
    "cp1251",
    "cp1253",
    "cp1254",
    "cp1257",
    "iso8859_15",
    "mac_roman",
    "cp850",
    "cp437",
)
"""The code pages that desktops write; in all of them the first 128 signs are those of ASCII."""

BYTE_BY_BYTE = "latin-1"  # keeps every byte as one sign until its code page is known
SCRIPTS = {"LATIN", "CYRILLIC", "GREEK"}
LARGEST_CSV = 16 << 20  # bytes: a hundred times the readings of a large book
MOST_TOLD = 20  # faults of one file told each by itself
AGAIN = "save it again as CSV in UTF-8"
ROUND_A_CELL = " \t\r\n"


class CarryError(ExpectedError):
    """Readings that cannot be taken over; each line says where, what and the remedy."""


@dataclass(frozen=True)
class CsvLine:
    """One line of a CSV: its number in the file, what it says of one reading, the words printed
    beside it, and what stands right behind the value.
    """

    number: int
    key: str
    value: str
    unit: str
    label: str
    behind: str


@dataclass(frozen=True)
class CsvText:
    """What a CSV says, line by line, and the sign between its columns."""

    separator: str
    lines: list[CsvLine]


def read_csv(source: Path, printed: Mapping[str, str]) -> CsvText:
    """Return what a CSV says; `printed` holds the words printed beside each key. CarryError with
    file, line and remedy for what is not certain.
    """
    text, of_code_page = _text(source)
    number, text, stated = _stated_separator(text)
    separator, names = _columns(source, text, number, stated)
    lines = list(_lines(source, text, number, separator, names, printed))
    if of_code_page:
        lines = list(_by_code_page(source, lines, printed))
    return CsvText(separator, lines)


def told_all(faults: Iterable[str]) -> NoReturn:
    """Raise CarryError with every fault, of very many the first ones and how many follow."""
    every = list(faults)
    more = [f"and {len(every) - MOST_TOLD} more faults."] if len(every) > MOST_TOLD else []
    raise CarryError("\n".join([*map(printable, every[:MOST_TOLD]), *more]))


def _text(source: Path) -> tuple[str, bool]:
    """The text of a file, and whether its code page is still to be told."""
    try:
        with source.open("rb") as file:
            data = file.read(LARGEST_CSV + 1)
    except OSError as refusal:
        raise CarryError(
            f"{source}: {refusal.strerror}; give a CSV file with a key and a value column."
        ) from None
    if len(data) > LARGEST_CSV:
        raise CarryError(
            f"{source}: larger than {LARGEST_CSV >> 20} MB, and no CSV of readings is; give a CSV "
            f"file with a key and a value column."
        )
    wide = data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    try:
        text, of_code_page = data.decode("utf-16" if wide else "utf-8-sig"), False
    except UnicodeDecodeError:
        if wide or data.startswith(codecs.BOM_UTF8):
            raise CarryError(
                f"{source}: it says that it is {'UTF-16' if wide else 'UTF-8'} text and breaks "
                f"that off; copy it again, or {AGAIN}."
            ) from None
        text, of_code_page = data.decode(BYTE_BY_BYTE), True
    if "\0" in text:
        raise CarryError(
            f"{source}: no text, or text of two bytes a sign without the mark that says so; "
            f"{AGAIN}, with a key and a value column."
        )
    return text, of_code_page


def _stated_separator(text: str) -> tuple[int, str, str]:
    """The lines before the header, the text from the header on, and the separator that a first
    line `sep=;` states, "" without one.
    """
    first, _, rest = text.partition("\n")
    stated = first.rstrip("\r").removeprefix("sep=")
    return (1, rest, stated) if stated != first.rstrip("\r") else (0, text, "")


def _columns(source: Path, text: str, before: int, stated: str) -> tuple[str, list[str]]:
    """The separator, and the names of the columns in small letters."""
    for separator in [stated] if stated in SEPARATORS else [] if stated else SEPARATORS:
        names = [name.strip().casefold() for name in _header(text, separator)]
        twice = [name for name in ("key", "value", "unit") if names.count(name) > 1]
        if twice:
            raise CarryError(
                f"{source} line {before + 1}: two columns are called {twice[0]}; keep one of them."
            )
        if "key" in names and "value" in names:
            return separator, names
    first = printable(text.partition("\n")[0].strip()[:100])
    raise CarryError(
        f"{source} line {before + 1}: the header must name a key and a value column, with "
        f"{', '.join(SEPARATORS.values())} between them; it says {first!r}."
    )


def _header(text: str, separator: str) -> list[str]:
    lines = io.StringIO(text, newline="")
    try:
        return next(csv.reader(lines, delimiter=separator, strict=True), [])
    except csv.Error:
        return []


def _records(
    source: Path, text: str, before: int, separator: str
) -> Iterator[tuple[int, int, list[str]]]:
    """Every record with the lines it begins and ends in."""
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    last = 0
    try:
        for row in rows:
            yield (
                before + last + 1,
                before + rows.line_num,
                [cell.strip(ROUND_A_CELL) for cell in row],
            )
            last = rows.line_num
    except csv.Error as fault:
        said = f"{fault}; save it again as CSV."
        if '"' in str(fault):
            said = (
                f"a quote opened here closes in the middle of line {before + rows.line_num}; "
                f"close it where its cell ends, or take it away."
            )
        elif "end of data" in str(fault):
            said = "a quote opened here is never closed; close it, or take it away."
        raise CarryError(f"{source} line {before + last + 1}: {said}") from None


def _lines(
    source: Path,
    text: str,
    before: int,
    separator: str,
    names: list[str],
    printed: Mapping[str, str],
) -> Iterator[CsvLine]:
    """Every line below the header that says something."""
    at = {name: names.index(name) for name in ("key", "value", "unit", "label") if name in names}
    faults: list[str] = []
    for first, last, cells in _records(source, text, before, separator):
        if len(cells) > len(names):
            faults.append(
                f"{source} line {first}: {len(cells)} columns stand here and {len(names)} in the "
                f"header; a number with a comma, or words with a separator, stand in quotes, like "
                f"{_quoted(cells, separator)}."
            )
        elif swallowed := last > first and _swallowed(cells, separator, printed):
            faults.append(
                f"{source} line {first}: a quote opened here swallows the line of {swallowed}; "
                f"close it where its cell ends, or take it away."
            )
        elif any(cells) and first > before + 1:
            cells += [""] * (len(names) + 1 - len(cells))
            said = {name: cells[column] for name, column in at.items()}
            yield CsvLine(first, **{"unit": "", "label": ""} | said, behind=cells[at["value"] + 1])
    if faults:
        told_all(faults)


def _quoted(cells: list[str], separator: str) -> str:
    """The last two cells of a line as one, for an example."""
    return f'"{separator.join(cells[-2:])[:40]}"'


def _swallowed(cells: list[str], separator: str, printed: Mapping[str, str]) -> str:
    """The key of a line that a quote left open took into a cell, "" for words of several lines."""
    behind = (line for cell in cells for line in cell.splitlines()[1:])
    pieces = (piece.strip(' "') for line in behind for piece in line.split(separator))
    return next((piece for piece in pieces if piece in printed), "")


def _by_code_page(
    source: Path, lines: list[CsvLine], printed: Mapping[str, str]
) -> Iterator[CsvLine]:
    """The lines with their words in the code pages that explain what was printed beside the
    readings; CarryError where two of these read a cell differently.
    """
    pages = _explaining(
        [
            (line.label, printed[line.key])
            for line in lines
            if not line.label.isascii() and "?" not in line.label and line.key in printed
        ]
    )
    faults = []
    for line in lines:
        read = {
            name: _spellings(cell, pages)
            for name, cell in (("key", line.key), ("value", line.value), ("unit", line.unit))
        }
        unsure = [name for name, spelled in read.items() if len(spelled) != 1 or None in spelled]
        if unsure:
            faults.append(
                f"{source} line {line.number}: this is not UTF-8 text, and nothing in it says in "
                f"which alphabet its {unsure[0]} is written; {AGAIN}."
            )
        else:
            key, value, unit = (spelled.pop() or "" for spelled in read.values())
            yield replace(line, key=key, value=value, unit=unit)
    if faults:
        told_all(faults)


def _explaining(words: Sequence[tuple[str, str]]) -> list[str]:
    """The code pages in which all these words, as they stand in the file, are what was printed.
    Words that are so in no page were written anew by somebody, and tell nothing.
    """
    by_page = [{page for page in CODE_PAGES if _in_page(was, page) == now} for was, now in words]
    told = [pages for pages in by_page if pages]
    return [page for page in CODE_PAGES if all(page in pages for pages in told)]


def _spellings(cell: str, pages: Iterable[str]) -> set[str | None]:
    """What a cell may say, None where some page has no such sign; what is ASCII is the same in
    all.
    """
    if cell.isascii():
        return {cell}
    spelled = {_in_page(cell, page) for page in pages}
    return {one for one in spelled if one is None or not _of_two_scripts(one)}


def _in_page(words: str, page: str) -> str | None:
    """Words kept byte by byte as a code page reads them, None where it has no such sign."""
    try:
        return words.encode(BYTE_BY_BYTE).decode(page)
    except UnicodeDecodeError:
        return None


def _of_two_scripts(words: str) -> bool:
    """Say whether some word mixes alphabets, as no person writes it: a J before a Cyrillic ь.

    >>> _of_two_scripts("J\\u044crgen"), _of_two_scripts("J\\u00fcrgen")
    (True, False)
    """
    return not words.isascii() and any(
        len(SCRIPTS & {unicodedata.name(letter, "").partition(" ")[0] for letter in word}) > 1
        for word in re.findall(r"[^\W\d_]+", words)
    )
