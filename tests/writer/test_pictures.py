"""Pictures are drawn from the cells they speak of, to scales known beforehand, and nothing hangs on
them.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from itertools import groupby, pairwise
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from lxml import etree

from clean_readings import clean_readings
from datumbook.cells.scales import SCALE_STEPS, ChartScale
from datumbook.cells.tables import Picture, Series
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.workbook.styles import SERIES_STYLES
from datumbook.writer import workbook_bytes, write
from datumbook.writer.pictures import described, drawn
from long_runs import mostly_long

CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
SPECS = sorted(shipped_specs())
LAYOUT = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job("drawn", work=("bore", "deck")))


def parts(path: Path, folder: str) -> list[Any]:
    with zipfile.ZipFile(path) as book:
        return [
            etree.fromstring(book.read(name))
            for name in book.namelist()
            if name.startswith(f"xl/{folder}/") and name.endswith(".xml")
        ]


def references(path: Path) -> set[str]:
    return {
        found.text or "" for chart in parts(path, "charts") for found in chart.iter(f"{CHART}f")
    }


def column(first: str, last: str) -> str:
    one, two = LAYOUT.address(first), LAYOUT.address(last)
    return f"{one.sheet}!${one.cell[0]}${one.row}:${two.cell[0]}${two.row}"


def pictures(layout: Layout) -> Iterator[tuple[str, int, Picture]]:
    for name, plan in layout.plans.items():
        for row, picture in plan.pictures:
            yield name, row, picture


def shipped(name: str) -> Layout:
    return lay_out(load_spec(shipped_specs()[name]), Job("drawn"))


def test_every_bore_has_its_profile_and_every_row_its_centres_and_every_resource_its_bar(
    tmp_path: Path,
) -> None:
    write(LAYOUT, tmp_path / "book.xlsx")
    found = references(tmp_path / "book.xlsx")
    for cylinder in LAYOUT.cylinders():
        for axis in ("thrust", "axial"):
            assert (
                column(f"bores.{cylinder}.top.{axis}", f"bores.{cylinder}.bottom.{axis}") in found
            )
    assert column("centres.1.offset", "centres.4.offset") in found
    assert column("shares.overall_height.share_taken", "shares.bore.share_taken") in found


def test_every_limit_is_drawn_from_its_own_cells(tmp_path: Path) -> None:
    write(LAYOUT, tmp_path / "book.xlsx")
    found = references(tmp_path / "book.xlsx")
    for name in ("bore_scale.{}.least", "bore_scale.{}.most"):
        assert column(name.format(1), name.format(3)) in found
    for end, size in (("front", -0.13), ("rear", 0.13)):
        keys = [f"offset_scale.{row}.{end}" for row in range(1, 5)]
        assert column(keys[0], keys[-1]) in found
        assert [LAYOUT.place(key).value for key in keys] == [size] * 4


def test_cells_that_do_not_stand_in_one_column_cannot_be_drawn() -> None:
    picture = Picture(
        title="torn",
        kind="lines",
        series=[Series("torn", ["bores.1.top.thrust", "bores.1.bottom.thrust"])],
        scale=ChartScale(key="torn", unit="mm", decimals=1, low=0.0, high=1.0, rows=2),
    )
    with pytest.raises(ValueError, match="unbroken column"):
        drawn(xlsxwriter.Workbook(), LAYOUT, picture)


@pytest.mark.parametrize("name", mostly_long(SPECS, 2))
def test_pictures_alike_on_a_sheet_have_one_scale_that_holds_their_limits(name: str) -> None:
    def kind(one: tuple[str, int, Picture]) -> tuple[str, str]:
        return one[0], one[2].kind

    for alike, several in groupby(sorted(pictures(shipped(name)), key=kind), kind):
        scales = [picture.scale for _, _, picture in several]
        assert len({(*one.ends, one.unit) for one in scales}) == 1, alike
        for scale in scales:
            low, high, step = scale.ends
            assert all(low < line.size.to(scale.unit) < high for line in scale.limits)
            assert 1 <= round((high - low) / step) <= SCALE_STEPS + 1


@pytest.mark.parametrize("name", SPECS)
def test_the_cells_of_the_limits_stand_behind_the_picture(name: str) -> None:
    layout = shipped(name)
    for sheet, row, picture in pictures(layout):
        for line in picture.scale.limits:
            at = [layout.address(key) for key in picture.scale.cells(line)]
            assert {one.sheet for one in at} == {sheet}
            if not picture.beside and row < at[0].row < row + picture.lines:
                assert at[-1].row < row + picture.lines - 1
            assert len(at) == len(picture.series[0].values)


@pytest.mark.parametrize("name", mostly_long(SPECS))
def test_scales_are_fixed_whatever_is_read(name: str, tmp_path: Path) -> None:
    layout = shipped(name)
    for file, readings in (("empty", {}), ("filled", clean_readings(layout))):
        (tmp_path / file).write_bytes(workbook_bytes(layout, readings))
    ends = [
        [
            [bound.get("val") for side in ("min", "max") for bound in chart.iter(f"{CHART}{side}")]
            for chart in parts(tmp_path / file, "charts")
        ]
        for file in ("empty", "filled")
    ]
    assert ends[0] == ends[1]
    assert all(ends[0])


def test_blanks_leave_gaps_and_bars_have_no_edges(tmp_path: Path) -> None:
    write(LAYOUT, tmp_path / "book.xlsx")
    for chart in parts(tmp_path / "book.xlsx", "charts"):
        # a gap is what is meant where nothing is said
        assert {one.get("val") for one in chart.iter(f"{CHART}dispBlanksAs")} <= {"gap"}
        for bars in chart.iter(f"{CHART}barChart"):
            for line in bars.iter("{http://schemas.openxmlformats.org/drawingml/2006/main}ln"):
                assert line[0].tag.endswith("noFill")


@pytest.mark.parametrize("name", mostly_long(SPECS))
def test_every_chart_is_said_in_words(name: str, tmp_path: Path) -> None:
    layout = shipped(name)
    write(layout, tmp_path / "book.xlsx")
    said = [
        one.get("descr")
        for drawing in parts(tmp_path / "book.xlsx", "drawings")
        for one in drawing.iter(f"{DRAWING}cNvPr")
    ]
    assert len(said) == len(parts(tmp_path / "book.xlsx", "charts"))
    assert all(said)
    for _, _, picture in pictures(layout):
        assert described(picture) in said
        assert all(line.size.text in described(picture) for line in picture.scale.limits)


def test_series_are_told_apart_in_grey() -> None:
    """By the luma of Rec. 601, as a printer without colour makes it, on white paper."""
    shades = [255.0]
    for colour, _, _ in SERIES_STYLES:
        red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
        shades.append(0.299 * red + 0.587 * green + 0.114 * blue)
    shades.sort()
    assert min(b - a for a, b in pairwise(shades)) > 35
    assert len({dash for _, dash, _ in SERIES_STYLES}) == len(SERIES_STYLES)


@pytest.mark.parametrize(
    ("low", "high", "ends"),
    [
        (81.925, 82.318, (81.9, 82.4, 0.1)),
        (0.0, 120.0, (0.0, 120.0, 20.0)),
        (-0.02, 0.02, (-0.02, 0.02, 0.01)),
        (0.0, 0.0, (0.0, 1.0, 1.0)),
    ],
)
def test_a_scale_ends_at_whole_steps(
    low: float, high: float, ends: tuple[float, float, float]
) -> None:
    made = ChartScale(key="tried", unit="mm", decimals=0, low=low, high=high, rows=0)
    assert made.ends == ends
