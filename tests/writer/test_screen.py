"""What a person meets on the screen: tabs, what stays in sight, boxes to fill, links both ways."""

from __future__ import annotations

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from datumbook.cells.tables import STAGES
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import HEAD_ROWS
from datumbook.workbook.styles import READING_FILL, TABS, TO_FILL
from datumbook.writer import NARROW, write
from long_runs import mostly_long

SPECS = sorted(shipped_specs())
SCREEN = (360, 640)  # points of a phone held upright, as its programs count them


@pytest.fixture(scope="module", params=mostly_long(SPECS, 2))
def opened(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Layout, openpyxl.Workbook]:
    layout = lay_out(load_spec(shipped_specs()[request.param]), Job("seen"))
    path = tmp_path_factory.mktemp("seen") / "book.xlsx"
    write(layout, path)
    return layout, openpyxl.load_workbook(path)


def link(sheet: Worksheet, cell: str) -> str:
    found = sheet[cell].hyperlink
    assert found is not None, (sheet.title, cell)
    return str(found.location).replace("'", "")


def test_tabs_take_the_colour_of_the_stage_reached_and_never_go_back(
    opened: tuple[Layout, openpyxl.Workbook],
) -> None:
    layout, book = opened
    stage_of = {colour.lstrip("#"): stage for stage, colour in TABS.items()}
    assert len(stage_of) == len(STAGES)
    reached = [stage_of[book[name].sheet_properties.tabColor.rgb[2:]] for name in layout.plans]
    assert reached == sorted(reached, key=STAGES.index)
    assert set(reached) == set(STAGES)
    for name, stage in zip(layout.plans, reached, strict=True):
        assert STAGES.index(stage) >= STAGES.index(layout.plans[name].sheet.stage)


def test_what_stays_in_sight_leaves_a_phone_half_its_width_and_most_of_its_height(
    opened: tuple[Layout, openpyxl.Workbook],
) -> None:
    layout, book = opened
    for name in layout.plans:
        sheet = book[name]
        rows, columns = sheet.sheet_view.pane.ySplit, sheet.sheet_view.pane.xSplit or 0
        assert 1 <= rows < HEAD_ROWS
        assert sum(sheet.row_dimensions[row].height or 18.0 for row in (1, 2)) < SCREEN[1] / 6
        first = sheet.column_dimensions["A"].width
        assert bool(columns) == (first <= NARROW + 1), name
        assert not columns or 7 * first + 5 < SCREEN[0] / 2


def test_every_verdict_leads_to_its_line_of_the_release_and_that_line_back(
    opened: tuple[Layout, openpyxl.Workbook],
) -> None:
    layout, book = opened
    go_to = layout.stations.release.checks.go_to
    for check in layout.checks:
        verdict, line = layout.address(check.verdict), layout.address(go_to[check.key])
        assert link(book[verdict.sheet], verdict.cell) == str(line)
        assert link(book[line.sheet], line.cell) == str(layout.address(check.key))
        assert str(book[verdict.sheet][verdict.cell].value).startswith("=")


def test_every_head_leads_to_the_first_sheet_and_that_to_the_release(
    opened: tuple[Layout, openpyxl.Workbook],
) -> None:
    layout, book = opened
    first, *others = layout.plans
    assert link(book[first], "A2") == "Release!A1"
    for name in others:
        assert link(book[name], "A2") == f"{first}!A1"
        assert str(book[name]["A2"].value).startswith("Job seen")


def test_cells_to_fill_are_boxed_as_well_as_tinted(
    opened: tuple[Layout, openpyxl.Workbook],
) -> None:
    layout, book = opened
    boxed = TO_FILL["border_color"].lstrip("#")
    for place in layout.places.values():
        if place.role == "reading" and not (place.column and place.column.runs_on):
            cell = book[place.at.sheet][place.at.cell]
            assert cell.fill.fgColor.rgb[2:] == READING_FILL.lstrip("#")
            for side in ("left", "right", "top", "bottom"):
                line = getattr(cell.border, side)
                assert (line.style, line.color.rgb[2:]) == ("thin", boxed), place.key
