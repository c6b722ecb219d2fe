"""The book printed for the pen: forms of whole pages, a box for every reading that something waits
for, print that reads at arm's length.

The oracles of the print are the PDFs of LibreOffice and Gnumeric, read by poppler; how many pages a
job may take, how large a box and its print must be: common practice, no source.
"""

from __future__ import annotations

import re
import subprocess
import zipfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import openpyxl
import pytest

from datumbook.cells.columns import per
from datumbook.job import job_of
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.workbook.pen import PenForm
from datumbook.writer import write
from datumbook.writer.measures import EDGES, FIGURE, POINTS
from datumbook.writer.page import Page, form_page
from datumbook.writer.sketches import SAYS
from long_runs import mostly_long
from programs import made_once, need, office, run

SPECS = shipped_specs()
MOST_PAGES = {"measure": 12, "recondition": 18, "full": 45}
MILLIMETRE = 72 / 25.4
SMALLEST, SMALLEST_READ = 9.0, 8.0  # points: the print of a form; of what is only read
TEXT = r'<text top="(-?\d+)".*?font="(\d+)">(.*?)</text>'
THIRDS = 3  # of a point: poppler tells sizes as whole ones
A_QUARTER = 842 / 4  # points: of a page of A4
FORMS = mostly_long(
    [(name, work) for name in sorted(SPECS) for work in MOST_PAGES], len(MOST_PAGES)
)
OURS = [("orrindale_qp4", work) for work in ("recondition", "measure", "full")]


def laid_out(name: str, work: str) -> Layout:
    return lay_out(load_spec(SPECS[name]), job_of({"block": "printed", "work": work}))


def forms(layout: Layout) -> dict[str, tuple[PenForm, Page]]:
    """The form of every sheet that has one."""
    found = {}
    for name, plan in layout.plans.items():
        page = form_page(layout, plan, {})
        if page.form and not page.form.is_blank:
            found[name] = page.form, page
    return found


def printed(name: str, work: str, *, pen: bool = True) -> Path:
    """The PDFs of one book by both programs, in one folder."""

    def make(folder: Path) -> None:
        folder.mkdir()
        write(laid_out(name, work), book := folder / "book.xlsx", pen=pen)
        office([book], "pdf", folder, recalculate=False)
        (folder / "book.pdf").rename(folder / "libreoffice.pdf")
        run([need("gnumeric"), book, folder / "gnumeric.pdf"])

    return made_once(f"printed-{'pen' if pen else 'whole'}-{name}-{work}", make)


def pages(pdf: Path) -> Counter[str]:
    """How many pages each sheet has: its name stands at their head."""
    text = subprocess.run(
        [need("poppler"), pdf, "-"], capture_output=True, check=True, text=True
    ).stdout
    return Counter(page.partition("\n")[0].strip() for page in text.split("\f")[:-1])


class Words(NamedTuple):
    """Words on paper: how far below its upper edge, and their size, in points."""

    top: float
    size: float
    said: str


def words_on(pdf: Path) -> Iterator[tuple[str, list[Words]]]:
    """The words of each page, with the name of its sheet, which stands at its head."""
    command = [Path(need("poppler")).with_name("pdftohtml"), "-xml", "-i", "-stdout"]
    said = subprocess.run(
        [*command, "-zoom", str(THIRDS), pdf], capture_output=True, check=True, text=True
    ).stdout
    sizes: dict[str, int] = {}
    for page in said.split("<page ")[1:]:
        found = re.findall(r'<fontspec id="(\d+)" size="(\d+)"', page)
        sizes |= {font: int(size) for font, size in found}
        words = [
            Words(int(top) / THIRDS, sizes[font] / THIRDS, re.sub("<.*?>", "", one))
            for top, font, one in re.findall(
                r'<text top="(-?\d+)".*?font="(\d+)">(.*?)</text>', page
            )
        ]
        yield words[0].said, words


@pytest.mark.program("libreoffice", "gnumeric", "poppler")
@pytest.mark.parametrize(("name", "work"), mostly_long(OURS))
def test_a_job_takes_no_more_pages_than_a_shop_will_carry(name: str, work: str) -> None:
    folder = printed(name, work)
    office_pages, gnumeric_pages = (
        pages(folder / f"{one}.pdf") for one in ("libreoffice", "gnumeric")
    )
    assert office_pages.total() <= MOST_PAGES[work]
    assert office_pages == gnumeric_pages
    assert office_pages == {
        sheet: page.pages for sheet, (_, page) in forms(laid_out(name, work)).items()
    }


