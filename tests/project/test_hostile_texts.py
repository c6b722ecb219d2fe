"""Text from a job or a cell stays text in everything the tool writes or prints: no formula, no
link, no markup, no escape.
"""

from __future__ import annotations

import csv
import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import openpyxl
import pytest

from bored_block import at, bored_layout
from clean_readings import clean_readings
from command import run
from datumbook.carrying.out_of_book import RISKY, readings_csv
from datumbook.cells.columns import Reading
from datumbook.messages.findings import finding, printable
from datumbook.register import told_whole
from datumbook.report import told
from datumbook.report.page import report_html
from datumbook.validator import validate
from datumbook.workbook.placed import Place
from datumbook.writer import write

HOSTILE = [
    "=1+1",
    "+44 20",
    "-2+3",
    "@SUM(A1)",
    "=cmd|' /C calc'!A0",
    '=HYPERLINK("http://example.invalid","here")',
    "http://example.invalid/",
    "internal:Bores!A1",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "{{ 7*7 }}",
    "{sheet}",
    "%s",
    "[bold red]x[/]",
    "82.0\x1b[2J\x1b[31m",
    "\u202eEKAF",
    "a\nRELEASABLE: every check is OK",
    "_x001B_[2J",
    "\ufeffx",
    "a\tb",
]


class Tags(HTMLParser):
    """The elements of a page with their attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str | None]] = []
        self.links: set[str | None] = set()

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.found += [(tag, name) for name, _ in attributes] or [(tag, None)]
        self.links |= {value for name, value in attributes if name == "href"}


def of_words() -> list[Place]:
    """The cells that take any words."""
    return [
        place
        for place in bored_layout().readings()
        if place.unit is None
        and isinstance(place.column, Reading)
        and not place.column.choices
        and not place.column.day
    ]


def filled(out: Path, words: list[str]) -> dict[str, str]:
    """Write a book with each of the words in a cell of words and in a cell of numbers; return what
    stands where.
    """
    numbers = [place for place in bored_layout().wanted() if place.unit]
    typed = {
        places[at].key: word for places in (of_words(), numbers) for at, word in enumerate(words)
    }
    write(bored_layout(), out, clean_readings(bored_layout()) | typed)
    return typed


def test_text_is_text_in_the_workbook_the_csv_the_report_and_on_the_terminal(
    tmp_path: Path,
) -> None:
    book = tmp_path / "book.xlsx"
    typed = filled(book, HOSTILE)
    sheets = openpyxl.load_workbook(book)
    for key in typed:
        stored = sheets[at(key)[0]][at(key)[1]]
        assert (stored.data_type, stored.hyperlink) == ("s", None), key
    made = validate(book)
    for row in csv.DictReader(io.StringIO(readings_csv(made))):
        assert not any(
            field.startswith(RISKY)
            for name, field in row.items()
            if name != "value" or not is_number(field)
        ), row
    tags = Tags()
    tags.feed(report_html(made))
    assert {tag for tag, _ in tags.found}.isdisjoint({"script", "img", "iframe"})
    assert all(re.fullmatch(r"#[\w-]+", link or "") for link in tags.links), (
        "links lead about the page and nowhere else"
    )
    assert not any(name and name.startswith("on") for _, name in tags.found)
    for _, line in told(made):
        assert printable(line) == line
        assert not line.startswith("RELEASABLE")
    assert json.loads(told_whole(made))["workbook"] == str(book)


def is_number(field: str) -> bool:
    try:
        float(field)
    except ValueError:
        return False
    return True


def test_a_book_filled_with_its_own_csv_holds_what_it_held(tmp_path: Path) -> None:
    """Words in cells of numbers too: the CSV repeats what the book holds, so that is kept."""
    book, again = tmp_path / "book.xlsx", tmp_path / "again.xlsx"
    typed = filled(
        book, ["=1+1", "a,b;c", "<b>x</b>", "82,014", "-n/a", "'82.0", "82.014 mm", "#N/A?"]
    )
    (tmp_path / "own.csv").write_text(readings_csv(validate(book)), "utf-8")
    made = run("fill", str(book), str(tmp_path / "own.csv"), "-o", str(again))
    assert made.exit_code == 0, made.output
    assert again.read_bytes() == book.read_bytes()
    held = validate(again).typed
    assert {key: held[key] for key in typed} == typed


def test_words_of_a_cell_are_no_template_and_no_escape_in_a_sentence() -> None:
    one = finding(
        "label-changed", sheet="Bores", cell="A1", found="{expected}\x1b[2J\nx", expected="y"
    )
    assert "{expected}\ufffd[2J x" in one.message
    assert one.found == "{expected}\x1b[2J\nx", "what was found is kept for programs"


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        ("plain", "plain"),
        ("Ø 82 µm", "Ø 82 µm"),
        ("a\x00b\x9bc", "a\ufffdb\ufffdc"),
        ("\u2066x", "\ufffdx"),
        ("a\r\nb\tc", "a b c"),
    ],
)
def test_what_cannot_be_seen_is_shown_as_a_mark(words: str, seen: str) -> None:
    assert printable(words) == seen
    assert printable(seen) == seen


def test_control_characters_of_a_book_never_reach_the_terminal(tmp_path: Path) -> None:
    filled(tmp_path / "a\x1b[31m.xlsx", ["x\x1b]0;owned\x07"])
    made = run("validate", str(tmp_path / "a\x1b[31m.xlsx"))
    assert made.exit_code == 1
    assert "\x1b" not in made.output
    assert "\x07" not in made.output
