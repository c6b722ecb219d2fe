"""What every test may ask for: a program by marker, an engine by fixture, books written once.

``@pytest.mark.program("libreoffice", "gnumeric")`` skips a test in plain words on a machine without
these programs (no name: without any of them), and fails it where DATUMBOOK_REQUIRE_PROGRAMS is set,
as .ci/run sets it.
"""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import settings

from engines import ENGINES, Results
from long_runs import ORDINARY, mostly_long
from programs import COMMANDS, SHARED, need

TIME_FOR_LONG = float(os.environ.get("DATUMBOOK_LONG_MINUTES", 0))
START = os.environ.get("DATUMBOOK_LONG_START", "")  # any words: which long families come first
UNTIL = time.monotonic() + 60 * TIME_FOR_LONG


def pytest_configure(config: pytest.Config) -> None:
    """Give the processes of a run one folder for the books they share, which the first makes and
    removes. Let no property fail by the clock, and an ordinary run try fewer examples, the same
    each time: whoever changes nothing sees nothing fail; the long run tries others. Look for what
    may be thrown away less often: the layouts kept for other tests are searched each time.
    """
    gc.set_threshold(100_000, 50, 1000)
    if SHARED not in os.environ:
        os.environ[SHARED] = folder = tempfile.mkdtemp(prefix="datumbook-tests-")
        os.environ["XDG_CACHE_HOME"] = str(Path(folder) / "cache")  # a register remembers there
        config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    ordinary = config.option.markexpr == "not long"
    settings.register_profile(
        "shared machine",
        max_examples=ORDINARY if ordinary else 100,
        derandomize=ordinary,
        deadline=None,
    )
    settings.load_profile("shared machine")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Where a run has only so much time for the long families, begin with others each time."""
    if TIME_FOR_LONG:
        items.sort(key=lambda item: sha256(f"{START} {item.path.name}".encode()).digest())


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Leave out what is long once its time is over; look for the programs a test names before it
    starts.
    """
    if TIME_FOR_LONG and time.monotonic() > UNTIL and item.get_closest_marker("long"):
        pytest.skip(f"the {TIME_FOR_LONG} minutes for long families are over")
    for marker in item.iter_markers("program"):
        for program in marker.args or COMMANDS:
            need(program)


def one_engine(name: str) -> object:
    """Return an engine as a parameter, marked with the program that it is, if it is one."""
    marks = [pytest.mark.program(name)] if name in COMMANDS else []
    return pytest.param(ENGINES[name], id=name, marks=marks)


@pytest.fixture(params=[one_engine(name) for name in ENGINES])
def engine(request: pytest.FixtureRequest) -> Callable[[Path], Results]:
    """Each engine in turn: ``engine(path)`` recalculates a workbook and returns (sheet, address) ->
    value.
    """
    chosen: Callable[[Path], Results] = request.param
    return chosen


@pytest.fixture(params=mostly_long((one_engine(name) for name in ENGINES), 2))
def engine_in_turn(request: pytest.FixtureRequest) -> Callable[[Path], Results]:
    """The same for whole books, of which an ordinary run gives a few to a program and to a library:
    `tests/programs` gives one to all four.
    """
    chosen: Callable[[Path], Results] = request.param
    return chosen
