"""The walls between floors: a room is a folder of the package, it stands on one floor, and its
modules import from the floors below and from their own room, never upward and never sideways.

Rooms so imported cannot form a circle. Source: the design's own rule; the table here is the only
place that states it in full.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import datumbook
from project import PROJECT

PACKAGE = Path(datumbook.__file__).parent

# Lowest first; a line is one floor, its rooms side by side. "." is the package's own folder.
FLOORS = [
    line.split()
    for line in """
        . messages
        numbers
        formulas
        equations optimise
        standards
        spec
        spec/review
        job
        cells
        workbook
        stations/received
        stations/decided
        stations/holes
        stations/finished
        stations/named
        stations
        writer readers
        validator/locate validator/recognise
        validator/compare validator/readings
        validator/judge
        validator
        calculator planning carrying
        comparison report
        register api
        commands
    """.strip().splitlines()
]
FLOOR = {room: number for number, rooms in enumerate(FLOORS) for room in rooms}
# Imports that still go upward: each a fault to be mended, then struck out here.
UPWARD: set[tuple[str, str]] = set()

# `python -m datumbook` opens the door from outside: it belongs to no floor.
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if path.name != "__main__.py")

EQUATIONS_MAY = {
    "__future__",
    "datumbook.formulas.kinds",
    "datumbook.formulas.functions",
    "datumbook.formulas.ties",
    "datumbook.formulas.whole",
    "datumbook.equations.station_lines",  # whose word says what is left as it is
    "datumbook.equations.verdicts",  # whose words standings and suspicions speak
    "datumbook.equations.standings",  # whose word says that a check holds the job up
    "datumbook.equations.bores",  # walls are set over as far as bores are
    "datumbook.equations.faces",  # whose words say what a cut that cleans is parallel to
    "datumbook.equations.heat_and_cold",  # whose word says what a liner is chilled by
    "datumbook.equations.single_holes",  # whose words say which holes a card leaves out
}
ONLY_HERE = {
    "xlsxwriter": {"writer"},
    "lxml": {"readers"},
    "zipfile": {"readers"},
    "pint": {"numbers"},
    # the calculator says where a limit comes from, the handbook in the report every key
    "pydantic": {"spec", "job", "calculator", "report"},
    # the calculator asks equations backwards
    "scipy": {"optimise", "calculator"},
    "jinja2": {"report"},
    "sqlite3": {"register"},
    "platformdirs": {"register"},
    "typer": {"commands"},
}


def room(path: Path) -> str:
    return path.parent.relative_to(PACKAGE).as_posix()


def file_of(name: str) -> Path | None:
    """The file of a module of the package; None for a name within a module and for others'."""
    base = PACKAGE.parent.joinpath(*name.split("."))
    files = (base.with_suffix(".py"), base / "__init__.py")
    return next((path for path in files if path.is_file()), None)


@cache
def imported(path: Path) -> frozenset[str]:
    """Every module that a file imports, at its head or within a function, types' own left out."""
    return frozenset(names_in(ast.parse(path.read_text("utf-8"))))


def names_in(node: ast.AST) -> Iterator[str]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING":
            continue
        if isinstance(child, ast.Import):
            yield from (alias.name for alias in child.names)
        elif isinstance(child, ast.ImportFrom):
            assert child.level == 0, "imports name their module in full"
            for alias in child.names:
                inner = f"{child.module}.{alias.name}"
                yield inner if is_folder_or_module(inner) else str(child.module)
        else:
            yield from names_in(child)


def is_folder_or_module(name: str) -> bool:
    return file_of(name) is not None or PACKAGE.parent.joinpath(*name.split(".")).is_dir()


def rooms_of(path: Path) -> set[str]:
    """The other rooms that a module imports from."""
    files = [file for name in imported(path) if (file := file_of(name)) is not None]
    return {room(file) for file in files} - {room(path)}


def test_every_room_has_one_floor_and_every_room_of_the_table_exists() -> None:
    listed = [name for rooms in FLOORS for name in rooms]
    assert sorted(listed) == sorted({room(path) for path in MODULES}), (
        "give each folder of builder/datumbook one place in FLOORS"
    )


def test_rooms_import_only_from_the_floors_below() -> None:
    found: dict[tuple[str, str], list[str]] = {}
    for path in MODULES:
        for other in rooms_of(path):
            if FLOOR[other] >= FLOOR[room(path)]:
                found.setdefault((room(path), other), []).append(path.name)
    assert found.keys() == UPWARD, found


def test_equations_import_nothing_but_kinds_and_functions() -> None:
    for path in MODULES:
        if room(path) == "equations":
            assert imported(path) <= EQUATIONS_MAY, path.name


@pytest.mark.parametrize("library", ONLY_HERE)
def test_a_library_is_imported_in_its_own_rooms_alone(library: str) -> None:
    users = {
        room(path) for path in MODULES if library in {name.split(".")[0] for name in imported(path)}
    }
    assert users == ONLY_HERE[library]


def test_writer_and_readers_never_meet() -> None:
    assert "readers" not in reached("writer")
    assert "writer" not in reached("readers")


def reached(start: str) -> set[str]:
    """Every room that a room brings with it."""
    found: set[str] = set()
    waiting = [start]
    while waiting:
        here = waiting.pop()
        new = set().union(*(rooms_of(path) for path in MODULES if room(path) == here)) - found
        found |= new
        waiting += new
    return found


def test_the_folder_around_the_package_is_no_package() -> None:
    """What one installs is what one imports: `datumbook`, never `builder.datumbook`."""
    assert not (PROJECT / "builder" / "__init__.py").exists()
    assert [path.name for path in (PROJECT / "builder").iterdir() if path.name[0] != "_"] == [
        "datumbook"
    ]


def test_an_upward_import_would_be_noticed() -> None:
    late = "def late():\n    from datumbook import numbers, VERSION\n    import datumbook.files"
    assert list(names_in(ast.parse(late))) == ["datumbook.numbers", "datumbook", "datumbook.files"]
    typed = "if TYPE_CHECKING:\n    import datumbook.commands"
    assert list(names_in(ast.parse(typed))) == []
    assert {"stations/received", "workbook"} <= reached("stations")
