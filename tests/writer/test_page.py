"""The book on paper: printed by a spreadsheet program no cell is too narrow for its number, and
texts get their rows.

The oracle of the print is LibreOffice's PDF, read by poppler.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from xlsxwriter.utility import xl_pixel_width

from datumbook.job import Job
from datumbook.spec import load_spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.writer import write
from datumbook.writer.measures import EDGES, FIGURE, POINTS, lines_of
from datumbook.writer.page import BOLD, Page, form_page
from datumbook.writer.paper import LANDSCAPE, UPRIGHT, Heads, Uncut, filled, laid
from long_runs import mostly_long
from programs import need, office
from project import full_form
from readings_made import plausible
from xlsx_parts import MAIN, Parts

SPECS = shipped_specs()
PAPER = {"A4": (595, 842), "Letter": (612, 792)}  # points: ISO 216 and ANSI Y14.1


@pytest.mark.program("libreoffice", "poppler")
@pytest.mark.parametrize("name", mostly_long(sorted(SPECS)))
def test_no_number_is_printed_as_a_row_of_marks(name: str, tmp_path: Path) -> None:
    layout = lay_out(load_spec(SPECS[name]), Job("printed"))
    write(layout, tmp_path / "book.xlsx", plausible(layout))
    (printed,) = office([tmp_path / "book.xlsx"], "pdf", tmp_path, recalculate=False)
    said = subprocess.run(
        [need("poppler"), "-layout", printed, "-"], capture_output=True, check=True, text=True
    ).stdout
    assert "###" not in said
    for plan in layout.plans.values():
        assert plan.sheet.title in said


@pytest.mark.parametrize("name", sorted(SPECS))
def test_the_page_of_decisions_is_one_sheet_of_a4_on_which_the_print_is_not_too_small(
    name: str,
) -> None:
    """The scale that fits the sheet on one page, from the sizes of its rows and columns."""
    layout = lay_out(load_spec(SPECS[name]), Job("printed"))
    plan = layout.plans["Plan"]
    assert plan.sheet.one_page
    page = Page(plan, layout.by_sheet["Plan"], {})
    down = sum(page.height(row) or page.plain_row for row in range(1, plan.rows + 1))
    scale = min(LANDSCAPE[0] / page.across, LANDSCAPE[1] / down)
    assert page.paper.landscape
    assert page.pages == 1
    assert scale * 11 >= 5.9, "figures are written in 11 points"


@pytest.mark.parametrize("name", sorted(SPECS))
def test_no_title_and_no_address_runs_out_of_its_room(name: str) -> None:
    """As wide as the measures of the print's own letters say: titles in 12 points where plain print
    has 11.
    """
    layout = lay_out(load_spec(SPECS[name]), Job("printed"))
    for plan in layout.plans.values():
        page = Page(plan, layout.by_sheet[plan.sheet.name], {})
        room = page.across / POINTS
        for text in plan.texts:
            if text.style == "part":
                assert xl_pixel_width(text.words) * 12 / 11 * BOLD * plan.sheet.scale <= room, (
                    text.words
                )
    release = Page(layout.plans["Release"], layout.by_sheet["Release"], {})
    for check in layout.checks:
        for shown in (f"release.{check.key}.go_to", "held_up.1.where"):
            assert (
                xl_pixel_width(str(layout.address(check.key)))
                <= FIGURE * release.widths[layout.address(shown).column] + EDGES
            )


def test_what_fits_is_as_wide_as_both_papers_and_as_high_as_a4() -> None:
    """With the margins that the writer sets: 0.45 in at the sides, 0.6 in above, 0.5 in below. What
    is too high for the one paper is made to fit: every sheet is fitted to whole pages.
    """
    for short, long in PAPER.values():
        assert UPRIGHT[0] <= short - 0.9 * 72 + 0.5
        assert LANDSCAPE[0] <= long - 0.9 * 72 + 0.5
    assert UPRIGHT[1] <= PAPER["A4"][1] - 1.1 * 72 + 0.5
    assert LANDSCAPE[1] <= PAPER["A4"][0] - 1.1 * 72 + 0.5


def test_a_shop_that_prints_on_letter_has_its_pages_end_there(tmp_path: Path) -> None:
    upright, across = laid(100.0, 1.0, "Letter"), laid(2000.0, 1.0, "Letter")
    assert (upright.landscape, across.landscape) == (False, True)
    assert upright.room[1] <= PAPER["Letter"][1] - 1.1 * 72 + 0.5
    assert across.room[1] <= PAPER["Letter"][0] - 1.1 * 72 + 0.5
    text = full_form("brackwater_s1").replace("[shop]\n", '[shop]\npaper = "Letter"\n', 1)
    layout = lay_out(read_spec(text, "letter.toml"), Job("printed"))
    write(layout, tmp_path / "forms.xlsx", {}, pen=True)
    setups = [
        one
        for sheet in Parts(tmp_path / "forms.xlsx").sheets.values()
        for one in sheet.iter(f"{MAIN}pageSetup")
    ]
    assert {one.get("paperSize") for one in setups} == {"1"}
    filled_up = [
        page for plan in layout.plans.values() if (page := form_page(layout, plan, {})).filled_up
    ]
    assert filled_up
    for page in filled_up:  # none is made smaller than it may be to fit the shorter paper
        high = page._height_of(1, page.last_row) / page.pages
        assert high <= page.paper.room[1] / page.least_scale


def test_words_are_broken_between_words_and_a_word_too_long_is_broken_itself() -> None:
    width = xl_pixel_width("bottom of ring travel")
    assert lines_of("bottom of ring travel", width) == 1
    assert lines_of("bottom of ring travels", width) == 2
    assert lines_of("bottom\nof ring travel", width) == 2
    assert lines_of("travel" * 10, xl_pixel_width("travel" * 4)) == 3
    assert lines_of("", width) == 1


@given(
    st.lists(
        st.text("abcdefghijklmnopqrstuvwxyz", min_size=1, max_size=12), min_size=1, max_size=30
    ),
    st.integers(60, 400),
)
def test_lines_hold_their_words(words: list[str], width: int) -> None:
    lines, whole = lines_of(" ".join(words), width), sum(xl_pixel_width(word) for word in words)
    assert lines * width >= whole
    assert lines <= 1 + sum(1 + xl_pixel_width(word) // width for word in words)


@given(
    st.lists(st.tuples(st.integers(2, 30), st.integers(0, 6)), min_size=1, max_size=5),
    st.floats(700, 1500),
)
def test_every_page_is_filled_to_its_end_by_rows_that_programs_allow(
    sizes: list[tuple[int, int]], full: float
) -> None:
    """ECMA-376 and the programs bound a row at 409.5 points; a row is 17.25 before it grows."""
    page, at = [], 4
    for rows, boxes in sizes:
        written = tuple(range(at + 1, at + 1 + min(boxes, rows - 1)))
        page.append(Uncut(at, at + rows - 1, (rows + 1) * 17.25, written))
        at += rows + 1
    heads = Heads(60.0, 40.0)
    used = sum(one.height for one in page) + heads.first
    grown = dict(filled([page], heads, full))
    assert used + sum(grown.values()) == pytest.approx(max(used, full))
    blank = {one.last + 1 for one in page}
    assert all(17.25 + more < 409.5 for row, more in grown.items() if row in blank)
