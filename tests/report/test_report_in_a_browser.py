"""The report page as a browser shows it: on a telephone, on a desk, on paper, and to those who see
badly or not at all.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest

from browser import Browser, browser
from clean_readings import demo_book, validated
from datumbook.job import Job
from datumbook.report.page import report_html
from datumbook.report.spindle_cards import cards_to_drill
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.writer import write
from foreign_saves import library
from long_runs import mostly_long
from programs import need
from readings_made import spoiled

pytestmark = pytest.mark.program("chromium")

NARROW, WIDE = 360, 1100  # px: a small telephone, a desk
PAGES = 3  # all that is decided, on paper; the table of every check stays on the screen
BEYOND = """[...document.querySelectorAll("body *")]
    .filter(one => one.getBoundingClientRect().right > screen.width + 0.5
        && getComputedStyle(one).position != "absolute")
    .map(one => one.outerHTML.slice(0, 120))"""
BREACHES = """axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "best-practice"]})
    .then(found => found.violations.map(
        one => [one.id, one.help, ...one.nodes.map(node => node.html.slice(0, 99))].join(" | ")))"""


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as opened:
        yield opened


def page_of(book: Path, folder: Path) -> Path:
    page = folder / "report.html"
    page.write_text(report_html(validate(book)), "utf-8")
    return page


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return page_of(demo_book(), tmp_path_factory.mktemp("demo"))


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("empty")
    write(lay_out(load_spec(shipped_specs()["brackwater_s1"])), folder / "book.xlsx")
    return page_of(folder / "book.xlsx", folder)


@pytest.fixture(scope="module")
def unreadable(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("unreadable")
    (folder / f"{'a_name_without_any_place_to_break_it_' * 4}.xlsx").write_bytes(b"no workbook")
    return page_of(next(folder.iterdir()), folder)


@pytest.fixture(params=mostly_long(["demo", "empty", "unreadable"], 2))
def page(request: pytest.FixtureRequest) -> Path:
    made: Path = request.getfixturevalue(request.param)
    return made


@pytest.mark.parametrize("width", [NARROW, WIDE])
def test_nothing_runs_over_the_edge_and_the_console_stays_empty(
    chromium: Browser, page: Path, width: int
) -> None:
    chromium.open(page, width)
    assert chromium.tell("document.title").startswith("Report on ")
    assert chromium.tell("[innerWidth, screen.width]") == [width, width]
    assert chromium.tell("document.documentElement.scrollWidth") == width
    assert chromium.tell(BEYOND) == []
    assert chromium.complaints == []


def test_what_the_console_says_and_what_runs_over_would_be_seen(
    chromium: Browser, tmp_path: Path
) -> None:
    spoiled = tmp_path / "spoiled.html"
    spoiled.write_text(
        '<meta name="viewport" content="width=device-width"><div style="width: 500px">wide</div>'
        "<img src='data:,none'><script>nothing.here()</script>",
        "utf-8",
    )
    chromium.open(spoiled, NARROW)
    assert "nothing is not defined" in "".join(chromium.complaints)
    assert chromium.tell("document.documentElement.scrollWidth") > NARROW
    assert chromium.tell(BEYOND)


@pytest.mark.parametrize("width", mostly_long([NARROW, WIDE]))
def test_everybody_can_read_it(chromium: Browser, page: Path, width: int) -> None:
    """By the rules of axe-core for WCAG 2.1 A and AA: contrast, headings, landmarks, tables,
    names.
    """
    rules = library("axe-core/axe.min.js").read_text("utf-8")
    chromium.open(page, width)
    chromium.tell(f"{rules}; true")
    assert chromium.tell(BREACHES) == []


class Shown(HTMLParser):
    """The words of the body of a page, without those that stay on the screen or are folded."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.words: list[str] = []
        text = re.sub(r"</summary>.*?</details>", "</summary></details>", text, flags=re.DOTALL)
        before, annex, after = text[text.index("<body>") :].partition('<section class="annex">')
        assert annex
        self.feed(before + after.partition("</section>")[2])

    def handle_data(self, data: str) -> None:
        self.words += re.findall(r"\w+", data)


def printed(path: Path, *pages: str) -> str:
    command = [need("poppler"), *pages, path, "-"]
    return subprocess.run(command, capture_output=True, check=True, text=True).stdout


@pytest.mark.program("poppler")
def test_a_bad_vee_eight_half_read_is_told_on_three_pages(
    chromium: Browser, tmp_path: Path
) -> None:
    layout = lay_out(load_spec(shipped_specs()["hollowmere_v8"]), Job("HV-8"))
    write(layout, tmp_path / "book.xlsx", spoiled(layout))
    made = validate(tmp_path / "book.xlsx")
    assert made.counts["OUT"] + made.counts["UNSURE"] > 30
    assert made.counts["readings_wanted"] - made.counts["readings_taken"] > 50
    chromium.open(page_of(tmp_path / "book.xlsx", tmp_path), WIDE)
    chromium.print(out := tmp_path / "report.pdf")
    about = subprocess.run(["pdfinfo", out], capture_output=True, check=True, text=True).stdout
    count, cards = int(re.search(r"Pages: +(\d+)", about)[1]), cards_to_drill(made)  # type: ignore[index]
    assert cards
    assert count - len(cards) <= PAGES, "each card is a page behind the others"
    for number, card in enumerate(cards, start=count - len(cards) + 1):
        page = printed(out, "-f", str(number), "-l", str(number))
        assert page.lstrip().startswith(card.title)
        assert layout.identity in page
    first = printed(out, "-l", "1")
    assert first.index("ON HOLD") < first.index("To do first") < first.index("OUT, STALE")
    assert re.search(r"Fits \d+ of \d+: ", printed(out)), "a line a station"


@pytest.mark.program("poppler")
def test_three_pages_of_a4_hold_all_that_is_decided(
    chromium: Browser, demo: Path, tmp_path: Path
) -> None:
    chromium.open(demo, WIDE)
    chromium.print(out := tmp_path / "report.pdf")
    about = subprocess.run(["pdfinfo", out], capture_output=True, check=True, text=True).stdout
    assert re.search(r"Page size: +59\d(\.\d+)? x 84\d(\.\d+)? pts \(A4\)", about)
    count = int(re.search(r"Pages: +(\d+)", about)[1])  # type: ignore[index]
    assert count - len(cards_to_drill(validated(demo_book()))) <= PAGES
    for number in range(1, count + 1):
        assert re.search(
            rf"\b{number} ?/ ?{count}\b", printed(out, "-f", str(number), "-l", str(number))
        )
    said = set(re.findall(r"\w+", printed(out).replace("-\n", "-")))
    assert {"HOLD", "missing", "OUT", "Concessions", "Drawings", "Signatures", "Cautions"} <= said
    absent = set(Shown(demo.read_text("utf-8")).words) - said
    assert not {
        word
        for word in absent
        if not any(word in other or other in word for other in said if len(other) > 3)
    }
