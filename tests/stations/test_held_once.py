"""What is overdrawn holds the job once, where it is decided; other places say its verdict again.

Common practice, no source; the readings are invented.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.cells.columns import Reading, per
from datumbook.equations.faces import ALONG_AXIS
from datumbook.equations.line_bore import BORED
from datumbook.equations.standings import HOLDS
from datumbook.equations.verdicts import OUT
from datumbook.job import Job
from datumbook.numbers.units import convert
from datumbook.spec import load_spec, shipped_specs
from datumbook.standards.order import operations
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.writer import write
from long_runs import mostly_long
from readings_made import plausible

BOOKS = [
    (name, work) for work in ("full", "recondition", *operations()) for name in shipped_specs()
]
DEEP = {"cut": 3.0, "cap_cut": 2.5, "rise_front": 1.0, "rise_rear": 0.9, "typed_offset": 2.0}


def overdrawn(layout: Layout, seed: int) -> dict[str, object]:
    """A block a little different everywhere, a plan that takes far too much of everything, and
    nothing read yet of what is finished.
    """
    chance = random.Random(seed)
    read = {
        key: size * (1 + chance.uniform(-1e-4, 1e-4)) if isinstance(size, float) else size
        for key, size in plausible(layout).items()
    }
    deep = DEEP | {"typed_bore": layout.spec.bores.standard.low.to("mm") + 8.0}
    for place in layout.readings():
        column = place.column
        assert isinstance(column, Reading)
        if place.section and place.section.stage == "finished":
            read.pop(place.key, None)
        elif column.name == "parallel_to":
            read[place.key] = ALONG_AXIS
        elif BORED in per(column.choices, place.row):
            read[place.key] = BORED
        elif column.name in deep:
            size = deep[column.name] * chance.uniform(0.9, 1.0)
            read[place.key] = convert(size, "mm", place.unit or "")
    return read


def beyond(layout: Layout, read: dict[str, object]) -> Iterator[tuple[Place, float]]:
    """What is OUT and holds the job, and how far it is beyond its limit."""
    values = values_of(layout, read)
    for check in layout.checks:
        place, value = layout.place(check.key), values[check.key]
        holds = values[f"release.{check.key}.standing"] == HOLDS
        if place.unit not in {"mm", "in"} or values[check.verdict] != OUT or not holds:
            continue
        assert isinstance(value, float)
        for end, sense in ((check.low, 1), (check.high, -1)):
            limit = values[end] if end else None
            if isinstance(limit, float) and sense * (value - limit) < 0:
                yield place, convert(sense * (value - limit), place.unit, "mm")


@pytest.mark.parametrize(("name", "work"), mostly_long(BOOKS, 6))
def test_no_two_checks_hold_one_overdrawn_fact(name: str, work: str) -> None:
    """Two rows of one column, or of the same table of two banks, are two places."""
    layout = lay_out(load_spec(shipped_specs()[name]), Job(work))
    always: set[tuple[str, str]] | None = None
    for seed in range(2):
        out = list(beyond(layout, overdrawn(layout, seed)))
        alike = {
            (one.key, other.key)
            for (one, room), (other, as_far) in combinations(out, 2)
            if abs(room - as_far) < 1e-7
            and one.column
            and other.column
            and one.column.name != other.column.name
        }
        always = alike if always is None else always & alike
    assert always == set()


def test_what_is_overdrawn_is_found() -> None:
    layout = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job())
    found = {place.key for place, _ in beyond(layout, overdrawn(layout, 0))}
    held = {"block_corners", "crown", "lands", "wall", "line_bored"}
    assert {key.split(".")[0] for key in found} >= held
    assert {key for key in found if key.startswith("budget.")} == {"budget.bore.to_spare"}


def test_an_overdrawn_height_is_one_finding_on_heights_plan_and_budget_together(
    tmp_path: Path,
) -> None:
    """Found too low at one corner before any cut, and cut no further."""
    layout = shipped_layout()
    place, block = "block_corners.rear_left.overall", {**clean_readings(layout)}
    overall, least = (
        block["corners.rear_left.overall"],
        layout.place("ledger.overall_least").value,
    )
    assert isinstance(overall, float)
    assert isinstance(least, float)
    for height in ("overall", "deck"):
        block[f"corners.rear_left.{height}"] -= overall - least + 0.02
    for one in layout.readings():
        if one.section and one.section.stage == "finished":
            block.pop(one.key, None)
    values = values_of(layout, block)
    budget = "budget.overall_height.to_spare.verdict"
    assert {values[f"{place}.verdict"], values[budget]} == {OUT}
    book = tmp_path / "low.xlsx"
    write(layout, book, block)
    said = [one.key for one in validate(book).findings if one.code == "check-out"]
    places = ("block_corners.", "ledger.overall_", "budget.overall_")
    assert [key for key in said if key.startswith(places)] == [place]
