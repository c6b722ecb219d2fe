"""Pictures are drawn from the cells they speak of, and nothing hangs on them."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from lxml import etree

from datumbook.cells.tables import Picture, Series
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.writer import write
from datumbook.writer.pictures import drawn

CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
LAYOUT = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job("drawn"))


def references(path: Path) -> set[str]:
    with zipfile.ZipFile(path) as book:
        charts = [
            etree.fromstring(book.read(name))
            for name in book.namelist()
            if name.startswith("xl/charts/chart")
        ]
    return {found.text or "" for chart in charts for found in chart.iter(f"{CHART}f")}


def test_every_bore_has_its_profile_and_every_row_its_centres_and_every_resource_its_bar(
    tmp_path: Path,
) -> None:
    write(LAYOUT, tmp_path / "book.xlsx")
    found = references(tmp_path / "book.xlsx")

    def column(first: str, last: str) -> str:
        one, two = LAYOUT.address(first), LAYOUT.address(last)
        return f"{one.sheet}!${one.cell[0]}${one.row}:${two.cell[0]}${two.row}"

    for cylinder in LAYOUT.cylinders():
        for axis in ("thrust", "axial"):
            assert (
                column(f"bores.{cylinder}.top.{axis}", f"bores.{cylinder}.bottom.{axis}") in found
            )
    assert column("centres.1.offset", "centres.4.offset") in found
    assert column("shares.overall_height.share_taken", "shares.bore.share_taken") in found


def test_cells_that_do_not_stand_in_one_column_cannot_be_drawn() -> None:
    import xlsxwriter

    picture = Picture(
        title="torn",
        kind="lines",
        series=[Series("torn", ["bores.1.top.thrust", "bores.1.bottom.thrust"])],
    )
    with pytest.raises(ValueError, match="unbroken column"):
        drawn(xlsxwriter.Workbook(), LAYOUT, picture)
