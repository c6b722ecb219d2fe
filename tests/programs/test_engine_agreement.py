"""The whole book of the shipped spec, empty and filled: every result the same in Python and in
every engine.

Source: the engines themselves are the outside witness; 1e-9 of the value is the design's own
tolerance.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.evaluation import Breakdown, reckon
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import EngineError, Results, same
from file_limits import check_file_limits
from long_runs import mostly_long
from project import PROJECT, SUPPORT
from readings_made import faulty, plausible

SPEC = shipped_specs()["orrindale_qp4"]
IN_INCHES = {"bores": "in", "lands": "in", "heights": "mm", "holes": "mm"}

Filling = Callable[[Layout], Mapping[str, object]]


def nothing(_layout: Layout) -> Mapping[str, object]:
    return {}


FILLINGS: dict[str, tuple[Filling, Job]] = {
    "plausible": (plausible, Job("SQ-17")),
    "empty": (nothing, Job("SQ-17")),
    "faulty": (faulty, Job("SQ-17")),
    "other units": (plausible, Job("SQ-17", IN_INCHES)),
}


@pytest.fixture(scope="module", params=mostly_long(FILLINGS))
def book(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Layout, Mapping[str, object], Path]:
    filling, job = FILLINGS[request.param]
    layout = lay_out(load_spec(SPEC), job)
    readings = {key: value for key, value in filling(layout).items() if value is not None}
    path = tmp_path_factory.mktemp("books") / f"{request.param.replace(' ', '_')}.xlsx"
    write(layout, path, readings)
    return layout, readings, path


Book = tuple[Layout, Mapping[str, object], Path]


def test_every_result_is_the_same_in_python_and_in_the_engine(
    engine: Callable[[Path], Results], book: Book
) -> None:
    layout, readings, path = book
    found, computed = engine(path), reckon(layout, readings)
    shown = {
        key: found[place.at.sheet, place.at.cell]
        for key, place in layout.places.items()
        if layout.has_formula(key)
    }
    apart = {
        key: (value, computed[key], layout.formula(key))
        for key, value in shown.items()
        if not same(value, computed[key])
    }
    assert len(shown) > 1000
    assert not apart


def test_the_comparison_notices_a_difference() -> None:
    assert same(1.0 + 1e-10, 1.0)
    assert not any(
        (
            same(1.0 + 2e-9, 1.0),
            same("", 1.0),
            same("OK", "OUT"),
            same(0.0, None),
            same(EngineError(), 1.0),
            same(1.0, Breakdown()),
        )
    )


def test_the_file_keeps_within_what_every_program_can_hold(book: Book) -> None:
    assert check_file_limits(book[2]) == []


def test_the_fillings_reach_every_verdict_and_every_standing() -> None:
    met: set[object] = set()
    for filling, job in FILLINGS.values():
        layout = lay_out(load_spec(SPEC), job)
        computed = reckon(layout, filling(layout))
        met |= {
            value
            for key, value in computed.items()
            if key.endswith((".verdict", ".standing", "release_state"))
        }
    assert met >= {"OPEN", "OUT", "UNSURE", "OK", "passes", "conceded", "holds", "ON HOLD"}


def test_two_processes_write_the_same_bytes(tmp_path: Path) -> None:
    assert written(tmp_path / "one.xlsx", "1") == written(tmp_path / "two.xlsx", "2")


def written(path: Path, seed: str) -> str:
    """Return the digest of the filled book as another process writes it, with this seed for its
    sets and dicts.
    """
    program = (
        "import sys; from pathlib import Path; from datumbook.job import Job; from "
        "datumbook.stations import lay_out;"
        "from datumbook.spec import load_spec;"
        "from datumbook.writer import write; from readings_made import plausible;"
        "layout = lay_out(load_spec(Path(sys.argv[1])), Job('SQ-17')); write(layout, "
        "Path(sys.argv[2]), plausible(layout))"
    )
    surroundings = os.environ | {
        "PYTHONHASHSEED": seed,
        "PYTHONPATH": os.pathsep.join((str(SUPPORT), str(PROJECT / "builder"))),
    }
    subprocess.run(
        [sys.executable, "-c", program, str(SPEC), str(path)], env=surroundings, check=True
    )
    return hashlib.sha256(path.read_bytes()).hexdigest()