@pytest.mark.program("libreoffice", "gnumeric", "poppler")
def test_the_whole_book_takes_as_many_pages_in_either_program() -> None:
    folder = printed("orrindale_qp4", "recondition", pen=False)
    assert pages(folder / "libreoffice.pdf") == pages(folder / "gnumeric.pdf")


@pytest.mark.program("libreoffice", "poppler")
@pytest.mark.parametrize(("name", "work"), mostly_long(OURS))
def test_what_is_written_on_is_printed_large_and_no_page_is_nearly_empty(
    name: str, work: str
) -> None:
    """Also the names of the holes in the sketches of the cards; the customer's page is only
    read.
    """
    for sheet, printed_words in words_on(printed(name, work) / "libreoffice.pdf"):
        body = [one for one in printed_words if 50 < one.top < 780]
        assert max(one.top for one in body) - min(one.top for one in body) >= A_QUARTER * 0.7, sheet
        smallest = min(body, key=lambda one: one.size)
        least = SMALLEST_READ if sheet == "Customer" else SMALLEST
        assert smallest.size >= least, (sheet, smallest)


@pytest.mark.parametrize(("name", "work"), FORMS)
def test_every_reading_that_something_waits_for_has_a_box_of_eight_by_eighteen_millimetres(
    name: str, work: str
) -> None:
    layout = laid_out(name, work)
    made = forms(layout)
    for place in layout.wanted():
        form, page = made[place.at.sheet]
        assert form.is_box(place), place.key
        assert place.at.row not in page.hidden_rows
        assert place.at.column not in page.hidden_columns
        scale = min(
            page.paper.percent / 100,
            page.pages * page.paper.room[1] / page._height_of(1, page.last_row),
        )
        high = page.total_height(place.at.row) * scale
        wide = (FIGURE * page.widths[place.at.column] + EDGES) * POINTS * scale
        assert high >= 8 * MILLIMETRE - 0.2, place.key
        assert wide >= 18 * MILLIMETRE - 0.2, place.key


@pytest.mark.parametrize(("name", "work"), FORMS)
def test_limits_stand_on_the_form_that_has_the_box_they_are_for(name: str, work: str) -> None:
    layout = laid_out(name, work)
    made = forms(layout)
    for check in layout.checks:
        place = layout.places[check.key]
        form, page = made.get(place.at.sheet, (None, None))
        wanted = place.role == "reading" and per(place.column.wanted, place.row)  # type: ignore[union-attr]
        if form is None or page is None or not wanted:
            continue
        for end in (check.low, check.high):
            at = layout.places[end].at if end is not None else place.at
            if at.sheet == place.at.sheet and at.row <= page.last_row:
                assert form.shows(layout.places[end or check.key]), (check.key, end)


def test_forms_are_the_same_book_with_all_hidden_that_nobody_writes_on(tmp_path: Path) -> None:
    layout = laid_out("orrindale_qp4", "recondition")
    write(layout, tmp_path / "whole.xlsx")
    write(layout, tmp_path / "pen.xlsx", pen=True)
    whole, pen = (openpyxl.load_workbook(tmp_path / f"{one}.xlsx") for one in ("whole", "pen"))
    for name in layout.plans:
        for row in whole[name].iter_rows():
            for cell in row:
                assert pen[name][cell.coordinate].value == cell.value, (name, cell.coordinate)
    assert {one.title for one in pen if one.sheet_state == "hidden"} == {
        "Budget",
        "Threads",
        "Schedule",
    }
    with zipfile.ZipFile(tmp_path / "pen.xlsx") as file:
        drawings = [file.read(one).decode() for one in file.namelist() if "drawings/drawing" in one]
    assert sum(SAYS["bores"] in one for one in drawings) == 1
    assert not [one for one in validate(tmp_path / "pen.xlsx").findings if one.severity == "damage"]


def test_the_unworn_lip_is_typed_beside_the_top_of_its_bore() -> None:
    layout = laid_out("orrindale_qp4", "measure")
    for number in range(1, 5):
        lip, beside = layout.places[f"bore.{number}.unworn_lip"].at, f"bores.{number}.top.axial"
        assert (lip.row, lip.column - 1) == (
            layout.places[beside].at.row,
            layout.places[beside].at.column,
        )
