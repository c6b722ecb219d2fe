"""Every shipped spec: it lays out, its book keeps the limits of the format, every engine agrees,
and it validates.

The oracle is four independent spreadsheet engines; the engines that the specs describe are
invented.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.evaluation import Breakdown, reckon
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import EngineError, Results, formualizer, gnumeric, ironcalc, libreoffice
from file_limits import check_file_limits
from long_runs import mostly_long
from readings_made import faulty, plausible

SPECS = shipped_specs()


@pytest.fixture(scope="module", params=mostly_long(sorted(SPECS, reverse=True)))
def layout(request: pytest.FixtureRequest) -> Layout:
    return lay_out(load_spec(SPECS[request.param]), Job("shipped"))


def books(layout: Layout, folder: Path) -> Iterator[tuple[Path, dict[str, object]]]:
    for name, typed in (
        ("empty", {}),
        ("plausible", plausible(layout)),
        ("faulty", faulty(layout)),
    ):
        path = folder / f"{name}.xlsx"
        write(layout, path, typed)
        yield path, typed


def differences(
    layout: Layout, typed: dict[str, object], found: Results
) -> list[tuple[str, object, object]]:
    values = reckon(layout, typed)
    return [
        (place.key, values[place.key], found.get((place.at.sheet, place.at.cell)))
        for place in layout.places.values()
        if layout.has_formula(place.key)
        and not alike(values[place.key], found.get((place.at.sheet, place.at.cell)))
    ]


def alike(mine: object, theirs: object) -> bool:
    if isinstance(mine, Breakdown) or isinstance(theirs, EngineError):
        return isinstance(mine, Breakdown) and isinstance(theirs, EngineError)
    if isinstance(mine, float):
        return isinstance(theirs, int | float) and abs(mine - theirs) <= 1e-9 * max(1.0, abs(mine))
    return (mine or "") == (theirs or "")


@pytest.mark.parametrize("engine", [ironcalc, formualizer], ids=["ironcalc", "formualizer"])
def test_every_result_is_that_of_an_engine(layout: Layout, tmp_path: Path, engine: object) -> None:
    for path, typed in books(layout, tmp_path):
        assert differences(layout, typed, engine(path)) == []  # type: ignore[operator]


@pytest.mark.program("libreoffice", "gnumeric")
def test_every_result_is_that_of_a_program(layout: Layout, tmp_path: Path) -> None:
    for path, typed in books(layout, tmp_path):
        assert differences(layout, typed, gnumeric(path)) == []
        if path.stem == "faulty":
            assert differences(layout, typed, libreoffice(path)) == []


def test_the_book_keeps_the_limits_of_the_format_and_its_own_word(
    layout: Layout, tmp_path: Path
) -> None:
    for path, _ in books(layout, tmp_path):
        assert check_file_limits(path) == []
        found = validate(path)
        assert not [one for one in found.findings if one.severity == "damage"]
        assert found.verdict == "hold", "nothing is released that was not measured and signed"
